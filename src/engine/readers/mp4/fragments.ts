import type { ProblemList } from '../problem-list.ts';
import type { Box, WindowedReader } from './boxes.ts';
import { boxesBetween } from './boxes.ts';
import type { SampleTable } from './sample-table.ts';

/** What the samples of a track have when a fragment does not say otherwise (`trex`). */
export interface TrackDefaults {
  readonly durationTicks: number;
  readonly sizeBytes: number;
}

/** A fragment's header larger than this is refused: a one-second fragment has a few hundred bytes. */
const mostFragmentHeaderBytes = 16 * 1024 * 1024;

const mostSamples = 5_000_000;

export async function readTrackDefaults(
  reader: WindowedReader,
  trex: Box,
  into: Map<number, TrackDefaults>,
): Promise<void> {
  const view = await reader.view(trex.contentByte, 24);
  if (view.byteLength < 24) return;
  into.set(view.getUint32(4), { durationTicks: view.getUint32(12), sizeBytes: view.getUint32(16) });
}

interface Columns {
  readonly offsetBytes: number[];
  readonly sizeBytes: number[];
  readonly ticks: number[];
  readonly durationTicks: number[];
  nextTicks: number;
}

/** Gathers the samples of some tracks from movie fragments (ISO/IEC 14496-12, 8.8). */
export class FragmentedSamples {
  readonly #columns = new Map<number, Columns>();
  readonly #timescales: ReadonlyMap<number, number>;
  readonly #defaults: ReadonlyMap<number, TrackDefaults>;
  #samples = 0;

  /** `timescales` holds the wanted tracks. */
  constructor(timescales: ReadonlyMap<number, number>, defaults: ReadonlyMap<number, TrackDefaults>) {
    this.#timescales = timescales;
    this.#defaults = defaults;
  }

  async add(reader: WindowedReader, moof: Box, problems: ProblemList): Promise<void> {
    const end = Math.min(moof.endByte, reader.sizeBytes);
    if (end - moof.contentByte > mostFragmentHeaderBytes) {
      problems.warning('mp4-bad-box', 'A fragment declares a header of more than 16 MB: it is left out.', {
        byte: moof.startByte,
      });
      return;
    }
    // Where the next run of samples begins when nothing else says so.
    let nextByte = moof.startByte;
    for await (const traf of boxesBetween(reader, moof.contentByte, end)) {
      if (traf.type === 'traf') nextByte = await this.#addTrackFragment(reader, moof, traf, end, nextByte);
    }
  }

  async #addTrackFragment(
    reader: WindowedReader,
    moof: Box,
    traf: Box,
    endByte: number,
    startByte: number,
  ): Promise<number> {
    let header: FragmentHeader | undefined;
    let decodeTicks: number | undefined;
    let nextByte = startByte;
    for await (const box of boxesBetween(reader, traf.contentByte, Math.min(traf.endByte, endByte))) {
      const length = Math.min(box.endByte, endByte) - box.contentByte;
      const view = await reader.view(box.contentByte, length);
      if (box.type === 'tfhd') {
        header = fragmentHeader(view, moof.startByte, startByte, this.#defaults);
        nextByte = header?.baseByte ?? startByte;
      } else if (box.type === 'tfdt' && view.byteLength >= 8) {
        const long = view.getUint8(0) === 1 && view.byteLength >= 12;
        decodeTicks = long ? Number(view.getBigUint64(4)) : view.getUint32(4);
      } else if (box.type === 'trun' && header) {
        const columns = this.#timescales.has(header.trackId) ? this.#columnsOf(header.trackId) : undefined;
        if (columns && decodeTicks !== undefined) columns.nextTicks = decodeTicks;
        decodeTicks = undefined;
        nextByte = this.#addRun(view, header, nextByte, columns, reader.sizeBytes);
      }
    }
    return nextByte;
  }

  /** Adds one run of samples; answers where its last sample ends. */
  #addRun(
    view: DataView,
    header: FragmentHeader,
    startByte: number,
    columns: Columns | undefined,
    fileBytes: number,
  ): number {
    if (view.byteLength < 8) return startByte;
    const flags = view.getUint32(0) & 0xffffff;
    const declared = view.getUint32(4);
    let at = 8;
    let byte = startByte;
    if (flags & 0x1 && view.byteLength >= at + 4) {
      byte = header.baseByte + view.getInt32(at);
      at += 4;
    }
    if (flags & 0x4) at += 4;
    const fields = [0x100, 0x200, 0x400, 0x800].filter((flag) => flags & flag);
    const rowBytes = 4 * fields.length;
    const room = rowBytes > 0 ? Math.floor((view.byteLength - at) / rowBytes) : mostSamples - this.#samples;
    const rows = Math.max(0, Math.min(declared, room, mostSamples - this.#samples));
    for (let row = 0; row < rows; row++) {
      let duration = header.durationTicks;
      let size = header.sizeBytes;
      for (const flag of fields) {
        if (flag === 0x100) duration = view.getUint32(at);
        if (flag === 0x200) size = view.getUint32(at);
        at += 4;
      }
      if (size === 0 && rowBytes === 0) break;
      if (byte > fileBytes) break;
      if (columns) {
        columns.offsetBytes.push(byte);
        columns.sizeBytes.push(size);
        columns.ticks.push(columns.nextTicks);
        columns.durationTicks.push(duration);
        columns.nextTicks += duration;
        this.#samples++;
      }
      byte += size;
    }
    return byte;
  }

  #columnsOf(trackId: number): Columns {
    let columns = this.#columns.get(trackId);
    if (!columns) {
      columns = { offsetBytes: [], sizeBytes: [], ticks: [], durationTicks: [], nextTicks: 0 };
      this.#columns.set(trackId, columns);
    }
    return columns;
  }

  /** The samples of the plain index followed by those of the fragments. */
  after(table: SampleTable, trackId: number): SampleTable {
    const columns = this.#columns.get(trackId);
    const timescale = this.#timescales.get(trackId);
    if (!columns || timescale === undefined) return table;
    return {
      offsetBytes: Float64Array.from([...table.offsetBytes, ...columns.offsetBytes]),
      sizeBytes: Uint32Array.from([...table.sizeBytes, ...columns.sizeBytes]),
      timeS: Float64Array.from([...table.timeS, ...columns.ticks.map((ticks) => ticks / timescale)]),
      durationS: Float64Array.from([...table.durationS, ...columns.durationTicks.map((ticks) => ticks / timescale)]),
    };
  }
}

interface FragmentHeader {
  readonly trackId: number;
  readonly baseByte: number;
  readonly durationTicks: number;
  readonly sizeBytes: number;
}

/** The `tfhd` box: the base of the offsets is stated, or the fragment's start, or the end of the run before. */
function fragmentHeader(
  view: DataView,
  moofByte: number,
  afterLastRun: number,
  defaults: ReadonlyMap<number, TrackDefaults>,
): FragmentHeader | undefined {
  if (view.byteLength < 8) return undefined;
  const flags = view.getUint32(0) & 0xffffff;
  const trackId = view.getUint32(4);
  let at = 8;
  const field = (flag: number, bytes: number): number | undefined => {
    if (!(flags & flag) || view.byteLength < at + bytes) return undefined;
    const value = bytes === 8 ? Number(view.getBigUint64(at)) : view.getUint32(at);
    at += bytes;
    return value;
  };
  const base = field(0x1, 8);
  field(0x2, 4);
  const duration = field(0x8, 4);
  const size = field(0x10, 4);
  return {
    trackId,
    baseByte: base ?? (flags & 0x20000 ? moofByte : afterLastRun),
    durationTicks: duration ?? defaults.get(trackId)?.durationTicks ?? 0,
    sizeBytes: size ?? defaults.get(trackId)?.sizeBytes ?? 0,
  };
}
