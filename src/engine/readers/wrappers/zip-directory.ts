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

/** The Zip64 locator lies right before the end record; the record that it names has 56 bytes at least. */
const locatorBytes = 20;
const end64Bytes = 56;

/** A field that says "see the Zip64 record": all ones. */
const elsewhere16 = 0xffff;
const elsewhere32 = 0xffffffff;

/**
 * The files of an archive (the .ZIP file format specification, 4.3.12 and 4.3.16), also over 4 GB (Zip64, 4.3.14 and
 * 4.5.3). Archives in several parts, or with more than 20,000 files, are refused.
 */
export async function readZipDirectory(source: ByteSource): Promise<ZipEntry[] | ZipFault> {
  const tailByte = Math.max(0, source.sizeBytes - locatorBytes - endRecordBytes - mostCommentBytes);
  const tail = await source.read(tailByte, source.sizeBytes - tailByte);
  const view = new DataView(tail.buffer, tail.byteOffset, tail.byteLength);
  let end = tail.length - endRecordBytes;
  while (end >= 0 && !isEndRecord(view, end)) end--;
  if (end < 0) return 'no-directory';
  let entries = view.getUint16(end + 10, true);
  let bytes = view.getUint32(end + 12, true);
  let startByte = view.getUint32(end + 16, true);
  if (entries === elsewhere16 || bytes === elsewhere32 || startByte === elsewhere32) {
    const record = await end64(source, view, end - locatorBytes);
    if (!record) return 'no-directory';
    ({ entries, bytes, startByte } = record);
  }
  if (bytes > mostDirectoryBytes || entries > mostEntries) return 'too-large';
  if (startByte + bytes > source.sizeBytes) return 'no-directory';
  return parseDirectory(await source.read(startByte, bytes), entries);
}

/** The Zip64 end record, by the locator that should lie at `locator` of the tail. */
async function end64(
  source: ByteSource,
  tail: DataView,
  locator: number,
): Promise<{ entries: number; bytes: number; startByte: number } | undefined> {
  if (locator < 0 || tail.getUint32(locator, true) !== 0x07064b50) return undefined;
  const recordByte = Number(tail.getBigUint64(locator + 8, true));
  if (recordByte + end64Bytes > source.sizeBytes) return undefined;
  const read = await source.read(recordByte, end64Bytes);
  const view = new DataView(read.buffer, read.byteOffset, read.byteLength);
  if (read.length < end64Bytes || view.getUint32(0, true) !== 0x06064b50) return undefined;
  return {
    entries: Number(view.getBigUint64(32, true)),
    bytes: Number(view.getBigUint64(40, true)),
    startByte: Number(view.getBigUint64(48, true)),
  };
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
    const extraByte = at + 46 + nameBytes;
    const extra = extra64(view, extraByte, extraByte + view.getUint16(at + 30, true));
    // In this order, and only those that did not fit into their own field.
    const long = (field: number): number => {
      const short = view.getUint32(field, true);
      return short === elsewhere32 ? (extra.shift() ?? short) : short;
    };
    const sizeBytes = long(at + 24);
    const packedBytes = long(at + 20);
    const headerByte = long(at + 42);
    found.push({
      name,
      method: view.getUint16(at + 10, true),
      encrypted: (flags & 1) !== 0,
      crc32: view.getUint32(at + 16, true),
      packedBytes,
      sizeBytes,
      headerByte,
    });
    at = nextAt;
  }
  return found;
}

/** The 64-bit values of an entry (extra field 0x0001): size, packed size, place of the header. */
function extra64(view: DataView, from: number, to: number): number[] {
  for (let at = from; at + 4 <= to; ) {
    const end = at + 4 + view.getUint16(at + 2, true);
    if (end > to) return [];
    if (view.getUint16(at, true) === 1) {
      const values: number[] = [];
      for (let value = at + 4; value + 8 <= end && values.length < 3; value += 8)
        values.push(Number(view.getBigUint64(value, true)));
      return values;
    }
    at = end;
  }
  return [];
}

/** Where the data of an entry begins: behind its local header, whose name and extra field have lengths of their own. */
export async function zipDataByte(source: ByteSource, entry: ZipEntry): Promise<number | undefined> {
  const head = await source.read(entry.headerByte, 30);
  const view = new DataView(head.buffer, head.byteOffset, head.byteLength);
  if (head.length < 30 || view.getUint32(0, true) !== 0x04034b50) return undefined;
  const dataByte = entry.headerByte + 30 + view.getUint16(26, true) + view.getUint16(28, true);
  return dataByte + entry.packedBytes <= source.sizeBytes ? dataByte : undefined;
}
