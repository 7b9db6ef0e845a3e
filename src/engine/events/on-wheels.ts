import type { CoarseSeries } from './coarse-series.ts';
import type { Flight } from './ground-and-air.ts';

/**
 * Was it flown, or driven over hills? A recorder that is carried on in a car, or a journey by train, gains height at speed
 * too. What a road or railway cannot do, and what every flight from ground to ground does at least once:
 * - a path steeper than any road that is driven fast: 13 % (main roads are built with up to 8 %, mountain roads with up to
 *   12 %; common practice, no source) over fifteen seconds and 200 m;
 * - climbing or sinking faster than a car on one: 2.8 m/s (550 ft/min) for twenty seconds is 8 % at 126 km/h, or 11 % at 90;
 * - a turn through 75 degrees or more that is nowhere slower than 18 m/s: an aeroplane turns by banking and keeps its
 *   speed, a road bend of that angle is taken more slowly;
 * - 55 m/s with such changes of height: faster than cars are driven, on slopes that no fast railway has.
 * A drive has none of these, or many more tight bends taken slowly than turns taken fast: at less than 9 m/s a radius
 * below 40 m means a bank of 11 degrees or more, at a speed at which an aeroplane does not fly save upwind in a gale.
 */
const steepest = 0.13;
const steepS = 15;
const steepOverM = 200;
const fastVerticalMps = 2.8;
const fastVerticalS = 20;
const turnRad = 1.3;
const turnFastMps = 18;
const turnWithinS = 90;
const bendRad = 1;
const bendSlowMps = 9;
const bendWithinS = 25;
const bendRadiusM = 40;
const veryFastMps = 55;
const veryFastS = 10;
/** So many slow bends are a road. */
const bendsOfRoad = 3;
/** A recording that begins or ends in the air may be too short to hold a turn: then only a longer time counts. */
const tellingS = 60;

export function drivenOnGround(series: CoarseSeries, flight: Flight): boolean {
  const { firstAirborne: from, lastAirborne: to } = flight;
  const whole = flight.before !== undefined && flight.after !== undefined;
  if (!whole && series.timeS[to] - series.timeS[from] < tellingS) return false;
  const { turns, bends } = turnsAndBends(series, from, to);
  if (bends >= bendsOfRoad && bends > 2 * turns) return true;
  return (
    turns === 0 &&
    !lasts(series, from, to, veryFastS, (row) => series.speedMps[row] > veryFastMps) &&
    !risesLikeAnAeroplane(series, from, to)
  );
}

/** Steeper than a road, or faster up or down than a car on one; heights are means of three rows, for their noise. */
function risesLikeAnAeroplane(series: CoarseSeries, from: number, to: number): boolean {
  const { timeS, stretch } = series;
  for (const seconds of [steepS, fastVerticalS]) {
    let last = from;
    for (let row = from; row <= to; row += 1) {
      while (last < to && timeS[last] - timeS[row] < seconds) last += 1;
      const lasted = timeS[last] - timeS[row];
      if (lasted < seconds || lasted > seconds + 5 || stretch[last] !== stretch[row]) continue;
      const rise = Math.abs(meanHeight(series, last, from, to) - meanHeight(series, row, from, to));
      if (seconds === fastVerticalS && rise > fastVerticalMps * lasted) return true;
      const along = distance(series, row, last);
      if (seconds === steepS && along > steepOverM && rise > steepest * along) return true;
    }
  }
  return false;
}

function meanHeight(series: CoarseSeries, row: number, from: number, to: number): number {
  let sum = 0;
  let count = 0;
  for (let near = Math.max(from, row - 1); near <= Math.min(to, row + 1); near += 1) {
    if (!Number.isFinite(series.altitudeM[near])) continue;
    sum += series.altitudeM[near];
    count += 1;
  }
  return count === 0 ? Number.NaN : sum / count;
}

function distance(series: CoarseSeries, from: number, to: number): number {
  let sum = 0;
  for (let row = from + 1; row <= to; row += 1) {
    sum += Math.hypot(series.eastM[row] - series.eastM[row - 1], series.northM[row] - series.northM[row - 1]);
  }
  return sum;
}

function lasts(
  series: CoarseSeries,
  from: number,
  to: number,
  seconds: number,
  holds: (row: number) => boolean,
): boolean {
  let since = Number.NaN;
  for (let row = from; row <= to; row += 1) {
    if (!holds(row)) since = Number.NaN;
    else if (Number.isNaN(since)) since = series.timeS[row];
    if (series.timeS[row] - since >= seconds) return true;
  }
  return false;
}

/** How often it turns fast like an aeroplane, and how often it goes slowly round a tight bend like a car. */
function turnsAndBends(series: CoarseSeries, from: number, to: number): { turns: number; bends: number } {
  const { timeS, speedMps, turnRateRadps } = series;
  let turns = 0;
  let bends = 0;
  let turned = 0;
  let start = from;
  let slowest = Number.POSITIVE_INFINITY;
  let counted = false;
  let bent = 0;
  let bendStart = from;
  let bendCounted = false;
  for (let row = from + 1; row <= to; row += 1) {
    const step = timeS[row] - timeS[row - 1];
    const rate = series.stretch[row] === series.stretch[row - 1] ? turnRateRadps[row] || 0 : 0;
    const change = step > 5 ? 0 : rate * step;
    const other = Math.sign(change) !== Math.sign(turned) && Math.abs(rate) > 0.01;
    if (other || timeS[row] - timeS[start] > turnWithinS || Math.abs(rate) < 0.005) {
      turned = 0;
      start = row;
      slowest = Number.POSITIVE_INFINITY;
      counted = false;
    }
    turned += change;
    slowest = Math.min(slowest, speedMps[row]);
    if (!counted && Math.abs(turned) > turnRad && slowest >= turnFastMps) {
      turns += 1;
      counted = true;
    }
    const tight = speedMps[row] < bendSlowMps && Math.abs(rate) * bendRadiusM > speedMps[row] && speedMps[row] > 2;
    if (!tight || timeS[row] - timeS[bendStart] > bendWithinS) {
      bent = 0;
      bendStart = row;
      bendCounted = false;
    }
    if (tight) bent += change;
    if (!bendCounted && Math.abs(bent) > bendRad) {
      bends += 1;
      bendCounted = true;
    }
  }
  return { turns, bends };
}
