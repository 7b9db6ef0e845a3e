import { Inflate } from 'fflate';
import type { ByteSource } from '../../world.ts';
import { bytesInMemory } from '../../world.ts';
import { ProblemList } from '../problem-list.ts';
import type { OpenedWrapper, ReadOptions, UnpackedFile, Wrapper } from '../reader.ts';
import { crc32 } from './crc32.ts';
import { Expanded, expand, tooFarMessage } from './expanded.ts';
import type { ZipEntry } from './zip-directory.ts';
import { readZipDirectory, zipDataByte } from './zip-directory.ts';

/** Endings of files that may be recordings, also packed once more; all others in an archive are passed over. */
const recordingName = /\.(gpx|igc|kml|kmz|zip|nmea|nma|log|txt|csv|tsv|fit|mp4|mov|m4v|360|raw|gpmf)(\.gz)?$/i;

/** Endings of archives that are not read. */
const archiveName = /\.(gz|gzip|tgz|7z|rar|tar)$/i;

/** Opens the recording inside a zip or KMZ archive. */
export const zipWrapper: Wrapper = {
  recognises: (head) =>
    head.length >= 4 &&
    head[0] === 0x50 &&
    head[1] === 0x4b &&
    ((head[2] === 3 && head[3] === 4) || (head[2] === 5 && head[3] === 6)),
  open: openZip,
};

async function openZip(source: ByteSource, options: ReadOptions): Promise<OpenedWrapper> {
  const refused = (code: string, message: string): OpenedWrapper => {
    const problems = new ProblemList(source.name);
    problems.error(code, message);
    return { files: [], problems: problems.toArray(), contents: [] };
  };
  const directory = await readZipDirectory(source);
  if (directory === 'no-directory') {
    return refused('zip-damaged', 'The archive has no readable directory at its end: it is damaged or cut off.');
  }
  if (directory === 'too-large') {
    return refused('archive-too-large', 'The archive holds more files than are read here: unpack it.');
  }
  const files = directory.filter(({ name }) => !name.endsWith('/') && !/(^|\/)(__MACOSX\/|\._)/.test(name));
  const candidates = files.filter(({ name }) => recordingName.test(name)).sort(byWorth);
  if (candidates.length === 0) {
    if (files.some(({ name }) => archiveName.test(name))) {
      return refused('wrapped-too-deep', `The archive holds another archive (${listOf(files)}): unpack it first.`);
    }
    return refused('zip-no-recording', `The archive holds no recording: ${listOf(files)}.`);
  }
  return {
    files: candidates.map((entry) => ({ name: entry.name, unpack: () => unpackEntry(source, entry, options) })),
    problems: [],
    contents: [`In the archive: ${listOf(files)}.`],
  };
}

/** The root document of a KMZ first, then the largest; equal ones by name. */
function byWorth(a: ZipEntry, b: ZipEntry): number {
  const root = (entry: ZipEntry): number => Number(entry.name.toLowerCase() === 'doc.kml');
  return root(b) - root(a) || b.sizeBytes - a.sizeBytes || (a.name < b.name ? -1 : 1);
}

function listOf(files: readonly ZipEntry[]): string {
  const names = files.slice(0, 10).map(({ name }) => name);
  const more = files.length > 10 ? ` and ${files.length - 10} more` : '';
  return names.length === 0 ? 'nothing' : `${names.join(', ')}${more}`;
}

async function unpackEntry(source: ByteSource, entry: ZipEntry, options: ReadOptions): Promise<UnpackedFile> {
  const problems = new ProblemList(source.name);
  const opened = await openEntry(source, entry, options, problems);
  return { ...(opened ? { source: opened } : {}), problems: problems.toArray() };
}

async function openEntry(
  source: ByteSource,
  entry: ZipEntry,
  options: ReadOptions,
  problems: ProblemList,
): Promise<ByteSource | undefined> {
  const at = { byte: entry.headerByte };
  if (entry.encrypted) {
    problems.error('zip-encrypted', `${entry.name} is protected by a password: unpack it.`, at);
    return undefined;
  }
  const dataByte = await zipDataByte(source, entry);
  if (dataByte === undefined) {
    problems.error('zip-damaged', `${entry.name} is not where the directory of the archive says.`, at);
    return undefined;
  }
  if (entry.method === 0) return partOf(source, entry, dataByte);
  if (entry.method !== 8) {
    problems.error(
      'zip-method',
      `${entry.name} is packed by a method that is not read (${entry.method}): unpack it.`,
      at,
    );
    return undefined;
  }
  const expanded = new Expanded();
  const inflate = new Inflate((piece) => expanded.take(piece));
  const push = (piece: Uint8Array, last: boolean): void => inflate.push(piece, last);
  const failure = await expand(source, dataByte, dataByte + entry.packedBytes, push, expanded, options);
  if (expanded.tooFar) {
    problems.error('archive-too-large', tooFarMessage(expanded.tooFar), at);
    return undefined;
  }
  const bytes = expanded.whole();
  if (failure !== undefined) {
    problems.warning('zip-damaged', `${entry.name} is damaged (${failure}): what could be unpacked is read.`, at);
  } else if (crc32(bytes) !== entry.crc32) {
    problems.warning('zip-checksum', `The checksum of ${entry.name} is wrong: some of it may be damaged.`, at);
  }
  return bytesInMemory(nameInside(source, entry), bytes);
}

/** A stored entry is read in place, whatever its size. */
function partOf(source: ByteSource, entry: ZipEntry, dataByte: number): ByteSource {
  const sizeBytes = entry.packedBytes;
  return {
    name: nameInside(source, entry),
    sizeBytes,
    read: (offset, length) => source.read(dataByte + offset, Math.max(0, Math.min(length, sizeBytes - offset))),
  };
}

function nameInside(source: ByteSource, entry: ZipEntry): string {
  return `${source.name}/${entry.name}`;
}
