import { joined, numbers } from './byte-parts.ts';
import type { FileLayout, FilmOptions, FilmSample, TelemetryTrack } from './film.ts';
import { filmBytes, filmClock, layFilm } from './film.ts';

/** One position of a camera's GPS stream. */
export interface GpmfSample {
  /** Unix time, seconds, UTC. */
  readonly timeS: number;
  readonly latDeg: number;
  readonly lonDeg: number;
  readonly altitudeM: number;
  readonly groundSpeedMps: number;
  readonly speed3dMps?: number;
  /** 3 by default. */
  readonly fix?: 0 | 2 | 3;
  /** Dilution of precision, 1.2 by default. */
  readonly dop?: number;
}

export interface GpmfOptions extends FilmOptions {
  /** GPS5 (one time a payload) by default, or GPS9 (a time for each sample). */
  readonly stream?: 'GPS5' | 'GPS9';
  /** `MSLV` for mean sea level; not stated by default. */
  readonly altitudeSystem?: string;
  readonly deviceName?: string;
  /** Added to the time that the receiver states for payload `k` (GPS5), or for each of its samples (GPS9). */
  readonly stampErrorS?: (payload: number) => number;
  /** Leaves out the running totals (TSMP). */
  readonly withoutTotals?: boolean;
  /** Payloads that get lost on the way to the file: their samples are counted but not written. */
  readonly lostPayloads?: readonly number[];
  /** Accelerometer samples (specific force, m/s2, in the order in which the stream has its axes) for payload `k`. */
  readonly acceleration?: (payload: number, startS: number) => readonly (readonly [number, number, number])[];
}

/** One GPS fix of a camera motion metadata track. */
export interface CammSample {
  /** Unix time, seconds, UTC. */
  readonly timeS: number;
  readonly latDeg: number;
  readonly lonDeg: number;
  /** Above the ellipsoid. */
  readonly altitudeM: number;
  readonly eastMps?: number;
  readonly northMps?: number;
  readonly upMps?: number;
  readonly horizontalSigmaM?: number;
  readonly verticalSigmaM?: number;
  readonly speedSigmaMps?: number;
  readonly fix?: 0 | 2 | 3;
}

export interface CammOptions extends FilmOptions {
  /** 6 (fix with velocity and time) by default, or 5 (bare position). */
  readonly packetType?: 5 | 6;
  /** What the times count from; GPS time by default, as the specification says. */
  readonly epoch?: 'gps' | 'unix' | '1904' | 'gps-without-leap-seconds';
}

/** A film with a GPMF track; see {@link GpmfOptions} and {@link FilmOptions}. */
export function writeGpmfMp4(samples: readonly GpmfSample[], options: GpmfOptions = {}): Uint8Array {
  return filmBytes(layGpmfFilm(samples, options));
}

/** A film with a camera motion metadata track. */
export function writeCammMp4(samples: readonly CammSample[], options: CammOptions = {}): Uint8Array {
  return filmBytes(layCammFilm(samples, options));
}

/** As {@link writeGpmfMp4}, in pieces, for films too large for memory. */
export function layGpmfFilm(samples: readonly GpmfSample[], options: GpmfOptions = {}): FileLayout {
  return layFilm(gpmfTelemetry(samples, options), options);
}

/** As {@link writeCammMp4}, in pieces. */
export function layCammFilm(samples: readonly CammSample[], options: CammOptions = {}): FileLayout {
  return layFilm(cammTelemetry(samples, options), options);
}

/** The bare payloads, one behind the other. */
export function writeGpmfStream(samples: readonly GpmfSample[], options: GpmfOptions = {}): Uint8Array {
  return joined(...gpmfTelemetry(samples, options).samples.map(({ bytes }) => bytes));
}

/** An item of GPMF: big-endian, padded to four bytes. */
export function klv(key: string, type: string, structBytes: number, data: Uint8Array): Uint8Array {
  const structs = structBytes === 0 ? 0 : data.length / structBytes;
  const padding = (4 - (data.length % 4)) % 4;
  return joined(key, type, [structBytes], numbers('Uint16', [structs]), data, new Uint8Array(padding));
}

function nest(key: string, ...items: readonly Uint8Array[]): Uint8Array {
  const inside = joined(...items);
  return klv(key, '\0', 4, inside);
}

const gps9EpochS = 946_684_800;

function gpmfTelemetry(samples: readonly GpmfSample[], options: GpmfOptions): TelemetryTrack {
  const startS = options.videoStartS ?? samples[0].timeS;
  const filmS = filmClock(startS, options);
  const seconds = Math.floor(filmS(samples[samples.length - 1].timeS)) + 1;
  const lost = new Set(options.lostPayloads);
  const out: FilmSample[] = [];
  let total = 0;
  let accelerations = 0;
  let from = 0;
  for (let second = 0; second < seconds; second++) {
    let to = from;
    while (to < samples.length && filmS(samples[to].timeS) < second + 1) to++;
    const inside = samples.slice(from, to);
    from = to;
    total += inside.length;
    const streams = [gpsStream(lost.has(second) ? [] : inside, inside[0], second, total, options)];
    const acceleration = options.acceleration?.(second, startS + second / (options.filmClockRate ?? 1));
    if (acceleration) {
      accelerations += acceleration.length;
      streams.unshift(accelerationStream(acceleration, accelerations));
    }
    const name = klv('DVNM', 'c', 1, joined(options.deviceName ?? 'Camera'));
    const bytes = nest('DEVC', klv('DVID', 'L', 4, numbers('Uint32', [1])), name, ...streams);
    out.push({ bytes, durationTicks: 1000 });
  }
  return { sampleEntry: 'gpmd', timescale: 1000, samples: out };
}

function accelerationStream(samples: readonly (readonly [number, number, number])[], total: number): Uint8Array {
  return nest(
    'STRM',
    klv('TSMP', 'L', 4, numbers('Uint32', [total])),
    klv('STNM', 'c', 1, joined('Accelerometer')),
    klv('SIUN', 'c', 4, joined('m/s\u00b2')),
    klv('SCAL', 's', 2, numbers('Int16', [417])),
    klv(
      'ACCL',
      's',
      6,
      numbers(
        'Int16',
        samples.flat().map((value) => Math.round(value * 417)),
      ),
    ),
  );
}

function gpsStream(
  samples: readonly GpmfSample[],
  first: GpmfSample | undefined,
  payload: number,
  total: number,
  options: GpmfOptions,
): Uint8Array {
  const own = options.stream === 'GPS9';
  const errorS = options.stampErrorS?.(payload) ?? 0;
  const items: Uint8Array[] = [];
  if (!options.withoutTotals) items.push(klv('TSMP', 'L', 4, numbers('Uint32', [total])));
  items.push(klv('STNM', 'c', 1, joined('GPS position and speed')));
  const system = options.altitudeSystem;
  if (system !== undefined) items.push(klv('GPSA', 'F', 4, joined(system)));
  if (own) {
    items.push(
      klv('TYPE', 'c', 1, joined('lllllllSS')),
      klv('SCAL', 'l', 4, numbers('Int32', [1e7, 1e7, 1000, 1000, 100, 1, 1000, 100, 1])),
      klv('GPS9', '?', 32, joined(...samples.map((sample) => gps9Row(sample, errorS)))),
    );
  } else {
    items.push(
      klv('GPSF', 'L', 4, numbers('Uint32', [first?.fix ?? 3])),
      klv('GPSU', 'U', 16, joined(gpsu((first?.timeS ?? 0) + errorS))),
      klv('GPSP', 'S', 2, numbers('Uint16', [Math.round((first?.dop ?? 1.2) * 100)])),
      klv('SCAL', 'l', 4, numbers('Int32', [1e7, 1e7, 1000, 1000, 100])),
      klv('GPS5', 'l', 20, joined(...samples.map((sample) => numbers('Int32', positionFields(sample))))),
    );
  }
  return nest('STRM', ...items);
}

function positionFields(sample: GpmfSample): number[] {
  const { latDeg, lonDeg, altitudeM, groundSpeedMps } = sample;
  const speed3dMps = sample.speed3dMps ?? groundSpeedMps;
  return [latDeg * 1e7, lonDeg * 1e7, altitudeM * 1000, groundSpeedMps * 1000, speed3dMps * 100].map(Math.round);
}

function gps9Row(sample: GpmfSample, errorS: number): Uint8Array {
  const sinceS = sample.timeS + errorS - gps9EpochS;
  const days = Math.floor(sinceS / 86_400);
  return joined(
    numbers('Int32', [...positionFields(sample), days, Math.round((sinceS - days * 86_400) * 1000)]),
    numbers('Uint16', [Math.round((sample.dop ?? 1.2) * 100), sample.fix ?? 3]),
  );
}

/** `yymmddhhmmss.sss` */
function gpsu(unixS: number): string {
  const iso = new Date(Math.round(unixS * 1000)).toISOString();
  return `${iso.slice(2, 4)}${iso.slice(5, 7)}${iso.slice(8, 10)}${iso.slice(11, 13)}${iso.slice(14, 16)}${iso.slice(17, 23)}`;
}

const gpsEpochS = 315_964_800;
const unixEpochIn1904S = 2_082_844_800;

function cammTelemetry(samples: readonly CammSample[], options: CammOptions): TelemetryTrack {
  const timescale = 90_000;
  const startS = options.videoStartS ?? samples[0].timeS;
  const filmS = filmClock(startS, options);
  const ticks = samples.map(({ timeS }) => Math.round(filmS(timeS) * timescale));
  const film: FilmSample[] = [];
  // A sample lasts until the next one; one without content carries the film from its start to the first fix.
  if (ticks[0] > 0) film.push({ bytes: cammPacket(4, numbers('Float32', [0, 0, 0], true)), durationTicks: ticks[0] });
  for (const [i, sample] of samples.entries()) {
    const durationTicks = i + 1 < ticks.length ? ticks[i + 1] - ticks[i] : timescale;
    film.push({ bytes: options.packetType === 5 ? bareCamm(sample) : fullCamm(sample, options), durationTicks });
  }
  return { sampleEntry: 'camm', timescale, samples: film };
}

function cammPacket(type: number, ...data: readonly Uint8Array[]): Uint8Array {
  return joined(numbers('Uint16', [0, type], true), ...data);
}

function bareCamm({ latDeg, lonDeg, altitudeM }: CammSample): Uint8Array {
  return cammPacket(5, numbers('Float64', [latDeg, lonDeg, altitudeM], true));
}

function fullCamm(sample: CammSample, options: CammOptions): Uint8Array {
  const stamps = {
    // 18 leap seconds since 2017-01-01: earlier dates are not written here.
    gps: sample.timeS - gpsEpochS + 18,
    unix: sample.timeS,
    '1904': sample.timeS + unixEpochIn1904S,
    'gps-without-leap-seconds': sample.timeS - gpsEpochS,
  };
  return cammPacket(
    6,
    numbers('Float64', [stamps[options.epoch ?? 'gps']], true),
    numbers('Int32', [sample.fix ?? 3], true),
    numbers('Float64', [sample.latDeg, sample.lonDeg], true),
    numbers(
      'Float32',
      [
        sample.altitudeM,
        sample.horizontalSigmaM ?? 3,
        sample.verticalSigmaM ?? 5,
        sample.eastMps ?? 0,
        sample.northMps ?? 0,
        sample.upMps ?? 0,
        sample.speedSigmaMps ?? 0.2,
      ],
      true,
    ),
  );
}
