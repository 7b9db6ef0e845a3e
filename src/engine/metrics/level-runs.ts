import type { LevelRun, Phase } from '../analysis.ts';
import type { Motion } from '../track/motion.ts';
import type { Track } from '../track/track.ts';
import { type AirspeedColumn, recordedAirspeed } from './airspeed.ts';
import { longRunVariance } from './long-run-variance.ts';
import { measured } from './interval.ts';
import { meanOfRows, type Rows } from './rows.ts';
import { slowFit } from './slow-fit.ts';

export interface LevelRunOptions {
  /** Shortest run, s; default 45 (flight-test practice: 30 to 60 s after stabilising). */
  readonly shortestS?: number;
}

/** Smoothing of height, speed and track that decides where the flight is steady, half width, seconds: longer than gusts and bumps. */
const smoothHalfS = 15;
const trackHalfS = 8;
/** Limits of a steady run: slope of the height (250 ft/min), turn, along-track acceleration. */
const steepestMps = 1.27;
const fastestTurnRadps = (0.8 * Math.PI) / 180;
const hardestMps2 = 0.25;
/**
 * Within these of the run's means, smoothed: 100 ft of height, 12 degrees of track, 4 m/s of ground speed. Flight-test practice asks for 2 kt; thermals
 * change the airspeed of a level run by 5 kt and more, and such runs are kept, with the wide interval they deserve.
 */
const heightM = 30.48;
const trackRad = (12 * Math.PI) / 180;
const speedMps = 4;
/** Slower than this nothing flies level for a minute, m/s. */
const slowestMps = 15;
/** A break of steadiness so short (a bump) does not end a run, seconds. */
const bumpS = 4;
/** Left off at the start of a run: the speed settles after a turn or a change of power. */
const settleS = 5;
const defaultShortestS = 45;

/**
 * Runs of steady level flight: height within 100 ft, one track within 12 degrees, steady ground speed, without a gap.
 *
 * The ground speed of a run is the displacement over the time, which errors of single fixes hardly touch; its interval is that of the steady speed
 * behind the run, from the scatter of the speed about its mean with its memory (Newey and West 1987), and a floor.
 */
export function findLevelRuns(
  motion: Motion,
  track: Track,
  phases: readonly Phase[] = [],
  options: LevelRunOptions = {},
): LevelRun[] {
  const shortestS = options.shortestS ?? defaultShortestS;
  const smooth = smoothed(motion);
  const steady = steadyRows(motion, smooth, phases);
  const airspeed = recordedAirspeed(motion, track);
  const runs: LevelRun[] = [];
  for (const stretch of motion.stretches) {
    for (const rows of joined(motion, steady, stretch)) {
      for (const part of homogeneous(smooth, rows, shortestS)) {
        const run = describe(motion, track, airspeed, part);
        if (run !== undefined) runs.push(run);
      }
    }
  }
  return runs;
}

/** Columns without gusts and bumps. */
interface Smooth {
  readonly timeS: Float64Array;
  readonly heightM: Float64Array;
  readonly climbMps: Float64Array;
  readonly speedMps: Float64Array;
  readonly accelerationMps2: Float64Array;
  /** Continuous within a stretch. */
  readonly trackRad: Float64Array;
  readonly turnRadps: Float64Array;
}

function smoothed(motion: Motion): Smooth {
  const { timeS, stretches } = motion;
  const height = slowFit(timeS, motion.altitudeM, stretches, smoothHalfS);
  const speed = slowFit(timeS, motion.groundSpeedMps, stretches, smoothHalfS);
  const track = slowFit(timeS, continuousTrack(motion), stretches, trackHalfS);
  return {
    timeS,
    heightM: height.value,
    climbMps: height.slope,
    speedMps: speed.value,
    accelerationMps2: speed.slope,
    trackRad: track.value,
    turnRadps: track.slope,
  };
}

/** Directions without the step at north. */
function continuousTrack(motion: Motion): Float64Array {
  const { trackRad, stretches } = motion;
  const continuous = trackRad.slice();
  for (const { from, to } of stretches) {
    let last = Number.NaN;
    for (let row = from; row < to; row += 1) {
      if (Number.isNaN(continuous[row])) continue;
      if (!Number.isNaN(last)) continuous[row] -= 2 * Math.PI * Math.round((continuous[row] - last) / (2 * Math.PI));
      last = continuous[row];
    }
  }
  return continuous;
}

function steadyRows(motion: Motion, smooth: Smooth, phases: readonly Phase[]): Uint8Array {
  const { timeS } = motion;
  const steady = new Uint8Array(timeS.length);
  for (let row = 0; row < timeS.length; row += 1) {
    // Without heights the runs are told by speed and track alone.
    const level = Number.isNaN(smooth.climbMps[row]) || Math.abs(smooth.climbMps[row]) < steepestMps;
    if (
      smooth.speedMps[row] > slowestMps &&
      level &&
      Math.abs(smooth.accelerationMps2[row]) < hardestMps2 &&
      Math.abs(smooth.turnRadps[row]) < fastestTurnRadps
    ) {
      steady[row] = 1;
    }
  }
  for (const { kind, startS, endS } of phases) {
    if (kind !== 'standing' && kind !== 'taxi' && kind !== 'takeoff-roll' && kind !== 'landing-roll') continue;
    for (let row = 0; row < timeS.length; row += 1) if (timeS[row] >= startS && timeS[row] < endS) steady[row] = 0;
  }
  return steady;
}

/** Runs of steady rows in a stretch, across bumps. */
function joined(motion: Motion, steady: Uint8Array, stretch: Rows): Rows[] {
  const { timeS } = motion;
  const runs: { from: number; to: number }[] = [];
  for (let row = stretch.from; row < stretch.to; row += 1) {
    if (steady[row] === 0) continue;
    const last = runs[runs.length - 1];
    if (last !== undefined && timeS[row] - timeS[last.to - 1] <= bumpS) last.to = row + 1;
    else runs.push({ from: row, to: row + 1 });
  }
  return runs;
}

/**
 * The longest parts of a run that keep within the limits about their own means: where they do not, the run is cut where height, track or speed differ
 * most between before and after.
 */
function homogeneous(smooth: Smooth, rows: Rows, shortestS: number): Rows[] {
  const { timeS } = smooth;
  let { from, to } = rows;
  const startS = timeS[from] + settleS;
  while (from < to && timeS[from] < startS) from += 1;
  if (to - from < 3 || timeS[to - 1] - timeS[from] < shortestS) return [];
  const columns = scaled(smooth, { from, to });
  const inside = columns.every((column) => column.every((value) => !(Math.abs(value) > 1)));
  if (inside && !speedTrend(columns[1])) return [{ from, to }];
  const cut = from + worstStep(columns);
  return [...homogeneous(smooth, { from, to: cut }, shortestS), ...homogeneous(smooth, { from: cut, to }, shortestS)];
}

/**
 * The speed still settles: it changes by more than 2 m/s from end to end, and a straight line explains most of it. A run through a slow gain or
 * loss of speed would show an airspeed of no setting.
 */
function speedTrend(scaledSpeed: Float64Array): boolean {
  const n = scaledSpeed.length;
  const middle = (n - 1) / 2;
  let xy = 0;
  let xx = 0;
  let yy = 0;
  scaledSpeed.forEach((value, i) => {
    xy += (i - middle) * value;
    xx += (i - middle) ** 2;
    yy += value * value;
  });
  const change = Math.abs((xy / xx) * n) * speedMps;
  return change > mostTrendMps && (xy * xy) / (xx * yy) > 0.6;
}

const mostTrendMps = 2;

/** Height, speed and track of a run about their means, in units of the limits. */
function scaled(smooth: Smooth, rows: Rows): Float64Array[] {
  const limits: readonly (readonly [Float64Array, number])[] = [
    [smooth.heightM, heightM],
    [smooth.speedMps, speedMps],
    [smooth.trackRad, trackRad],
  ];
  return limits.map(([values, limit]) => {
    const mean = meanOfRows(values, rows, 0);
    return values.slice(rows.from, rows.to).map((value) => (Number.isFinite(value) ? (value - mean) / limit : 0));
  });
}

/** Where the means before and after differ most, weighted as a two-sample test would (A. J. Scott and M. Knott 1974). */
function worstStep(columns: readonly Float64Array[]): number {
  const n = columns[0].length;
  let best = Math.floor(n / 2);
  let largest = -1;
  const totals = columns.map((column) => column.reduce((sum, value) => sum + value, 0));
  const sums = columns.map(() => 0);
  for (let i = 1; i < n; i += 1) {
    let gain = 0;
    columns.forEach((column, k) => {
      sums[k] += column[i - 1];
      const step = sums[k] / i - (totals[k] - sums[k]) / (n - i);
      gain += (step * step * i * (n - i)) / n;
    });
    if (gain > largest) {
      largest = gain;
      best = i;
    }
  }
  return best;
}

/** Floor of the standard deviation of a run's steady speed, m/s: the pilot holds it to 1 or 2 kt, slower than a run shows (own judgement). */
const steadyFloorMps = 0.25;

function describe(
  motion: Motion,
  track: Track,
  airspeed: AirspeedColumn | undefined,
  rows: Rows,
): LevelRun | undefined {
  const { timeS } = motion;
  const velocity = meanVelocity(motion, rows);
  if (velocity === undefined) return undefined;
  const groundSpeedMps = Math.hypot(velocity.eastMps, velocity.northMps);
  const scatter = meanSigma(motion.groundSpeedMps, timeS, rows);
  const rpm = meanOfRows(track.channels.engineSpeedRpm ?? [], rows, 0.5);
  const tas = airspeed === undefined ? Number.NaN : meanOfRows(airspeed.tasMps, rows, 0.5);
  const full = 2 * Math.PI;
  return {
    startS: timeS[rows.from],
    endS: timeS[rows.to - 1],
    altitudeM: meanOfRows(motion.altitudeM, rows, 0),
    trackRad: (Math.atan2(velocity.eastMps, velocity.northMps) + full) % full,
    groundSpeedMps: measured(groundSpeedMps, Math.hypot(scatter, steadyFloorMps), 'displacement over time'),
    ...(airspeed === undefined || !Number.isFinite(tas)
      ? {}
      : {
          trueAirspeedMps: measured(
            tas,
            Math.hypot(meanSigma(airspeed.tasMps, timeS, rows), steadyFloorMps, instrumentShare * tas),
            airspeed.source === 'recorded'
              ? 'recorded true airspeed'
              : 'from indicated airspeed, pressure altitude and temperature',
            airspeed.remarks,
          ),
        }),
    ...(Number.isFinite(rpm) ? { engineSpeedRpm: rpm } : {}),
    ...fuelFlow(track, timeS, rows),
  };
}

/** Sensors of airspeed: 2 % (certification allows 3 % or 5 kt, flight-test reference handbook, SFTE 2013, ch. 4). */
const instrumentShare = 0.02;

function fuelFlow(track: Track, timeS: Float64Array, rows: Rows) {
  const { fuelFlowM3ps } = track.channels;
  if (fuelFlowM3ps === undefined) return {};
  const mean = meanOfRows(fuelFlowM3ps, rows, 0.5);
  if (!(mean > 0)) return {};
  return {
    fuelFlowM3ps: measured(mean, meanSigma(fuelFlowM3ps, timeS, rows), 'mean of the recorded fuel flow', [
      'The calibration of the sensor is not in the interval: check it against fills.',
    ]),
  };
}

/** Velocity of a run: displacement between the mean positions of its first and last seconds over the time between them. */
export function meanVelocity(
  motion: Motion,
  rows: Rows,
): { readonly eastMps: number; readonly northMps: number } | undefined {
  const { timeS, eastM, northM } = motion;
  const edgeS = Math.min(6, (timeS[rows.to - 1] - timeS[rows.from]) / 4);
  const mean = (fromS: number, toS: number) => {
    let east = 0;
    let north = 0;
    let time = 0;
    let count = 0;
    for (let row = rows.from; row < rows.to; row += 1) {
      if (timeS[row] < fromS || timeS[row] > toS || !Number.isFinite(eastM[row])) continue;
      east += eastM[row];
      north += northM[row];
      time += timeS[row];
      count += 1;
    }
    return { east: east / count, north: north / count, time: time / count };
  };
  const first = mean(timeS[rows.from], timeS[rows.from] + edgeS);
  const last = mean(timeS[rows.to - 1] - edgeS, timeS[rows.to - 1]);
  const seconds = last.time - first.time;
  if (!(seconds > 0)) return undefined;
  // The plane lies at the ellipsoid: up there the same arc is longer by height over the Earth's radius.
  const height = meanOfRows(motion.altitudeM, rows, 0);
  const scale = 1 + (Number.isFinite(height) ? height : 0) / 6_371_000;
  return {
    eastMps: (scale * (last.east - first.east)) / seconds,
    northMps: (scale * (last.north - first.north)) / seconds,
  };
}

/** Standard error of a mean over rows, from means of eight seconds and their memory. */
function meanSigma(values: ArrayLike<number>, timeS: Float64Array, rows: Rows): number {
  const blocks: number[] = [];
  const blockS = 8;
  let sum = 0;
  let count = 0;
  let next = timeS[rows.from] + blockS;
  for (let row = rows.from; row < rows.to; row += 1) {
    if (timeS[row] >= next) {
      if (count > 0) blocks.push(sum / count);
      sum = 0;
      count = 0;
      next += blockS;
    }
    if (!Number.isFinite(values[row])) continue;
    sum += values[row];
    count += 1;
  }
  if (blocks.length < 3) return 0;
  const mean = blocks.reduce((total, value) => total + value, 0) / blocks.length;
  const small = blocks.length / (blocks.length - 1);
  return Math.sqrt((small * longRunVariance(blocks.map((value) => value - mean))) / blocks.length);
}
