import type { Measured } from '../../../shared/measured.ts';
import { studentQuantile } from '../stats/student.ts';

/** One fill at the pump back to the same mark: fuel burnt since the last fill, and the time it was burnt in. */
export interface Fill {
  readonly volumeM3: number;
  readonly timeS: number;
  /** One sigma of bringing the tanks to the same mark, m3. */
  readonly sigmaM3?: number;
}

/**
 * One sigma of a fill: levelling of the aeroplane and the eye at the filler neck; 0.5 to 1 US gallon in all (common
 * practice, no source): 0.75 US gallon.
 */
export const fillSigmaM3 = 0.75 * 0.003785411784;

/**
 * Mean fuel flow from full-to-full fills: `sum of fuel / sum of time`, m3/s, with a 95 % interval.
 *
 * The scatter between fills (weather, climbs, power) is estimated from the fills themselves as for any ratio estimator:
 * `s^2 = sum (v_i - r t_i)^2 / (n - 1)`, `SE(r) = s sqrt(n) / sum t`, Student's t with n - 1 degrees of freedom, and is
 * never taken smaller than the filling error allows. Successive fills share a mark (too much in one is too little in the
 * next), so the filling error does not grow with the number of fills: only the first and the last mark count.
 * Source of the ratio estimator: W. G. Cochran, Sampling Techniques, ch. 6 (from memory).
 *
 * @returns undefined for fewer than two fills (no scatter to judge by); use a given flow then
 */
export function flowFromFills(fills: readonly Fill[]): Measured | undefined {
  const usable = fills.filter((fill) => fill.volumeM3 > 0 && fill.timeS > 0);
  if (usable.length < 2) return undefined;
  const count = usable.length;
  const time = usable.reduce((sum, fill) => sum + fill.timeS, 0);
  const ratio = usable.reduce((sum, fill) => sum + fill.volumeM3, 0) / time;
  const squares = usable.reduce((sum, fill) => sum + (fill.volumeM3 - ratio * fill.timeS) ** 2, 0);
  const scatterSigma = (Math.sqrt(squares / (count - 1)) * Math.sqrt(count)) / time;
  const marks = Math.max(...usable.map((fill) => fill.sigmaM3 ?? fillSigmaM3)) * Math.SQRT2;
  const sigma = Math.max(scatterSigma, marks / time);
  const half = studentQuantile(0.975, count - 1) * sigma;
  return {
    value: ratio,
    low: Math.max(0, ratio - half),
    high: ratio + half,
    method: `fuel over time of ${count} full-to-full fills`,
    remarks: ['Mixes taxi, climb and cruise: it is the flow of flights like these, not of cruise alone.'],
  };
}
