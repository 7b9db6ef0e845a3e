import type { ByteSource } from '../world.ts';
import { csvReader } from './csv/read.ts';
import { fitReader } from './fit/read.ts';
import { gpmfReader } from './gpmf/read.ts';
import { gpxReader } from './gpx/read.ts';
import { igcReader } from './igc/read.ts';
import { mp4Reader } from './mp4/read.ts';
import { nmeaReader } from './nmea/read.ts';
import { ProblemList } from './problem-list.ts';
import type { Reader, ReadOptions, ReadResult, Wrapper } from './reader.ts';

/** In the order in which they are asked; those that recognise by an unmistakable signature come first. */
export const readers: readonly Reader[] = [
  mp4Reader,
  gpmfReader,
  fitReader,
  gpxReader,
  igcReader,
  nmeaReader,
  csvReader,
];

/** Files that hold another file: opened first, and what is inside is read. */
export const wrappers: readonly Wrapper[] = [];

/** Enough to pass a long preamble of comments, and the whole of a small file. */
const headBytes = 65_536;

/** A file inside a file inside a file: more than this is an attack or a mistake. */
const mostWrappings = 3;

/**
 * Reads a recording of any known format. The format is told by the content; the name is only a hint for content that
 * several formats could claim. Trouble in the file comes back as problems; only an abort rejects.
 */
export async function readRecording(source: ByteSource, options: ReadOptions = {}): Promise<ReadResult> {
  const problems = new ProblemList(source.name);
  let inner = source;
  for (let depth = 0; ; depth++) {
    options.signal?.throwIfAborted();
    if (inner.sizeBytes === 0) {
      problems.error('empty-file', 'The file is empty: the recorder wrote nothing, or the copy failed.');
      return { problems: problems.toArray(), contents: [] };
    }
    const head = await inner.read(0, headBytes);
    const wrapper = wrappers.find((candidate) => candidate.recognises(head, inner.name));
    if (!wrapper) return readUnwrapped(inner, head, options, problems);
    if (depth === mostWrappings) {
      problems.error(
        'wrapped-too-deep',
        `More than ${mostWrappings} archives inside each other: unpack the recording.`,
      );
      return { problems: problems.toArray(), contents: [] };
    }
    const opened = await wrapper.open(inner, options);
    if (!opened.source) return { problems: opened.problems, contents: opened.contents };
    inner = opened.source;
  }
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
