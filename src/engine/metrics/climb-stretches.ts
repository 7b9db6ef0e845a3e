import type { Motion } from '../track/motion.ts';
import type { Rows } from './rows.ts';
import { slowFit } from './slow-fit.ts';

/** One sustained climb, without a level-off and without a gap, above the layer near the ground. */
export interface ClimbStretch {
  readonly startS: number;
  readonly endS: number;
  /** The stretch without a gap that it lies in. */
  readonly within: Rows;
  /** It began on the ground or so near to it that the first part was cut off. */
  readonly cutAtStart: boolean;
  /** A level-off, a gap or the end of the recording ends it. */
  readonly endedBy: 'level-off' | 'gap' | 'top';
}

/** Half width of the smoothing that decides where a climb is, seconds. */
const smoothHalfS = 12;
/** A descent of less than this does not end a climb: height errors and a bump of air. */
const reversalM = 18;
/** A climb shorter than both of these is not one: 60 s, 500 ft (flight-test practice asks for one of them). */
const shortestS = 60;
const lowestGainM = 152.4;
/**
 * The first 300 ft above the point from which the aeroplane rose are left out when that was at low speed or near the ground: ground effect, the strongest
 * change of wind and the acceleration to climbing speed lie there.
 */
const nearGroundM = 91.44;
/** A level-off: slower than this share of the climb's typical rate for at least so long. */
const levelShare = 0.3;
const levelS = 15;
/** Slower than this is no climb, m/s (60 ft/min). */
const slowestMps = 0.3;

/**
 * Finds the climbs of a motion from its height alone: rises between two reversals, cut at level-offs and gaps, trimmed of the first 300 ft above
 * the ground and of the levelling-off at the top.
 */
export function climbStretches(motion: Motion): ClimbStretch[] {
  const found: ClimbStretch[] = [];
  const heights =
    motion.altitudeKind === 'pressure' && motion.pressureAltitudeM ? motion.pressureAltitudeM : motion.altitudeM;
  const fit = slowFit(motion.timeS, heights, motion.stretches, smoothHalfS);
  for (const within of motion.stretches) {
    for (const rise of rises(fit.value, within)) {
      const startsLow = beganOnGround(motion, rise.from);
      const fromRow = startsLow ? firstAbove(fit.value, rise, fit.value[rise.from] + nearGroundM) : rise.from;
      for (const part of withoutLevelOffs(motion, fit.slope, { from: fromRow, to: rise.to })) {
        const trimmed = trim(motion.timeS, fit.slope, part.rows);
        if (trimmed === undefined) continue;
        const startS = motion.timeS[trimmed.from];
        const endS = motion.timeS[trimmed.to - 1];
        const gainM = fit.value[trimmed.to - 1] - fit.value[trimmed.from];
        if (endS - startS < shortestS && gainM < lowestGainM) continue;
        if (gainM < nearGroundM) continue;
        const atEnd = part.rows.to === rise.to;
        const gap = atEnd && rise.to === within.to;
        found.push({
          startS,
          endS,
          within,
          cutAtStart: startsLow && part.rows.from === fromRow,
          endedBy: part.levelOffAfter ? 'level-off' : gap ? 'gap' : 'top',
        });
      }
    }
  }
  return found;
}

/** Rises between a low and a high turning point, where a turning point is confirmed by a reversal of `reversalM`. */
function rises(heights: Float64Array, within: Rows): Rows[] {
  const result: Rows[] = [];
  let low = -1;
  let high = -1;
  for (let row = within.from; row < within.to; row += 1) {
    const height = heights[row];
    if (!Number.isFinite(height)) continue;
    if (low < 0 || (height < heights[low] && high < 0)) {
      low = row;
    } else if (high < 0) {
      if (height > heights[low] + reversalM) high = row;
    } else if (height > heights[high]) {
      high = row;
    } else if (height < heights[high] - reversalM) {
      result.push({ from: low, to: high + 1 });
      low = row;
      high = -1;
    }
  }
  if (high >= 0) result.push({ from: low, to: high + 1 });
  return result;
}

/** The rise began at the height where the aeroplane stood, rolled or flew slowly: within 20 s it was slower than half of its later speed. */
function beganOnGround(motion: Motion, row: number): boolean {
  const { timeS, groundSpeedMps } = motion;
  let slowest = Number.POSITIVE_INFINITY;
  let fastest = 0;
  for (let at = row; at < timeS.length && timeS[at] < timeS[row] + 60; at += 1) {
    if (Number.isFinite(groundSpeedMps[at])) fastest = Math.max(fastest, groundSpeedMps[at]);
  }
  for (let at = row; at >= 0 && timeS[at] > timeS[row] - 30; at -= 1) {
    if (Number.isFinite(groundSpeedMps[at])) slowest = Math.min(slowest, groundSpeedMps[at]);
  }
  for (let at = row; at < timeS.length && timeS[at] < timeS[row] + 20; at += 1) {
    if (Number.isFinite(groundSpeedMps[at])) slowest = Math.min(slowest, groundSpeedMps[at]);
  }
  return slowest < 0.7 * fastest;
}

function firstAbove(heights: Float64Array, rows: Rows, levelM: number): number {
  for (let row = rows.from; row < rows.to; row += 1) if (heights[row] >= levelM) return row;
  return rows.to;
}

/** Cuts out the parts where the climb was interrupted. */
function withoutLevelOffs(
  motion: Motion,
  slope: Float64Array,
  rows: Rows,
): { readonly rows: Rows; readonly levelOffAfter: boolean }[] {
  if (rows.to - rows.from < 2) return [];
  const { timeS } = motion;
  const limit = Math.max(slowestMps, levelShare * typicalRate(slope, rows));
  const parts: { rows: Rows; levelOffAfter: boolean }[] = [];
  let from = rows.from;
  let slowFrom = -1;
  for (let row = rows.from; row <= rows.to; row += 1) {
    const slow = row < rows.to && slope[row] < limit;
    if (slow) {
      if (slowFrom < 0) slowFrom = row;
      continue;
    }
    if (slowFrom >= 0) {
      const last = row - 1;
      if (timeS[last] - timeS[slowFrom] >= levelS) {
        const levelOffAfter = row < rows.to;
        if (slowFrom > from) parts.push({ rows: { from, to: slowFrom }, levelOffAfter });
        from = row;
      }
      slowFrom = -1;
    }
  }
  if (from < rows.to) parts.push({ rows: { from, to: rows.to }, levelOffAfter: false });
  return parts;
}

/** The upper quartile of the rate: of the climb itself even when half of it is a level-off. */
function typicalRate(slope: Float64Array, rows: Rows): number {
  const rates = Array.from(slope.subarray(rows.from, rows.to)).filter((rate) => rate > 0);
  rates.sort((a, b) => a - b);
  return rates.length === 0 ? 0 : rates[Math.floor(0.75 * (rates.length - 1))];
}

/**
 * Keeps clear of the corners at both ends: the climb starts and ends where the smoothed rate has reached 70 % of that typical for it (a sharp corner is
 * where it has reached half), and three seconds further inside, so that neither a late receiver (up to a second) nor the reading of a height over
 * 5 s either side sees the corner.
 */
function trim(timeS: Float64Array, slope: Float64Array, rows: Rows): Rows | undefined {
  const limit = 0.7 * medianRate(slope, rows);
  let { from, to } = rows;
  while (from < to && !(slope[from] >= limit)) from += 1;
  while (to > from && !(slope[to - 1] >= limit)) to -= 1;
  if (to - from < 2) return undefined;
  const startS = timeS[from] + clearS;
  const endS = timeS[to - 1] - clearS;
  while (from < to && timeS[from] < startS) from += 1;
  while (to > from && timeS[to - 1] > endS) to -= 1;
  return to - from >= 2 ? { from, to } : undefined;
}

/** Further in than where the rate has come to 70 %, seconds. */
const clearS = 3;

function medianRate(slope: Float64Array, rows: Rows): number {
  const rates = Array.from(slope.subarray(rows.from, rows.to)).filter((rate) => Number.isFinite(rate));
  rates.sort((a, b) => a - b);
  return rates.length === 0 ? 0 : rates[Math.floor(rates.length / 2)];
}
