/** A value with its 95 % interval, in the SI unit that the name of its field states. */
export interface Interval {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** An {@link Interval} with the method that gave it and, where there is one, a remark that the reader must see. */
export interface Measured extends Interval {
  /** How it was found, as a short plain phrase, e.g. "speed integrated from start of roll to lift-off". */
  readonly method: string;
  readonly remarks?: readonly string[];
}

/** An instant with the standard deviation of its time. `timeS` is Unix time in seconds (UTC). */
export interface Instant {
  readonly timeS: number;
  readonly sigmaS: number;
  /** 'found' in the recording, or 'pilot': given by hand in a spec or correction file. */
  readonly origin: 'found' | 'pilot';
}
