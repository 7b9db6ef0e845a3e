import { BinnedForce } from '../acceleration/binned-force.ts';
import type { KlvItem } from './klv.ts';
import { textOf, walkKlv } from './klv.ts';
import { numberOf, rowsOf, utcOf } from './values.ts';

/** One payload of a GPS stream: what holds for all its samples. */
export interface GpsPayload {
  /** Place of its first sample in the stream: counted, or from the running total where that is stated and sane. */
  firstIndex: number;
  /** Samples before this payload, by counting. */
  readonly firstRow: number;
  readonly count: number;
  /** Running total of samples including this payload (`TSMP`); NaN where not stated. */
  readonly total: number;
  /** Time into the film at which the payload begins; NaN for a bare stream. */
  readonly videoS: number;
  readonly durationS: number;
  /** Time of the receiver for this payload (`GPSU`), Unix seconds; NaN where it is not stated or not a time. */
  readonly utcS: number;
}

/** Samples of one device's GPS stream, in the order of the file. */
export interface GpsStream {
  readonly deviceName: string;
  readonly key: 'GPS5' | 'GPS9';
  readonly payloads: GpsPayload[];
  readonly latDeg: number[];
  readonly lonDeg: number[];
  readonly altitudeM: number[];
  readonly groundSpeedMps: number[];
  /** 0 none, 2 or 3 dimensions; NaN where not stated. */
  readonly fix: number[];
  /** Dilution of precision; NaN where not stated. */
  readonly dop: number[];
  /** Time of the sample itself (GPS9), Unix seconds; NaN for GPS5. */
  readonly timeS: number[];
  /** What the stream says of its altitude (`GPSA`). */
  altitudeSystem: string;
}

export interface PayloadTiming {
  readonly videoS: number;
  readonly durationS: number;
}

/** 2000-01-01, from which GPS9 counts days, in Unix time. */
const gps9EpochS = 946_684_800;

/** What a stream has said so far; properties hold for what follows in the same nest. */
interface StreamState {
  scale: readonly number[];
  types: string;
  fix: number;
  dop: number;
  utcS: number;
  total: number;
  altitudeSystem: string;
}

const freshState = (): StreamState => ({
  scale: [1],
  types: '',
  fix: Number.NaN,
  dop: Number.NaN,
  utcS: Number.NaN,
  total: Number.NaN,
  altitudeSystem: '',
});

/** Gathers the GPS streams of all devices, and the accelerometer of one, over the payloads of a file. */
export class GpsStreams {
  readonly #streams = new Map<string, GpsStream>();
  #forceDevice: number | undefined;
  /** Names of the streams that were seen, with the device, for the list of contents. */
  readonly streamNames = new Set<string>();
  /** What the accelerometer of the first device felt, over film time. */
  readonly force = new BinnedForce();
  damaged = 0;
  /** Place of the first damage in the file. */
  firstDamageByte: number | undefined;
  compressed = false;

  get all(): GpsStream[] {
    return [...this.#streams.values()];
  }

  /** Takes one payload, which lies at `payloadByte` of the file; damage in it is counted, what comes before it is kept. */
  add(bytes: Uint8Array, timing: PayloadTiming, payloadByte: number): void {
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    let deviceId = 0;
    let deviceName = '';
    let state = freshState();
    walkKlv(
      view,
      (item) => {
        if (item.key === 'DEVC') {
          deviceId = 0;
          deviceName = '';
        } else if (item.key === 'STRM') state = freshState();
        else if (item.key === 'DVID') deviceId = numberOf(view, item);
        else if (item.key === 'DVNM') deviceName = textOf(view, item);
        else if (item.key === 'STNM') this.#nameStream(textOf(view, item));
        else if (item.key === 'GPS5' || item.key === 'GPS9') {
          this.#addSamples(view, item, item.key, `${deviceId}`, deviceName, state, timing);
        } else if (item.key === 'ACCL') this.#addForce(view, item, deviceId, state, timing);
        else readProperty(view, item, state);
      },
      (byte) => {
        this.damaged++;
        this.firstDamageByte ??= payloadByte + byte;
      },
    );
  }

  #nameStream(name: string): void {
    if (this.streamNames.size < 64) this.streamNames.add(name);
  }

  #addForce(view: DataView, item: KlvItem, deviceId: number, state: StreamState, timing: PayloadTiming): void {
    this.#forceDevice ??= deviceId;
    if (deviceId !== this.#forceDevice || !Number.isFinite(timing.videoS)) return;
    const rows = rowsOf(view, item, state.types, state.scale);
    if (rows?.columns !== 3) return;
    for (let row = 0; row < rows.rows; row++) {
      const videoS = timing.videoS + (row / rows.rows) * timing.durationS;
      this.force.add(videoS, rows.values[3 * row], rows.values[3 * row + 1], rows.values[3 * row + 2]);
    }
  }

  #addSamples(
    view: DataView,
    item: KlvItem,
    key: 'GPS5' | 'GPS9',
    deviceId: string,
    deviceName: string,
    state: StreamState,
    timing: PayloadTiming,
  ): void {
    if (item.type === 0x23) this.compressed = true;
    const rows = rowsOf(view, item, state.types, state.scale);
    const wanted = key === 'GPS5' ? 5 : 9;
    if (!rows || rows.columns < wanted) return;
    const id = `${deviceId}/${key}`;
    let stream = this.#streams.get(id);
    if (!stream) {
      if (this.#streams.size >= 16) return;
      stream = emptyStream(key, deviceName);
      this.#streams.set(id, stream);
    }
    if (state.altitudeSystem !== '') stream.altitudeSystem = state.altitudeSystem;
    const firstRow = stream.latDeg.length;
    stream.payloads.push({
      firstIndex: firstRow,
      firstRow,
      count: rows.rows,
      total: state.total,
      videoS: timing.videoS,
      durationS: timing.durationS,
      utcS: state.utcS,
    });
    for (let row = 0; row < rows.rows; row++) addSample(stream, rows.values, row * rows.columns, state);
  }
}

function emptyStream(key: 'GPS5' | 'GPS9', deviceName: string): GpsStream {
  return {
    deviceName,
    key,
    payloads: [],
    latDeg: [],
    lonDeg: [],
    altitudeM: [],
    groundSpeedMps: [],
    fix: [],
    dop: [],
    timeS: [],
    altitudeSystem: '',
  };
}

function addSample(stream: GpsStream, values: Float64Array, at: number, state: StreamState): void {
  stream.latDeg.push(values[at]);
  stream.lonDeg.push(values[at + 1]);
  stream.altitudeM.push(values[at + 2]);
  stream.groundSpeedMps.push(values[at + 3]);
  const own = stream.key === 'GPS9';
  stream.timeS.push(own ? gps9EpochS + values[at + 5] * 86_400 + values[at + 6] : Number.NaN);
  stream.dop.push(own ? values[at + 7] : state.dop);
  stream.fix.push(own ? values[at + 8] : state.fix);
}

function readProperty(view: DataView, item: KlvItem, state: StreamState): void {
  switch (item.key) {
    case 'SCAL':
      state.scale = [
        ...(rowsOf(view, { ...item, structBytes: item.to - item.from, structs: 1 }, '', [1])?.values ?? [1]),
      ];
      break;
    case 'TYPE':
      state.types = textOf(view, item);
      break;
    case 'GPSF':
      state.fix = numberOf(view, item);
      break;
    case 'GPSP':
      state.dop = numberOf(view, item) / 100;
      break;
    case 'GPSU':
      state.utcS = utcOf(textOf(view, item));
      break;
    case 'GPSA':
      state.altitudeSystem = textOf(view, item);
      break;
    case 'TSMP':
      state.total = numberOf(view, item);
      break;
    default:
  }
}

/** A total that jumps by more samples than this between payloads is damage: it is five minutes at 18 a second. */
const mostLostSamples = 5_400;

/**
 * Numbers the samples by the running totals of the stream (`TSMP`), so that payloads missing from the file leave their
 * room; where a total is not stated, goes back or jumps, plain counting goes on from there.
 */
export function numberSamples(payloads: readonly GpsPayload[]): void {
  let next = 0;
  let shift = Number.NaN;
  for (const payload of payloads) {
    const stated = payload.total - payload.count;
    if (Number.isNaN(shift) && !Number.isNaN(stated)) shift = next - stated;
    const index = stated + shift;
    if (index >= next && index - next <= mostLostSamples) payload.firstIndex = index;
    else {
      payload.firstIndex = next;
      shift = next - stated;
    }
    next = payload.firstIndex + payload.count;
  }
}
