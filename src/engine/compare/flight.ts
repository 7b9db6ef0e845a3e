import type { Problem } from '../../../shared/problem.ts';
import type { Analysis } from '../analysis.ts';
import type { ReadResult } from '../readers/reader.ts';
import type { FlightEntry } from '../spec/types.ts';

/** One flight of a comparison after reading and analysis: what `compare` works on. */
export interface AnalysedFlight {
  readonly entry: FlightEntry;
  /** As named in the spec. */
  readonly file: string;
  readonly format?: ReadResult['format'];
  /** Absent when the file could not be read; the problems say why. */
  readonly analysis?: Analysis;
  /** The day that is the unit of comparison: the pilot's, else UTC date of the first fix, `YYYY-MM-DD`. */
  readonly day?: string;
  readonly problems: readonly Problem[];
  /** SHA-256 of the file, hexadecimal. */
  readonly contentHash?: string;
}
