import type { ByteSource } from '../../world.ts';

/** One file in a zip archive, as its central directory describes it. */
export interface ZipEntry {
  readonly name: string;
  /** 0 stored, 8 deflated. */
  readonly method: number;
  readonly encrypted: boolean;
  readonly crc32: number;
  readonly packedBytes: number;
  readonly sizeBytes: number;
  /** Where its local header begins. */
  readonly headerByte: number;
}

/** Why a directory could not be read. */
export type ZipFault = 'no-directory' | 'too-large';

/** The end record has 22 bytes and a comment of up to 65,535. */
const endRecordBytes = 22;
const mostCommentBytes = 65_535;

/** A directory larger than this, or with more files, is no collection of recordings. */
const mostDirectoryBytes = 8 * 1024 * 1024;
const mostEntries = 20_000;

/**
 * The files of an archive (the .ZIP file format specification, 4.3.12 and 4.3.16). Archives over 4 GB (Zip64), in
 * several parts, or with more than 20,000 files are refused.
 */
export async function readZipDirectory(source: ByteSource): Promise<ZipEntry[] | ZipFault> {
  const tailByte = Math.max(0, source.sizeBytes - endRecordBytes - mostCommentBytes);
  const tail = await source.read(tailByte, source.sizeBytes - tailByte);
  const view = new DataView(tail.buffer, tail.byteOffset, tail.byteLength);
  let end = tail.length - endRecordBytes;
  while (end >= 0 && !isEndRecord(view, end)) end--;
  if (end < 0) return 'no-directory';
  const entries = view.getUint16(end + 10, true);
  const bytes = view.getUint32(end + 12, true);
  const startByte = view.getUint32(end + 16, true);
  if (entries === 0xffff || bytes > mostDirectoryBytes || entries > mostEntries) return 'too-large';
  if (startByte + bytes > source.sizeBytes) return 'no-directory';
  return parseDirectory(await source.read(startByte, bytes), entries);
}

function isEndRecord(view: DataView, at: number): boolean {
  return (
    view.getUint32(at, true) === 0x06054b50 && at + endRecordBytes + view.getUint16(at + 20, true) <= view.byteLength
  );
}

function parseDirectory(bytes: Uint8Array, entries: number): ZipEntry[] | ZipFault {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const found: ZipEntry[] = [];
  let at = 0;
  for (let k = 0; k < entries; k++) {
    if (at + 46 > bytes.length || view.getUint32(at, true) !== 0x02014b50) return 'no-directory';
    const nameBytes = view.getUint16(at + 28, true);
    const nextAt = at + 46 + nameBytes + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
    if (nextAt > bytes.length) return 'no-directory';
    const flags = view.getUint16(at + 8, true);
    // Bit 11 says UTF-8; without it the names that matter here are ASCII all the same.
    const name = new TextDecoder().decode(bytes.subarray(at + 46, at + 46 + nameBytes));
    found.push({
      name,
      method: view.getUint16(at + 10, true),
      encrypted: (flags & 1) !== 0,
      crc32: view.getUint32(at + 16, true),
      packedBytes: view.getUint32(at + 20, true),
      sizeBytes: view.getUint32(at + 24, true),
      headerByte: view.getUint32(at + 42, true),
    });
    at = nextAt;
  }
  return found;
}

/** Where the data of an entry begins: behind its local header, whose name and extra field have lengths of their own. */
export async function zipDataByte(source: ByteSource, entry: ZipEntry): Promise<number | undefined> {
  const head = await source.read(entry.headerByte, 30);
  const view = new DataView(head.buffer, head.byteOffset, head.byteLength);
  if (head.length < 30 || view.getUint32(0, true) !== 0x04034b50) return undefined;
  const dataByte = entry.headerByte + 30 + view.getUint16(26, true) + view.getUint16(28, true);
  return dataByte + entry.packedBytes <= source.sizeBytes ? dataByte : undefined;
}
