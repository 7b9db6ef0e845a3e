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
import type { Reader, ReadOptions, ReadResult, Wrapper } from './reader.ts';
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

/**
 * Reads a recording of any known format. The format is told by the content; the name is only a hint for content that
 * several formats could claim. Trouble in the file comes back as problems; only an abort rejects.
 */
export async function readRecording(source: ByteSource, options: ReadOptions = {}): Promise<ReadResult> {
  options.signal?.throwIfAborted();
  const problems = new ProblemList(source.name);
  if (source.sizeBytes === 0) {
    problems.error('empty-file', 'The file is empty: the recorder wrote nothing, or the copy failed.');
    return { problems: problems.toArray(), contents: [] };
  }
  const head = await source.read(0, headBytes);
  const wrapper = wrappers.find((candidate) => candidate.recognises(head, source.name));
  if (!wrapper) return readUnwrapped(source, head, options, problems);
  const opened = await wrapper.open(source, options);
  if (!opened.source) return { problems: opened.problems, contents: opened.contents };
  const inside = await readInside(opened.source, options);
  return {
    ...inside,
    problems: [...opened.problems, ...inside.problems.map((problem) => placedIn(problem, source.name))],
    contents: [...opened.contents, ...inside.contents],
  };
}

/** The recording inside an archive; another archive there is refused, as no recorder writes that. */
async function readInside(source: ByteSource, options: ReadOptions): Promise<ReadResult> {
  const problems = new ProblemList(source.name);
  if (source.sizeBytes === 0) {
    problems.error('empty-file', 'The file in the archive is empty.');
    return { problems: problems.toArray(), contents: [] };
  }
  const head = await source.read(0, headBytes);
  if (wrappers.some((candidate) => candidate.recognises(head, source.name))) {
    problems.error('wrapped-too-deep', 'There is an archive inside the archive: unpack it first.');
    return { problems: problems.toArray(), contents: [] };
  }
  return readUnwrapped(source, head, options, problems);
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
