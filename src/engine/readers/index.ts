import type { Problem } from '../../../shared/problem.ts';
import type { ByteSource } from '../world.ts';
import { csvReader } from './csv/read.ts';
import { fitReader } from './fit/read.ts';
import { gpmfReader } from './gpmf/read.ts';
import { gpxReader } from './gpx/read.ts';
import { igcReader } from './igc/read.ts';
import { kmlReader } from './kml/read.ts';
import { mp4Reader } from './mp4/read.ts';
import { nmeaReader } from './nmea/read.ts';
import { ProblemList } from './problem-list.ts';
import type { Reader, ReadOptions, ReadResult, WrappedFile, Wrapper } from './reader.ts';
import { gzipWrapper } from './wrappers/gzip.ts';
import { zipWrapper } from './wrappers/zip.ts';

/** In the order in which they are asked; those that recognise by an unmistakable signature come first. */
export const readers: readonly Reader[] = [
  mp4Reader,
  gpmfReader,
  fitReader,
  gpxReader,
  kmlReader,
  igcReader,
  nmeaReader,
  csvReader,
];

/** Files that hold another file: opened first, and what is inside is read. */
export const wrappers: readonly Wrapper[] = [gzipWrapper, zipWrapper];

/** Enough to pass a long preamble of comments, and the whole of a small file. */
const headBytes = 65_536;

/** So many archives may lie in one another: a `flight.igc.gz`, or a KMZ, in a zip of a whole season. */
const deepestArchive = 2;

/** So many files of archives are unpacked to find the one that is a recording. */
const mostUnpacked = 12;

/**
 * Reads a recording of any known format. The format is told by the content; the name is only a hint for content that
 * several formats could claim. Trouble in the file comes back as problems; only an abort rejects.
 */
export function readRecording(source: ByteSource, options: ReadOptions = {}): Promise<ReadResult> {
  return readAtDepth(source, options, { depth: 0, left: { files: mostUnpacked } });
}

/** Where among archives a file lies, and how many more files may be unpacked altogether. */
interface Place {
  readonly depth: number;
  readonly left: { files: number };
}

async function readAtDepth(source: ByteSource, options: ReadOptions, place: Place): Promise<ReadResult> {
  options.signal?.throwIfAborted();
  const problems = new ProblemList(source.name);
  if (source.sizeBytes === 0) {
    problems.error(
      'empty-file',
      place.depth > 0
        ? 'The file in the archive is empty.'
        : 'The file is empty: the recorder wrote nothing, or the copy failed.',
    );
    return { problems: problems.toArray(), contents: [] };
  }
  const head = await source.read(0, headBytes);
  const wrapper = wrappers.find((candidate) => candidate.recognises(head, source.name));
  if (!wrapper) return readUnwrapped(source, head, options, problems);
  if (place.depth === deepestArchive) {
    problems.error('wrapped-too-deep', 'Archives lie in archives here: unpack them first.');
    return { problems: problems.toArray(), contents: [] };
  }
  const opened = await wrapper.open(source, options);
  const { result, file } = await firstRecording(opened.files, options, place);
  const read = file !== undefined && opened.files.length > 1 ? [`Read from the archive: ${file.name}.`] : [];
  const untried = file === undefined ? 0 : opened.files.length - 1 - opened.files.indexOf(file);
  if (file && !result.track && opened.files.length > 1) {
    problems.warning(
      'zip-several',
      `The archive holds ${opened.files.length} files that may be recordings, but none that was tried gives a track; what is said is of ${file.name}.`,
    );
  } else if (untried > 0) {
    problems.warning(
      'zip-several',
      `The archive holds ${opened.files.length} files that may be recordings; ${file?.name} is read. Unpack it to read the others.`,
    );
  }
  return {
    ...result,
    problems: [...opened.problems, ...problems.toArray(), ...result.problems.map((one) => placedIn(one, source.name))],
    contents: [...opened.contents, ...read, ...result.contents],
  };
}

/** The first of the files that gives a track; where none does, what the first one said. */
async function firstRecording(
  files: readonly WrappedFile[],
  options: ReadOptions,
  { depth, left }: Place,
): Promise<{ readonly result: ReadResult; readonly file?: WrappedFile }> {
  let first: { result: ReadResult; file: WrappedFile } | undefined;
  for (const file of files) {
    if (left.files === 0) break;
    left.files--;
    const { source, problems } = await file.unpack();
    const inside = source && (await readAtDepth(source, options, { depth: depth + 1, left }));
    const result = {
      ...inside,
      problems: [...problems, ...(inside?.problems ?? [])],
      contents: inside?.contents ?? [],
    };
    if (result.track) return { result, file };
    first ??= { result, file };
  }
  return first ?? { result: { problems: [], contents: [] } };
}

/** Lines and bytes count in the unpacked recording, but the file that the user has is the archive. */
function placedIn(problem: Problem, file: string): Problem {
  return { ...problem, at: { ...problem.at, file } };
}

async function readUnwrapped(
  source: ByteSource,
  head: Uint8Array,
  options: ReadOptions,
  problems: ProblemList,
): Promise<ReadResult> {
  const reader = readers.find((candidate) => candidate.recognises(head, source.name));
  if (reader) return reader.read(source, options);
  problems.error(
    'unknown-format',
    'The content is none of the known recordings (GPX, IGC, KML, NMEA 0183, CSV, FIT, MP4 with a position track).',
  );
  return { problems: problems.toArray(), contents: [] };
}
