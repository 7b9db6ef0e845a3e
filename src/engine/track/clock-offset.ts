import type { Interval } from '../../../shared/measured.ts';
import { localPlane } from '../geo/local-plane.ts';
import { median } from '../stats/sample.ts';
import { interpolated } from './interpolate-column.ts';
import type { EvenSeries } from './motion-series.ts';
import { heightSeries, speedSeries } from './motion-series.ts';
import { bestShift } from './shift-correlation.ts';
import { refinedShift } from './shift-refinement.ts';
import type { Track } from './track.ts';

export interface ClockOffset {
  /** To be added to the secondary's times, with its 95 % interval. */
  readonly offsetS: Interval;
  readonly overlapS: number;
  /** Of the compared series at that offset. */
  readonly correlation: number;
  /** What was compared. */
  readonly by: 'ground speed' | 'height';
}

/** Offsets this small are looked for first: two clocks set by satellites. */
const nearS = 120;

/** Time zones reach 14 h; with a wrong quarter of an hour on top. */
const furthestS = 15 * 3600;

/**
 * Two recorders of the same flight agree far better (0.99 and more); two flights of the same kind from the same field reach
 * 0.8 by chance. Heights of any two flights are alike, so that they must agree better.
 */
const leastCorrelation = { speed: 0.9, height: 0.98 } as const;

const nearlyAsWell = 0.02;

const coarseStepS = 1;
const wideStepS = 4;
const fineStepS = 0.25;

/** A series that moves by less than this (one sigma) shows nothing: m/s for speeds, metres for heights. */
const leastMotion = { speed: 2, height: 20 } as const;

/**
 * An offset not known better than this is not one: the minutes of one flight agree to tenths of a second, those of two
 * flights that look alike contradict each other by several.
 */
const widestS = 3;

/** Two receivers in one cabin are some tens of metres apart; this leaves room for a second of wrong offset and poor fixes. */
const furthestApartM = 500;

const noSpeeds = 'One of the recordings has neither speeds nor positions.';

const noMovement = 'The two recordings have no common time with movement in it';

type Kind = 'speed' | 'height';

/**
 * The offset between the clocks of two recordings of one flight, by their ground speeds, or by their heights where speeds
 * do not settle it: first the shift with the highest correlation, then least squares on the remaining difference, with a
 * jackknife over blocks of a minute for the interval (Efron and Tibshirani, "An Introduction to the Bootstrap", 1993,
 * ch. 11). Checked against the positions of both. A sentence that says why not, when they do not overlap, do not move
 * alike, fit in two places, or are apart.
 */
export function clockOffset(primary: Track, secondary: Track): ClockOffset | string {
  let found = offsetBy('speed', primary, secondary);
  // Heights are asked where speeds show nothing, not where they disagree.
  if (typeof found === 'string' && (found.startsWith(noMovement) || found === noSpeeds)) {
    const byHeight = offsetBy('height', primary, secondary);
    if (typeof byHeight !== 'string') found = byHeight;
    else if (found === noSpeeds)
      found = `${noSpeeds} ${byHeight} The offset of its clock must be given ("clock-offset").`;
  }
  if (typeof found === 'string') return found;
  const half = (found.offsetS.high - found.offsetS.low) / 2;
  if (half === Number.POSITIVE_INFINITY) {
    return 'Too little of the common time has movement in it to tell the offset of the clocks.';
  }
  if (half > widestS) {
    return `The parts of the two recordings do not agree on one offset of their clocks (${found.offsetS.value.toFixed(1)} s, give or take ${half.toFixed(1)} s): they are not of one flight, or one clock is uneven.`;
  }
  const apartM = medianDistanceM(primary, secondary, found.offsetS.value);
  if (apartM > furthestApartM) {
    return `At the offset that fits best the two recordings are ${(apartM / 1000).toFixed(1)} km apart: they are not of one flight.`;
  }
  return found;
}

/** Distance of the two recordings, at one clock, in the median over the times of the first; NaN without common positions. */
function medianDistanceM(primary: Track, secondary: Track, offsetS: number): number {
  const times = secondary.timeS.map((timeS) => timeS + offsetS);
  const latDeg = interpolated(times, secondary.latDeg, secondary.breaks, primary.timeS);
  const lonDeg = interpolated(times, secondary.lonDeg, secondary.breaks, primary.timeS);
  const distances: number[] = [];
  // Every tenth row tells as much as all of them.
  for (let row = 0; row < primary.timeS.length; row += 10) {
    if (Number.isNaN(primary.latDeg[row]) || Number.isNaN(latDeg[row])) continue;
    const { eastM, northM } = localPlane(primary.latDeg[row], primary.lonDeg[row]).toPlane(latDeg[row], lonDeg[row]);
    distances.push(Math.hypot(eastM, northM));
  }
  return median(distances);
}

function offsetBy(kind: Kind, primary: Track, secondary: Track): ClockOffset | string {
  const series = (track: Track, stepS: number): EvenSeries | undefined =>
    kind === 'speed' ? speedSeries(track, stepS) : heightSeries(track, stepS);
  const coarse = [series(primary, coarseStepS), series(secondary, coarseStepS)] as const;
  const nothing = kind === 'speed' ? noSpeeds : 'One of the recordings has no heights.';
  if (!coarse[0] || !coarse[1]) return nothing;
  const by = kind === 'speed' ? 'ground speed' : 'height';
  let best = bestShift(coarse[0], coarse[1], -nearS, nearS, leastMotion[kind]);
  if (!best || best.r < leastCorrelation[kind]) {
    const wide = [series(primary, wideStepS), series(secondary, wideStepS)] as const;
    const found = wide[0] && wide[1] && bestShift(wide[0], wide[1], -furthestS, furthestS, leastMotion[kind]);
    if (found) {
      const around = found.shiftS;
      best = bestShift(coarse[0], coarse[1], around - 3 * wideStepS, around + 3 * wideStepS, leastMotion[kind]) ?? best;
    }
    if (found?.rival !== undefined && found.rival > found.r - nearlyAsWell) {
      return `The ${by} of the two recordings fits at two different times: which is right cannot be told.`;
    }
  }
  if (!best) return `${noMovement} (by ${by}).`;
  if (best.r < leastCorrelation[kind]) {
    return `The two recordings do not move alike (correlation of ${by} ${best.r.toFixed(2)}, at least ${leastCorrelation[kind]} expected): they are not of one flight.`;
  }
  const fine = [series(primary, fineStepS), series(secondary, fineStepS)] as const;
  if (!fine[0] || !fine[1]) return nothing;
  return { offsetS: refinedShift(fine[0], fine[1], best.shiftS), overlapS: best.overlapS, correlation: best.r, by };
}
