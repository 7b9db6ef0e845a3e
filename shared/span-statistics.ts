import type { Interval } from './measured.ts';
import { nearestRow, type TrackColumns } from './track-columns.ts';

/** Standard gravity, m/s2 (ISO 80000-3; exact by definition). */
const gravityMps2 = 9.80665;

/** What a marked span of a flight shows. What cannot be told is absent. Intervals are 95 %. */
export interface SpanStatistics {
  readonly fromRow: number;
  readonly toRow: number;
  readonly durationS: number;
  readonly distanceM: number;
  readonly heightChangeM?: number;
  /** Slope of height on time, positive up. */
  readonly rateOfClimbMps?: Interval;
  /** Slope of energy height, h + V^2 / 2g: the rate the same power would give at a steady speed. */
  readonly energyRateMps?: Interval;
  /** Which speed the energy height was made of. */
  readonly energySpeed?: 'airspeed' | 'ground speed';
  /** Mean ground speed. */
  readonly groundSpeedMps?: Interval;
  /** Mean direction of motion. */
  readonly trackRad?: number;
  /** Mean absolute rate of turn. */
  readonly turnRateRadps?: number;
  readonly steadiness: Steadiness;
}

export interface Steadiness {
  readonly usableAs: 'level run' | 'climb' | 'descent' | 'neither';
  /** Plain sentences: what stands against it. Empty when it is steady. */
  readonly against: readonly string[];
}

/*
 * Limits of a steady stretch: wings level under 1 degree a second; speed within 3 kt in a climb and 2 kt in level flight;
 * level within 100 ft; at least 60 s or 500 ft of a climb and 30 s of a level run. Common practice of flight-test guides,
 * no single source; "within" is taken as two standard deviations after a straight line is taken out.
 */
const longestTurnRadps = Math.PI / 180;
const climbSpeedMps = (3 * 1852) / 3600;
const levelSpeedMps = (2 * 1852) / 3600;
const levelHeightM = 100 * 0.3048;
const climbSpanS = 60;
const climbHeightM = 500 * 0.3048;
const levelSpanS = 30;
/** Under this mean rate the stretch counts as level: 100 ft/min, a hand-flown level run's drift (common practice, no source). */
const levelRateMps = (100 * 0.3048) / 60;

interface Line {
  readonly slope: Interval;
  readonly residualSd: number;
  readonly samples: number;
}

/**
 * Least-squares line through the samples that are there. The width allows for neighbours being alike: with lag-one
 * correlation r the samples count as n (1 - r) / (1 + r) (the usual effective sample size of a first-order
 * autoregression).
 */
function fitLine(times: readonly number[], values: readonly number[]): Line | undefined {
  const n = times.length;
  if (n < 3) return undefined;
  const meanT = times.reduce((sum, t) => sum + t, 0) / n;
  const meanV = values.reduce((sum, v) => sum + v, 0) / n;
  let stt = 0;
  let stv = 0;
  for (let i = 0; i < n; i++) {
    stt += (times[i] - meanT) ** 2;
    stv += (times[i] - meanT) * (values[i] - meanV);
  }
  if (!(stt > 0)) return undefined;
  const slope = stv / stt;
  let squares = 0;
  let products = 0;
  let before = 0;
  for (let i = 0; i < n; i++) {
    const residual = values[i] - meanV - slope * (times[i] - meanT);
    squares += residual * residual;
    if (i > 0) products += residual * before;
    before = residual;
  }
  const residualSd = Math.sqrt(squares / (n - 2));
  const likeness = squares > 0 ? Math.min(0.99, Math.max(0, products / squares)) : 0;
  const halfWidth = 1.96 * (residualSd / Math.sqrt(stt)) * Math.sqrt((1 + likeness) / (1 - likeness));
  return { slope: { value: slope, low: slope - halfWidth, high: slope + halfWidth }, residualSd, samples: n };
}

function present(
  times: ArrayLike<number>,
  values: (row: number) => number,
  from: number,
  to: number,
): [number[], number[]] {
  const t: number[] = [];
  const v: number[] = [];
  for (let row = from; row <= to; row++) {
    const value = values(row);
    if (Number.isNaN(value)) continue;
    t.push(times[row]);
    v.push(value);
  }
  return [t, v];
}

function meanWithWidth(values: readonly number[]): Interval | undefined {
  const n = values.length;
  if (n === 0) return undefined;
  const value = values.reduce((sum, v) => sum + v, 0) / n;
  if (n < 3) return { value, low: value, high: value };
  let squares = 0;
  let products = 0;
  for (let i = 0; i < n; i++) {
    squares += (values[i] - value) ** 2;
    if (i > 0) products += (values[i] - value) * (values[i - 1] - value);
  }
  const likeness = squares > 0 ? Math.min(0.99, Math.max(0, products / squares)) : 0;
  const halfWidth = 1.96 * Math.sqrt(squares / (n - 1) / n) * Math.sqrt((1 + likeness) / (1 - likeness));
  return { value, low: value - halfWidth, high: value + halfWidth };
}

function meanDirection(angles: readonly number[]): number | undefined {
  if (angles.length === 0) return undefined;
  const east = angles.reduce((sum, a) => sum + Math.sin(a), 0);
  const north = angles.reduce((sum, a) => sum + Math.cos(a), 0);
  return (Math.atan2(east, north) + 2 * Math.PI) % (2 * Math.PI);
}

function turning(times: readonly number[], angles: readonly number[]): number | undefined {
  if (angles.length < 2) return undefined;
  let turned = 0;
  for (let i = 1; i < angles.length; i++) {
    const step = angles[i] - angles[i - 1];
    turned += Math.abs(Math.atan2(Math.sin(step), Math.cos(step)));
  }
  return turned / (times[times.length - 1] - times[0]);
}

/**
 * What the span between two times (seconds after the first row) shows. Energy height: flight-test reference handbook
 * (SFTE, 2013) ch. 12; it wants the true airspeed, and with ground speed it holds only while the wind along the track
 * stays the same.
 */
export function spanStatistics(columns: TrackColumns, fromS: number, toS: number): SpanStatistics | undefined {
  const fromRow = nearestRow(columns.timeS, Math.min(fromS, toS));
  const toRow = nearestRow(columns.timeS, Math.max(fromS, toS));
  if (fromRow < 0 || toRow <= fromRow) return undefined;
  const { timeS } = columns;
  const durationS = timeS[toRow] - timeS[fromRow];
  const [heightTimes, heights] = present(timeS, (row) => columns.heightM[row], fromRow, toRow);
  const [speedTimes, speeds] = present(timeS, (row) => columns.groundSpeedMps[row], fromRow, toRow);
  const [trackTimes, tracks] = present(timeS, (row) => columns.trackRad[row], fromRow, toRow);
  const energySpeed =
    columns.airspeedMps && columns.airspeedKind === 'true' ? columns.airspeedMps : columns.groundSpeedMps;
  const [energyTimes, energies] = present(
    timeS,
    (row) => columns.heightM[row] + energySpeed[row] ** 2 / (2 * gravityMps2),
    fromRow,
    toRow,
  );
  const climb = fitLine(heightTimes, heights);
  const speed = fitLine(speedTimes, speeds);
  const turnRateRadps = turning(trackTimes, tracks);
  const holes = columns.gapsBefore.filter((row) => row > fromRow && row <= toRow).length;
  return {
    fromRow,
    toRow,
    durationS,
    distanceM: columns.distanceM[toRow] - columns.distanceM[fromRow],
    heightChangeM: heights.length > 1 ? heights[heights.length - 1] - heights[0] : undefined,
    rateOfClimbMps: climb?.slope,
    energyRateMps: fitLine(energyTimes, energies)?.slope,
    energySpeed: energySpeed === columns.groundSpeedMps ? 'ground speed' : 'airspeed',
    groundSpeedMps: meanWithWidth(speeds),
    trackRad: meanDirection(tracks),
    turnRateRadps,
    steadiness: judge(durationS, climb, speed, turnRateRadps, holes),
  };
}

function judge(
  durationS: number,
  climb: Line | undefined,
  speed: Line | undefined,
  turnRateRadps: number | undefined,
  holes: number,
): Steadiness {
  if (climb === undefined || speed === undefined) {
    return { usableAs: 'neither', against: ['Too few samples of height or speed.'] };
  }
  const against: string[] = [];
  const rate = climb.slope.value;
  const level = Math.abs(rate) < levelRateMps;
  const gainedM = Math.abs(rate) * durationS;
  if (holes > 0) against.push('The record has a hole in it.');
  if (turnRateRadps === undefined) against.push('The direction of motion is not known.');
  else if (turnRateRadps > longestTurnRadps) against.push('Turning: more than 1 degree a second on average.');
  // A steady acceleration counts too: what the line moved over the span, and the scatter about it.
  const speedSpread = Math.max(2 * speed.residualSd, Math.abs(speed.slope.value) * durationS * 0.5);
  if (level) {
    if (durationS < levelSpanS) against.push('Shorter than 30 s.');
    if (speedSpread > levelSpeedMps) against.push('Ground speed not within 2 kt.');
    if (Math.max(2 * climb.residualSd, gainedM / 2) > levelHeightM) against.push('Height not within 100 ft.');
  } else {
    if (durationS < climbSpanS && gainedM < climbHeightM) against.push('Shorter than 60 s and less than 500 ft.');
    if (speedSpread > climbSpeedMps) against.push('Ground speed not within 3 kt.');
  }
  const kind = level ? 'level run' : rate > 0 ? 'climb' : 'descent';
  return { usableAs: against.length === 0 ? kind : 'neither', against };
}
