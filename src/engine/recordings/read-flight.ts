import type { Problem } from '../../../shared/problem.ts';
import type { CsvMapping, ReadOptions, ReadResult } from '../readers/reader.ts';
import type { ByteSource, Work, World } from '../world.ts';
import type { FurtherFile, FurtherRecordings } from './further.ts';
import { joinFlight, type ReadFile, type Recorder } from './join-flight.ts';
import { partSentences } from './words.ts';

export type ReadRecording = (source: ByteSource, options: ReadOptions) => Promise<ReadResult>;

/** The recordings of one flight, with what is known of reading them. */
export interface FlightToRead {
  readonly file: string;
  readonly further?: FurtherRecordings;
  /** Of the first recording and its parts. */
  readonly csv?: CsvMapping;
  /** For recordings that state no date. */
  readonly date?: string;
}

/**
 * Reads a flight with all its recordings and joins them: a {@link ReadResult} as of one file, whose track knows its parts.
 * Rejects when the first cannot be opened; of the others whatever goes wrong is a problem, and the flight goes on without.
 *
 * @param from the file in whose folder names start, as {@link World} has it
 */
export async function readFlight(
  flight: FlightToRead,
  from: string | undefined,
  read: ReadRecording,
  world: Pick<World, 'open'>,
  work: Work = {},
): Promise<ReadResult> {
  const { file, further, csv, date } = flight;
  const others = further?.alsoRecordedBy ?? [];
  const continued = further?.continuedIn ?? [];
  const count = 1 + continued.length + others.reduce((sum, other) => sum + 1 + other.continuedIn.length, 0);
  let done = 0;
  const optionsWith = (mapping: CsvMapping | undefined, withoutPositions = false): ReadOptions => {
    const before = done++;
    return {
      ...work,
      ...(work.onProgress === undefined
        ? {}
        : { onProgress: (fraction) => work.onProgress?.((before + fraction) / count) }),
      ...(mapping === undefined ? {} : { csv: mapping }),
      ...(date === undefined ? {} : { date }),
      ...(withoutPositions ? { withoutPositions } : {}),
    };
  };
  const first = await read(await world.open(file, from), optionsWith(csv));
  if (further === undefined || count === 1) return first;
  const problems: Problem[] = [...first.problems];
  const contents = [...first.contents];
  const readFurther = async (
    one: FurtherFile,
    mapping: CsvMapping | undefined,
    ofSecond: boolean,
  ): Promise<ReadFile> => {
    const options = optionsWith(mapping, ofSecond);
    try {
      const source = await world.open(one.file, from).catch(() => undefined);
      if (source === undefined) return { file: one.file, why: 'It cannot be opened: is the name right?' };
      const result = await read(source, options);
      problems.push(...result.problems.map((problem) => softened(problem, one.file)));
      const { track, format } = result;
      const why = result.problems.find(({ severity }) => severity === 'error')?.message;
      return {
        file: one.file,
        ...(format === undefined ? {} : { format }),
        ...(track === undefined ? { why: why ?? 'It holds no usable track.' } : { track }),
      };
    } catch (error) {
      work.signal?.throwIfAborted();
      return {
        file: one.file,
        why: `It could not be read: ${error instanceof Error ? error.message : String(error)}.`,
      };
    }
  };
  const continuedFiles: ReadFile[] = [];
  for (const one of continued) continuedFiles.push(await readFurther(one, csv, false));
  const seconds: Recorder[] = [];
  for (const other of others) {
    const named = await readFurther(other, other.csv, true);
    const parts: ReadFile[] = [];
    for (const one of other.continuedIn) parts.push(await readFurther(one, other.csv, true));
    const { clockOffsetS } = other;
    seconds.push({ named, continued: parts, ...(clockOffsetS === undefined ? {} : { clockOffsetS }) });
  }
  const named: ReadFile = {
    file,
    ...(first.format === undefined ? {} : { format: first.format }),
    ...(first.track === undefined ? {} : { track: first.track }),
  };
  const joined = joinFlight({ named, continued: continuedFiles }, seconds);
  return {
    ...first,
    ...(joined.track === undefined ? {} : { track: joined.track }),
    problems: [...problems, ...joined.problems],
    contents: [...contents, ...partSentences(joined.parts)],
  };
}

/** What sinks a further recording does not sink the flight: that it was not joined is the error that is told. */
function softened(problem: Problem, file: string): Problem {
  const at = problem.at?.file === undefined ? { ...problem.at, file } : problem.at;
  return { ...problem, at, severity: problem.severity === 'error' ? 'warning' : problem.severity };
}
