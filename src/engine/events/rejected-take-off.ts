import type { Takeoff } from '../../../shared/analysis.ts';
import { localPlane } from '../geo/local-plane.ts';
import type { Motion } from '../track/motion.ts';
import { firstRowAt } from './along-track.ts';
import type { CoarseSeries } from './coarse-series.ts';
import type { Flight, SlowRun } from './ground-and-air.ts';
import { lagSigmaS } from './recorder-lags.ts';
import { findRollStart } from './roll-start.ts';

/**
 * A take-off broken off on the ground: from taxiing speed, a straight run that accelerates harder and gets faster than
 * taxiing, and slows down again without having left the ground.
 */
const peakMps = 7.5;
const fromMps = 4.5;
/** Mean acceleration from a third to nine tenths of the peak: taxiing stays under it (a tenth of gravity is usual in a take-off). */
const meanAccelerationMps2 = 0.75;
const straightRad = 0.35;
const longestRunS = 40;
const risesAtMostM = 12;
const nearStandS = 180;

export function rejectedTakeoffs(
  motion: Motion,
  series: CoarseSeries,
  flights: readonly Flight[],
  runs: readonly SlowRun[],
): Takeoff[] {
  const found: Takeoff[] = [];
  const grounded = groundRows(series, flights);
  let row = 0;
  while (row < series.timeS.length) {
    const peak = grounded[row] === 1 && series.speedMps[row] >= peakMps ? peakFrom(series, grounded, row) : undefined;
    if (peak === undefined) {
      row += 1;
      continue;
    }
    const takeoff = onGround(series, runs, peak) ? rejectedAt(motion, series, grounded, peak) : undefined;
    if (takeoff !== undefined) found.push(takeoff);
    row = peak + 1;
    while (row < series.timeS.length && series.speedMps[row] >= fromMps) row += 1;
  }
  return found;
}

/** 1 where the aeroplane is on the ground and not on a take-off or landing run of a flight. */
function groundRows(series: CoarseSeries, flights: readonly Flight[]): Uint8Array {
  const grounded = new Uint8Array(series.timeS.length).fill(1);
  for (const flight of flights) {
    let from = Math.max(0, flight.slowBefore);
    let to = flight.slowAfter < 0 ? series.timeS.length - 1 : flight.slowAfter;
    // The run of the flight itself goes on below a third of flying speed.
    while (from > 0 && series.speedMps[from] >= fromMps) from -= 1;
    while (to < series.timeS.length - 1 && series.speedMps[to] >= fromMps) to += 1;
    for (let row = from; row <= to; row += 1) grounded[row] = 0;
  }
  return grounded;
}

function peakFrom(series: CoarseSeries, grounded: Uint8Array, row: number): number {
  let peak = row;
  for (
    let next = row;
    next < series.timeS.length && grounded[next] === 1 && series.speedMps[next] >= fromMps;
    next += 1
  ) {
    if (series.speedMps[next] > series.speedMps[peak]) peak = next;
  }
  return peak;
}

function rejectedAt(motion: Motion, series: CoarseSeries, grounded: Uint8Array, peak: number): Takeoff | undefined {
  const { timeS, speedMps, altitudeM, stretch } = series;
  const top = speedMps[peak];
  let slow = peak;
  while (
    slow > 0 &&
    grounded[slow - 1] === 1 &&
    stretch[slow - 1] === stretch[peak] &&
    speedMps[slow] > Math.min(fromMps, 0.35 * top)
  )
    slow -= 1;
  if (speedMps[slow] > fromMps || timeS[peak] - timeS[slow] > longestRunS) return undefined;
  const first = crossingUp(series, slow, peak, top / 3);
  const last = crossingUp(series, slow, peak, 0.9 * top);
  const acceleration = (0.9 * top - top / 3) / Math.max(0.3, last - first);
  if (acceleration < meanAccelerationMps2) return undefined;
  if (!straight(motion, first, timeS[peak])) return undefined;
  const heights = altitudeM.slice(slow, peak + 1).filter((value) => Number.isFinite(value));
  if (heights.length > 1 && Math.max(...heights) - Math.min(...heights) > risesAtMostM) return undefined;
  const start = findRollStart(
    motion,
    { goingS: crossingUp(series, slow, peak, 0.6 * top), goingMps: 0.6 * top, notBeforeS: timeS[slow] - 30 },
    1,
  );
  const fix = nearestFix(motion, start?.timeS ?? timeS[slow]);
  const end = nearestFix(motion, timeS[peak]);
  const place = localPlane(motion.originLatDeg, motion.originLonDeg).toDegrees(motion.eastM[fix], motion.northM[fix]);
  const east = motion.eastM[end] - motion.eastM[fix];
  const north = motion.northM[end] - motion.northM[fix];
  return {
    outcome: 'rejected',
    rollStart: {
      timeS: start?.timeS ?? timeS[slow],
      sigmaS: Math.hypot(start?.sigmaS ?? 1.5, lagSigmaS),
      origin: 'found',
    },
    rollingStart: start?.rolling ?? false,
    startSpeedMps: start?.startSpeedMps ?? 0,
    headingRad: (Math.atan2(east, north) + 2 * Math.PI) % (2 * Math.PI),
    latDeg: place.latDeg,
    lonDeg: place.lonDeg,
    ...(heights.length > 0 ? { startAltitudeM: heights[0] } : {}),
    screens: [],
    remarks: [`Rejected: reached ${top.toFixed(1)} m/s over the ground and slowed down again.`],
  };
}

/** It stood on the ground not long before or after, at about the same height. */
function onGround(series: CoarseSeries, runs: readonly SlowRun[], peak: number): boolean {
  return runs.some((run) => {
    const apart = Math.max(series.timeS[run.from] - series.timeS[peak], series.timeS[peak] - series.timeS[run.to - 1]);
    if (apart > nearStandS) return false;
    return !(Math.abs(run.altitudeM - series.altitudeM[peak]) > 2 * risesAtMostM);
  });
}

function crossingUp(series: CoarseSeries, from: number, to: number, speed: number): number {
  for (let row = from + 1; row <= to; row += 1) {
    if (series.speedMps[row] < speed) continue;
    const change = series.speedMps[row] - series.speedMps[row - 1];
    const share = change > 0 ? Math.max(0, Math.min(1, (speed - series.speedMps[row - 1]) / change)) : 1;
    return series.timeS[row - 1] + share * (series.timeS[row] - series.timeS[row - 1]);
  }
  return series.timeS[to];
}

function straight(motion: Motion, fromS: number, toS: number): boolean {
  let east = 0;
  let north = 0;
  let count = 0;
  for (let row = firstRowAt(motion.timeS, fromS); row < motion.timeS.length && motion.timeS[row] <= toS; row += 1) {
    if (!Number.isFinite(motion.trackRad[row])) continue;
    east += Math.sin(motion.trackRad[row]);
    north += Math.cos(motion.trackRad[row]);
    count += 1;
  }
  // Mean resultant length of directions spread by one sigma s is about 1 - s^2 / 2.
  return count < 2 || Math.hypot(east, north) / count > 1 - straightRad ** 2 / 2;
}

function nearestFix(motion: Motion, timeS: number): number {
  const row = firstRowAt(motion.timeS, timeS);
  for (let away = 0; away < motion.timeS.length; away += 1) {
    for (const index of [row - away, row + away]) if (Number.isFinite(motion.eastM[index])) return index;
  }
  return 0;
}
