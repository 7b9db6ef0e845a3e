import type { Box, WindowedReader } from './boxes.ts';
import { childBox } from './boxes.ts';

/** Where the samples of one track lie and when they are shown. All columns have the same length. */
export interface SampleTable {
  readonly offsetBytes: Float64Array;
  readonly sizeBytes: Uint32Array;
  /** Media time from the start of the track, before edits, seconds. */
  readonly timeS: Float64Array;
  readonly durationS: Float64Array;
}

/** More telemetry samples than this are not believed: 5,000,000 is 55 hours at 25 a second. */
const mostSamples = 5_000_000;

/** A table is read whole, so a declared one larger than this is refused: 64 MB holds 8 million 64-bit offsets. */
const mostTableBytes = 64 * 1024 * 1024;

interface Table {
  /** The fields before the rows, from behind version and flags. */
  readonly head: DataView;
  readonly rowsView: DataView;
  /** Rows that are really there. */
  readonly rows: number;
  /** The last field of the head: how many rows there ought to be. */
  readonly declaredRows: number;
}

/** A table of fixed rows in a full box, clipped to what the box and the file really hold. */
async function tableOf(
  reader: WindowedReader,
  stbl: Box,
  type: string,
  headBytes: number,
  rowBytes: number,
): Promise<Table | undefined> {
  const box = await childBox(reader, stbl, type);
  if (!box) return undefined;
  const length = Math.min(box.endByte, reader.sizeBytes) - box.contentByte;
  if (length < 4 + headBytes || length > mostTableBytes) return undefined;
  const view = await reader.view(box.contentByte, length);
  if (view.byteLength < 4 + headBytes) return undefined;
  // Copied, because the window that the view looks through is overwritten by the next read.
  const { buffer } = new Uint8Array(view.buffer, view.byteOffset, view.byteLength).slice();
  const head = new DataView(buffer, 4, headBytes);
  const rowsView = new DataView(buffer, 4 + headBytes);
  const declaredRows = head.getUint32(headBytes - 4);
  return { head, rowsView, declaredRows, rows: Math.min(declaredRows, Math.floor(rowsView.byteLength / rowBytes)) };
}

interface SampleSizes {
  readonly count: number;
  sizeOf(sample: number): number;
}

async function sampleSizes(reader: WindowedReader, stbl: Box): Promise<SampleSizes> {
  const table = await tableOf(reader, stbl, 'stsz', 8, 4);
  if (!table) return compactSizes(reader, stbl);
  const uniform = table.head.getUint32(0);
  if (uniform > 0) return { count: Math.min(table.declaredRows, mostSamples), sizeOf: () => uniform };
  return { count: Math.min(table.rows, mostSamples), sizeOf: (sample) => table.rowsView.getUint32(4 * sample) };
}

/** Sizes in fields of 4, 8 or 16 bits (`stz2`, 8.7.3.3): what cameras with small samples may write. */
async function compactSizes(reader: WindowedReader, stbl: Box): Promise<SampleSizes> {
  const none = { count: 0, sizeOf: () => 0 };
  const bits = (await tableOf(reader, stbl, 'stz2', 8, 1))?.head.getUint8(3);
  if (bits !== 4 && bits !== 8 && bits !== 16) return none;
  const table = await tableOf(reader, stbl, 'stz2', 8, bits / 8);
  if (!table) return none;
  const { rowsView, rows } = table;
  const sizeOf = (sample: number): number => {
    if (bits === 16) return rowsView.getUint16(2 * sample);
    if (bits === 8) return rowsView.getUint8(sample);
    const pair = rowsView.getUint8(sample >> 1);
    return sample % 2 === 0 ? pair >> 4 : pair & 0xf;
  };
  return { count: Math.min(rows, mostSamples), sizeOf };
}

/**
 * The samples of a track from its `stbl` box (ISO/IEC 14496-12, 8.6 and 8.7): sizes from `stsz` or `stz2`, times from `stts`,
 * places from `stsc` with `stco` or `co64`. Stops at the first sample that the tables do not place, and where the sizes
 * add up to more than the file: a declared count is never trusted beyond the bytes that carry it.
 */
export async function readSampleTable(reader: WindowedReader, stbl: Box, timescale: number): Promise<SampleTable> {
  const sizes = await sampleSizes(reader, stbl);
  const stts = await tableOf(reader, stbl, 'stts', 4, 8);
  const stsc = await tableOf(reader, stbl, 'stsc', 4, 12);
  const stco = await tableOf(reader, stbl, 'stco', 4, 4);
  const co64 = stco ? undefined : await tableOf(reader, stbl, 'co64', 4, 8);
  const chunks = stco?.rows ?? co64?.rows ?? 0;
  const chunkByte = (chunk: number): number =>
    stco ? stco.rowsView.getUint32(4 * chunk) : Number(co64?.rowsView.getBigUint64(8 * chunk) ?? 0n);

  const offsets: number[] = [];
  const lengths: number[] = [];
  let total = 0;
  let row = 0;
  if (!stsc || stsc.rows === 0) return emptyTable();
  for (let chunk = 0; chunk < chunks; chunk++) {
    while (row + 1 < stsc.rows && stsc.rowsView.getUint32(12 * (row + 1)) <= chunk + 1) row++;
    const perChunk = stsc.rowsView.getUint32(12 * row + 4);
    let at = chunkByte(chunk);
    for (let k = 0; k < perChunk && lengths.length < sizes.count; k++) {
      const size = sizes.sizeOf(lengths.length);
      total += size;
      if (total > reader.sizeBytes) break;
      offsets.push(at);
      lengths.push(size);
      at += size;
    }
    if (lengths.length >= sizes.count || total > reader.sizeBytes) break;
  }
  const times = decodingTimes(stts, lengths.length, timescale);
  return { offsetBytes: Float64Array.from(offsets), sizeBytes: Uint32Array.from(lengths), ...times };
}

function emptyTable(): SampleTable {
  return {
    offsetBytes: new Float64Array(0),
    sizeBytes: new Uint32Array(0),
    timeS: new Float64Array(0),
    durationS: new Float64Array(0),
  };
}

/** Decoding times from `stts`; the last stated duration goes on where the table is too short. */
function decodingTimes(
  stts: Table | undefined,
  n: number,
  timescale: number,
): { timeS: Float64Array; durationS: Float64Array } {
  const timeS = new Float64Array(n);
  const durationS = new Float64Array(n);
  const rows = stts?.rows ?? 0;
  const view = stts?.rowsView ?? new DataView(new ArrayBuffer(0));
  let row = -1;
  let left = 0;
  let delta = 0;
  let ticks = 0;
  for (let i = 0; i < n; i++) {
    while (left === 0 && row + 1 < rows) {
      row++;
      left = view.getUint32(8 * row);
      delta = view.getUint32(8 * row + 4);
    }
    timeS[i] = ticks / timescale;
    durationS[i] = delta / timescale;
    ticks += delta;
    left = Math.max(0, left - 1);
  }
  return { timeS, durationS };
}
