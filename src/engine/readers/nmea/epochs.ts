/** All that sentences with the same time of day say. */
export interface Epoch {
  readonly timeOfDayS: number;
  readonly line: number;
  latDeg: number;
  lonDeg: number;
  altitudeMslM: number;
  geoidSeparationM: number;
  speedKt: number;
  trackDeg: number;
  hdop: number;
  horizontalSigmaM: number;
  verticalSigmaM: number;
  /** Days since 1970, where a sentence of this time states it. */
  day: number;
  /** A sentence of this time says that there was no fix. */
  void: boolean;
  /** Two-dimensional: the altitude was not measured. */
  flat: boolean;
  /** Simulated or entered by hand. */
  artificial: boolean;
  badDate: boolean;
  /** Only a GLL sentence gave the position. */
  positionOnly: boolean;
}

/** So many times are open at once: receivers interleave the sentences of neighbouring times. */
const openEpochs = 4;

/** Brings sentences of the same time of day together, in whatever order they come. */
export class EpochWindow {
  readonly #open: Epoch[] = [];
  readonly #done: (epoch: Epoch) => void;

  constructor(done: (epoch: Epoch) => void) {
    this.#done = done;
  }

  /** The epoch of the last sentence that had a time: for sentences without. */
  latest: Epoch | undefined;

  at(timeOfDayS: number, line: number): Epoch {
    let epoch = this.#open.find((candidate) => candidate.timeOfDayS === timeOfDayS);
    if (!epoch) {
      epoch = emptyEpoch(timeOfDayS, line);
      this.#open.push(epoch);
      if (this.#open.length > openEpochs) this.#done(this.#open.shift() as Epoch);
    }
    this.latest = epoch;
    return epoch;
  }

  flush(): void {
    for (const epoch of this.#open.splice(0)) this.#done(epoch);
  }
}

function emptyEpoch(timeOfDayS: number, line: number): Epoch {
  return {
    timeOfDayS,
    line,
    latDeg: Number.NaN,
    lonDeg: Number.NaN,
    altitudeMslM: Number.NaN,
    geoidSeparationM: Number.NaN,
    speedKt: Number.NaN,
    trackDeg: Number.NaN,
    hdop: Number.NaN,
    horizontalSigmaM: Number.NaN,
    verticalSigmaM: Number.NaN,
    day: Number.NaN,
    void: false,
    flat: false,
    artificial: false,
    badDate: false,
    positionOnly: true,
  };
}
