import type { Interval } from './measured.ts';

/**
 * What a file is among the recordings of one flight: the one that is named first, a part of the recording that the recorder
 * split, or what another recorder wrote.
 */
export type RecordingRole = 'first' | 'continuation' | 'second-recorder' | 'second-continuation';

/** One file of a flight that was recorded in several. */
export interface RecordingPart {
  /** As it was named. */
  readonly file: string;
  readonly role: RecordingRole;
  /** The first file of the other recorder, of a part that continues it. */
  readonly continues?: string;
  readonly format?: string;
  /** Unix time on the clock of the first recording; on its own where it was not joined. Absent when it could not be read. */
  readonly startS?: number;
  readonly endS?: number;
  readonly joined: boolean;
  /** To be added to its times to get those of the first recording, seconds, with its 95 % interval: of another recorder. */
  readonly clockOffsetS?: Interval;
  /** How the offset was found: by what both recorders hold, or given by the pilot. */
  readonly clockOffsetBy?: 'ground speed' | 'height' | 'pilot';
  /** What the flight has from it: names of channels, and of altitudes. */
  readonly brings?: readonly string[];
  /** What a reader must know; why it was not joined. */
  readonly remarks: readonly string[];
}
