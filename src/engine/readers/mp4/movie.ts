import type { ProblemList } from '../problem-list.ts';
import type { Box, WindowedReader } from './boxes.ts';
import { boxesBetween, childBox, fourCharacters } from './boxes.ts';
import type { TrackDefaults } from './fragments.ts';
import { FragmentedSamples, readTrackDefaults } from './fragments.ts';
import type { SampleTable } from './sample-table.ts';
import { readSampleTable } from './sample-table.ts';

/** Sample entries that carry a position track. */
export const telemetryEntries: readonly string[] = ['gpmd', 'camm'];

export interface MovieTrack {
  readonly id: number;
  /** What the track holds: `vide`, `soun`, `meta`, ... (ISO/IEC 14496-12, 8.4.3). */
  readonly handler: string;
  /** The coding of its samples: `avc1`, `mp4a`, `gpmd`, `camm`, ... */
  readonly sampleEntry: string;
  readonly timescale: number;
  /** From the media header; NaN where it is 0 or unknown. */
  readonly durationS: number;
  /** Added to a media time to get the time of presentation (edit list). */
  readonly editShiftS: number;
  /** Only for tracks with telemetry. */
  readonly samples?: SampleTable;
}

export interface Movie {
  /** Unix time of creation as the camera wrote it (often its own clock, sometimes local time); absent when unset. */
  readonly creationS?: number;
  readonly tracks: readonly MovieTrack[];
  readonly fragmented: boolean;
}

/** A film without index: what it holds cannot be found by its tables. */
export interface MissingIndex {
  readonly missingIndex: true;
  /** It ends within its pictures: still being written, never closed, or cut off. */
  readonly unfinished: boolean;
  /** Where its last box begins. */
  readonly byte: number;
}

/** Seconds from 1904-01-01, from which this container counts (ISO/IEC 14496-12, 8.2.2), to 1970-01-01. */
const unixEpochIn1904S = 2_082_844_800;

/** A file with more tracks than this is damaged: cameras write 2 to 8. */
const mostTracks = 256;

interface TrackHead extends MovieTrack {
  readonly stbl?: Box;
}

/**
 * The index of a film, wherever it lies in the file, with the sample tables of its telemetry tracks. Reads only headers
 * and those tables. Trouble is told to `problems`; when there is no index at all, that is what is answered.
 */
export async function readMovie(
  reader: WindowedReader,
  problems: ProblemList,
  signal?: AbortSignal,
): Promise<Movie | MissingIndex> {
  let moov: Box | undefined;
  let lastBox: Box | undefined;
  const fragmentBoxes: Box[] = [];
  for await (const box of boxesBetween(reader, 0, reader.sizeBytes, (bad) => {
    problems.warning(
      'mp4-bad-box',
      `A box declares ${bad.declaredBytes} bytes, less than its own header: what follows cannot be found.`,
      { byte: bad.atByte },
    );
  })) {
    signal?.throwIfAborted();
    if (box.type === 'moov') moov ??= box;
    if (box.type === 'moof') fragmentBoxes.push(box);
    lastBox = box;
  }
  if (!moov) {
    const unfinished = lastBox?.type === 'mdat' && (lastBox.open || lastBox.endByte >= reader.sizeBytes);
    return { missingIndex: true, unfinished, byte: lastBox?.startByte ?? 0 };
  }
  if (lastBox && lastBox.endByte > reader.sizeBytes) {
    problems.warning(
      'mp4-truncated',
      `The file ends at ${reader.sizeBytes} bytes but its last part (${lastBox.type}) should reach ${lastBox.endByte}: the end was cut off. What is there is read.`,
      { byte: lastBox.startByte },
    );
  }
  return readMoov(reader, moov, fragmentBoxes, problems, signal);
}

async function readMoov(
  reader: WindowedReader,
  moov: Box,
  fragmentBoxes: readonly Box[],
  problems: ProblemList,
  signal: AbortSignal | undefined,
): Promise<Movie> {
  const end = Math.min(moov.endByte, reader.sizeBytes);
  let creationS: number | undefined;
  let movieTimescale = 1;
  const defaults = new Map<number, TrackDefaults>();
  const traks: Box[] = [];
  for await (const box of boxesBetween(reader, moov.contentByte, end)) {
    if (box.type === 'mvhd') {
      const head = await timeHeader(reader, box);
      creationS = head?.creationS;
      movieTimescale = head?.timescale ?? 1;
    } else if (box.type === 'mvex') {
      for await (const trex of boxesBetween(reader, box.contentByte, Math.min(box.endByte, end))) {
        if (trex.type === 'trex') await readTrackDefaults(reader, trex, defaults);
      }
    } else if (box.type === 'trak' && traks.length < mostTracks) traks.push(box);
  }
  const heads: TrackHead[] = [];
  for (const trak of traks) {
    signal?.throwIfAborted();
    const head = await readTrak(reader, trak, movieTimescale);
    if (head) heads.push(head);
    else
      problems.warning('mp4-bad-track', 'A track of the film has no readable header: it is left out.', {
        byte: trak.startByte,
      });
  }
  const wanted = heads.filter((head) => telemetryEntries.includes(head.sampleEntry));
  const fragments = new FragmentedSamples(new Map(wanted.map((head) => [head.id, head.timescale])), defaults);
  for (const moof of wanted.length > 0 ? fragmentBoxes : []) {
    signal?.throwIfAborted();
    await fragments.add(reader, moof, problems);
  }
  const tracks: MovieTrack[] = [];
  for (const { stbl, ...head } of heads) {
    if (!wanted.some(({ id }) => id === head.id) || !stbl) tracks.push(head);
    else {
      const table = await readSampleTable(reader, stbl, head.timescale);
      tracks.push({ ...head, samples: fragments.after(table, head.id) });
    }
  }
  return { ...(creationS === undefined ? {} : { creationS }), tracks, fragmented: fragmentBoxes.length > 0 };
}

async function readTrak(reader: WindowedReader, trak: Box, movieTimescale: number): Promise<TrackHead | undefined> {
  const tkhd = await childBox(reader, trak, 'tkhd');
  const mdia = await childBox(reader, trak, 'mdia');
  if (!tkhd || !mdia) return undefined;
  const tkhdView = await reader.view(tkhd.contentByte, 24);
  if (tkhdView.byteLength < 24) return undefined;
  const id = tkhdView.getUint32(tkhdView.getUint8(0) === 1 ? 20 : 12);
  const mdhd = await childBox(reader, mdia, 'mdhd');
  const times = mdhd && (await timeHeader(reader, mdhd));
  const hdlr = await childBox(reader, mdia, 'hdlr');
  const minf = await childBox(reader, mdia, 'minf');
  const stbl = minf && (await childBox(reader, minf, 'stbl'));
  const stsd = stbl && (await childBox(reader, stbl, 'stsd'));
  if (!times || !hdlr) return undefined;
  const hdlrView = await reader.view(hdlr.contentByte, 12);
  const handler = hdlrView.byteLength < 12 ? '' : fourCharacters(hdlrView, 8);
  const stsdView = stsd && (await reader.view(stsd.contentByte, 16));
  const sampleEntry = !stsdView || stsdView.byteLength < 16 ? '' : fourCharacters(stsdView, 12);
  return {
    id,
    handler,
    sampleEntry,
    timescale: times.timescale,
    durationS: times.duration > 0 ? times.duration / times.timescale : Number.NaN,
    editShiftS: await editShift(reader, trak, movieTimescale, times.timescale),
    ...(stbl ? { stbl } : {}),
  };
}

/** Creation time, timescale and duration, which `mvhd` and `mdhd` hold alike (ISO/IEC 14496-12, 8.2.2 and 8.4.2). */
async function timeHeader(
  reader: WindowedReader,
  box: Box,
): Promise<{ creationS?: number; timescale: number; duration: number } | undefined> {
  const view = await reader.view(box.contentByte, 32);
  if (view.byteLength < 20) return undefined;
  const long = view.getUint8(0) === 1;
  if (long && view.byteLength < 32) return undefined;
  const creation = long ? Number(view.getBigUint64(4)) : view.getUint32(4);
  const timescale = view.getUint32(long ? 20 : 12);
  if (timescale === 0) return undefined;
  const duration = long ? Number(view.getBigUint64(24)) : view.getUint32(16);
  const unknown = long ? duration > Number.MAX_SAFE_INTEGER : duration === 0xffffffff;
  return {
    ...(creation > unixEpochIn1904S ? { creationS: creation - unixEpochIn1904S } : {}),
    timescale,
    duration: unknown ? 0 : duration,
  };
}

/** Shift of the start of a track by its edit list: an empty edit delays it, a first media time cuts its beginning. */
async function editShift(
  reader: WindowedReader,
  trak: Box,
  movieTimescale: number,
  mediaTimescale: number,
): Promise<number> {
  const edts = await childBox(reader, trak, 'edts');
  const elst = edts && (await childBox(reader, edts, 'elst'));
  if (!elst) return 0;
  const view = await reader.view(elst.contentByte, 8 + 20 * 8);
  if (view.byteLength < 8) return 0;
  const long = view.getUint8(0) === 1;
  const rowBytes = long ? 20 : 12;
  const rows = Math.min(view.getUint32(4), Math.floor((view.byteLength - 8) / rowBytes), 8);
  let shiftS = 0;
  for (let row = 0; row < rows; row++) {
    const at = 8 + row * rowBytes;
    const durationTicks = long ? Number(view.getBigUint64(at)) : view.getUint32(at);
    const mediaTicks = long ? Number(view.getBigInt64(at + 8)) : view.getInt32(at + 4);
    if (mediaTicks >= 0) return shiftS - mediaTicks / mediaTimescale;
    shiftS += durationTicks / movieTimescale;
  }
  return shiftS;
}
