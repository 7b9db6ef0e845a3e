import type { Takeoff } from '../../../shared/analysis.ts';
import type { Measured } from '../../../shared/measured.ts';
import { localPlane } from '../geo/local-plane.ts';
import type { Motion } from '../track/motion.ts';
import { firstRowAt } from './along-track.ts';
import type { CoarseSeries } from './coarse-series.ts';
import type { Flight, SlowRun } from './ground-and-air.ts';
import { alongRunway, knownRunways, onOneLine } from './known-runways.ts';
import { lagSigmaS } from './recorder-lags.ts';
import { findRollStart } from './roll-start.ts';

/**
 * A take-off broken off on the ground: from taxiing speed, a straight run that accelerates harder and gets faster than
 * taxiing, and brakes at once without having left the ground. Nobody holds a speed on a take-off roll: it accelerates
 * until the throttle is closed, and then slows down. Cars do the same between two lights, so it must also be a runway:
 * one that a flight of the recording used, or at least a single line in a recording without any fast driving.
 */
const peakMps = 7.5;
const fromMps = 4.5;
/**
 * Mean acceleration from a third to nine tenths of the peak: taxiing stays under it (a take-off usually has a tenth to a fifth of gravity). A
 * heavy aeroplane at a high field, uphill on grass, reaches no more: then it must have got faster than anybody taxis.
 */
const meanAccelerationMps2 = 0.75;
const weakAccelerationMps2 = 0.5;
const fasterThanTaxiMps = 11;
/** No propeller aeroplane on wheels accelerates by more than 0.45 g: a position that jumps does. */
const mostAccelerationMps2 = 4.4;
/**
 * Time near the peak (above nine tenths of it): what is left of the acceleration, then seeing, deciding and closing the
 * throttle (2 s: common practice, no source) and the smoothing of recorder and series (2 s), then at the least coasting
 * with the throttle closed: rolling friction of 0.03 to 0.05 on hard ground (FAA and handbook values for paved runways
 * begin at 0.02) and a windmilling propeller give 0.4 m/s2 or more.
 */
const nearPeak = 0.9;
const decidingS = 4;
const coastingMps2 = 0.4;
/** It goes on slowing down at no less than this to so much of the peak: no fast taxi that follows a spurt. */
const slowedTo = 0.65;
const slowingMps2 = 0.25;
const straightRad = 0.35;
const longestRunS = 40;
/** Without any known runway: so many rejected take-offs in a recording are stop-and-go traffic (own judgement). */
const mostWithoutFlight = 3;
/** Fast driving: faster than taxiing on the ground for so long, beside the runs themselves. */
const drivingMps = 10;
const drivingS = 20;
const drivingNearS = 8;
/** One sigma of what smoothing takes off a sharp peak, m/s: half a second of lag at 1 to 2 m/s2. */
const peakBluntMps = 0.6;
const risesAtMostM = 12;
const nearStandS = 180;

export function rejectedTakeoffs(
  motion: Motion,
  series: CoarseSeries,
  flights: readonly Flight[],
  runs: readonly SlowRun[],
): Takeoff[] {
  const found: RejectedRun[] = [];
  const grounded = groundRows(series, flights);
  let row = 0;
  while (row < series.timeS.length) {
    const peak = grounded[row] === 1 && series.speedMps[row] >= peakMps ? peakFrom(series, grounded, row) : undefined;
    if (peak === undefined) {
      row += 1;
      continue;
    }
    const run = onGround(series, runs, peak) ? rejectedRun(motion, series, grounded, peak) : undefined;
    if (run !== undefined) found.push(run);
    row = peak + 1;
    while (row < series.timeS.length && series.speedMps[row] >= fromMps) row += 1;
  }
  return onRunways(series, flights, grounded, found).map((run) => rejectedAt(motion, series, run));
}

/** Rows of a run: slow before it, at its peak, and after it has slowed down. */
interface RejectedRun {
  readonly from: number;
  readonly to: number;
  readonly slowedRow: number;
}

/**
 * Those along a runway that a flight of the recording used, unless fast driving surrounds them: a road may run beside the
 * runway. Others only where nothing tells of a car: no fast driving in the recording, all of them on one line, and few.
 */
function onRunways(
  series: CoarseSeries,
  flights: readonly Flight[],
  grounded: Uint8Array,
  found: readonly RejectedRun[],
): RejectedRun[] {
  const runways = knownRunways(series, flights);
  const drivenS = (fromS: number, toS: number): number => secondsDriven(series, grounded, found, fromS, toS);
  const along = found.filter(
    ({ from, to }) =>
      alongRunway(series, { from, to }, runways) &&
      drivenS(series.timeS[from] - nearStandS, series.timeS[to] + nearStandS) < drivingNearS,
  );
  const others = found.filter((run) => !along.includes(run));
  const noCar =
    others.length <= mostWithoutFlight &&
    onOneLine(series, others) &&
    drivenS(Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY) < drivingS;
  return noCar ? [...found] : along;
}

/** How long it is faster than taxiing between two times, on the ground and not on one of the runs. */
function secondsDriven(
  series: CoarseSeries,
  grounded: Uint8Array,
  found: readonly RejectedRun[],
  fromS: number,
  toS: number,
): number {
  const { timeS, stretch, speedMps } = series;
  let fastS = 0;
  for (let row = 1; row < timeS.length; row += 1) {
    if (grounded[row] === 0 || stretch[row] !== stretch[row - 1] || timeS[row] < fromS || timeS[row] > toS) continue;
    if (found.some((run) => row >= run.from && row <= run.slowedRow)) continue;
    if (speedMps[row] > drivingMps) fastS += Math.min(5, timeS[row] - timeS[row - 1]);
  }
  return fastS;
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

function rejectedRun(
  motion: Motion,
  series: CoarseSeries,
  grounded: Uint8Array,
  peak: number,
): RejectedRun | undefined {
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
  const last = crossingUp(series, slow, peak, nearPeak * top);
  const acceleration = (nearPeak * top - top / 3) / Math.max(0.3, last - first);
  const least = top > fasterThanTaxiMps ? weakAccelerationMps2 : meanAccelerationMps2;
  if (acceleration < least || acceleration > mostAccelerationMps2) return undefined;
  const slowedRow = brakesAtOnce(series, peak, last, acceleration);
  if (slowedRow === undefined || !straight(motion, first, timeS[peak])) return undefined;
  const heights = altitudeM.slice(slow, peak + 1).filter((value) => Number.isFinite(value));
  if (heights.length > 1 && Math.max(...heights) - Math.min(...heights) > risesAtMostM) return undefined;
  return { from: slow, to: peak, slowedRow };
}

/** The row at which it has slowed down well; undefined when it holds its speed, or when the recording does not show it. */
function brakesAtOnce(series: CoarseSeries, peak: number, nearFromS: number, acceleration: number): number | undefined {
  const { timeS, speedMps, stretch } = series;
  const top = speedMps[peak];
  const down = crossingDown(series, peak, nearPeak * top);
  const slowed = crossingDown(series, peak, slowedTo * top);
  if (down === undefined || slowed === undefined) return undefined;
  const nearS = (1 - nearPeak) * top * (1 / acceleration + 1 / coastingMps2) + decidingS;
  if (down - nearFromS > nearS) return undefined;
  if (((nearPeak - slowedTo) * top) / Math.max(0.3, slowed - down) < slowingMps2) return undefined;
  let row = peak;
  while (row < timeS.length - 1 && stretch[row + 1] === stretch[peak] && speedMps[row] >= fromMps) row += 1;
  return row;
}

function rejectedAt(motion: Motion, series: CoarseSeries, run: RejectedRun): Takeoff {
  const { timeS, speedMps, altitudeM } = series;
  const { from: slow, to: peak } = run;
  const top = speedMps[peak];
  const heights = altitudeM.slice(slow, peak + 1).filter((value) => Number.isFinite(value));
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
    peakSpeedMps: peakSpeed(motion, timeS[slow], timeS[run.slowedRow]),
    screens: [],
    remarks: ['Rejected: it accelerated and slowed down again on the ground.'],
  };
}

/** The highest speed over the ground. A single reading stands out by its noise; a smoothing recorder cuts the peak off. */
function peakSpeed(motion: Motion, fromS: number, toS: number): Measured {
  let most = 0;
  for (let row = firstRowAt(motion.timeS, fromS); row < motion.timeS.length && motion.timeS[row] <= toS; row += 1) {
    if (motion.groundSpeedMps[row] > most) most = motion.groundSpeedMps[row];
  }
  const sigma = Math.hypot(Number.isFinite(motion.speedNoiseMps) ? motion.speedNoiseMps : 0.2, peakBluntMps);
  return {
    value: most,
    low: Math.max(0, most - 1.96 * sigma),
    high: most + 1.96 * sigma,
    method: 'highest speed over the ground of a rejected take-off',
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

/** When the speed has come down to so much after the peak; undefined when the recording breaks off or ends before. */
function crossingDown(series: CoarseSeries, peak: number, speed: number): number | undefined {
  const { timeS, speedMps, stretch } = series;
  for (let row = peak + 1; row < timeS.length && stretch[row] === stretch[peak]; row += 1) {
    if (speedMps[row] > speed) continue;
    const change = speedMps[row - 1] - speedMps[row];
    const share = change > 0 ? Math.max(0, Math.min(1, (speedMps[row - 1] - speed) / change)) : 1;
    return timeS[row - 1] + share * (timeS[row] - timeS[row - 1]);
  }
  return undefined;
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
