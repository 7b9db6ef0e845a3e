import { Gunzip } from 'fflate';
import type { ByteSource } from '../../world.ts';
import { bytesInMemory } from '../../world.ts';
import { ProblemList } from '../problem-list.ts';
import type { OpenedWrapper, ReadOptions, Wrapper } from '../reader.ts';
import { crc32 } from './crc32.ts';
import { Expanded, expand, tooFarMessage } from './expanded.ts';

/** Opens a recording packed with gzip (RFC 1952). */
export const gzipWrapper: Wrapper = {
  recognises: (head) => head.length >= 10 && head[0] === 0x1f && head[1] === 0x8b && head[2] === 8,
  open: openGzip,
};

async function openGzip(source: ByteSource, options: ReadOptions): Promise<OpenedWrapper> {
  const problems = new ProblemList(source.name);
  const bytes = await unpackGzip(source, options, problems);
  if (!bytes) return { files: [], problems: problems.toArray(), contents: [] };
  const name = source.name.replace(/\.(gz|gzip)$/i, '');
  return {
    files: [{ name, unpack: () => Promise.resolve({ source: bytesInMemory(name, bytes), problems: [] }) }],
    problems: problems.toArray(),
    contents: [`Packed with gzip: ${bytes.length} bytes unpacked.`],
  };
}

async function unpackGzip(
  source: ByteSource,
  options: ReadOptions,
  problems: ProblemList,
): Promise<Uint8Array | undefined> {
  const expanded = new Expanded();
  let members = 1;
  const gunzip = new Gunzip((piece) => expanded.take(piece));
  gunzip.onmember = () => {
    members++;
  };
  const failure = await expand(
    source,
    0,
    source.sizeBytes,
    (piece, last) => gunzip.push(piece, last),
    expanded,
    options,
  );
  if (expanded.tooFar) {
    problems.error('archive-too-large', tooFarMessage(expanded.tooFar));
    return undefined;
  }
  if (expanded.sizeBytes === 0) {
    problems.error('gzip-damaged', 'Nothing could be unpacked: the file is damaged or cut off.');
    return undefined;
  }
  const bytes = expanded.whole();
  if (failure !== undefined) {
    problems.warning(
      'gzip-damaged',
      `The packed file is damaged or cut off (${failure}): what could be unpacked is read.`,
    );
  } else if (members === 1 && !(await checksumFits(source, bytes))) {
    problems.warning('gzip-checksum', 'The checksum of the packed file is wrong: some of its content may be damaged.');
  }
  return bytes;
}

/** The last eight bytes are the checksum and the size of the content, little-endian. */
async function checksumFits(source: ByteSource, bytes: Uint8Array): Promise<boolean> {
  const tail = await source.read(source.sizeBytes - 8, 8);
  const view = new DataView(tail.buffer, tail.byteOffset, tail.byteLength);
  return view.getUint32(0, true) === crc32(bytes) && view.getUint32(4, true) === bytes.length % 2 ** 32;
}
