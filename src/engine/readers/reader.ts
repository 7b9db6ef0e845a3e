import type { Problem } from '../../../shared/problem.ts';
import type { Track, TrackFormat } from '../track/track.ts';
import type { ByteSource, Work } from '../world.ts';

/** How the columns of a CSV file are to be understood where its headings do not say (written in a spec). */
export interface CsvMapping {
  /** Column heading (as in the file) to what it holds, with unit, e.g. `{ "Alt": "altitude ft", "GS": "ground speed kt" }`. */
  readonly columns?: Readonly<Record<string, string>>;
  /** Order of an ambiguous date. */
  readonly dateOrder?: 'day-month' | 'month-day';
  /** Offset of a local time without zone, e.g. `-05:00`. */
  readonly utcOffset?: string;
}

export interface ReadOptions extends Work {
  readonly csv?: CsvMapping;
  /** Date for recordings that state none (GGA-only NMEA): `YYYY-MM-DD`. */
  readonly date?: string;
  /** A table of times and channels alone is a recording, too: of a second recorder of a flight, whose positions are not needed. */
  readonly withoutPositions?: boolean;
}

export interface ReadResult {
  /** Absent when nothing could be recognised. */
  readonly format?: TrackFormat;
  /** Absent when no usable fix was found; the problems say why. */
  readonly track?: Track;
  readonly problems: readonly Problem[];
  /** Plain sentences about what else the file holds, e.g. the tracks of a video, how the columns of a CSV were understood. */
  readonly contents: readonly string[];
}

export interface Reader {
  readonly format: TrackFormat;
  /** True when the first bytes look like this format. Never throws. */
  recognises(head: Uint8Array, fileName: string): boolean;
  read(source: ByteSource, options: ReadOptions): Promise<ReadResult>;
}

/** A file that holds other files (gzip, zip, KMZ). */
export interface Wrapper {
  /** True when the first bytes look like this wrapping. Never throws. */
  recognises(head: Uint8Array, fileName: string): boolean;
  /** Gives the files inside that may be recordings, or the problems that say why there is none. */
  open(source: ByteSource, options: ReadOptions): Promise<OpenedWrapper>;
}

export interface OpenedWrapper {
  /** What may be the recording, the likeliest first; each is unpacked only when it is asked for. */
  readonly files: readonly WrappedFile[];
  readonly problems: readonly Problem[];
  /** Plain sentences about what else is inside. */
  readonly contents: readonly string[];
}

export interface WrappedFile {
  /** Its path in the archive. */
  readonly name: string;
  unpack(): Promise<UnpackedFile>;
}

export interface UnpackedFile {
  /** Absent when it could not be unpacked; the problems say why. */
  readonly source?: ByteSource;
  readonly problems: readonly Problem[];
}
