import type { Interval } from '../../../shared/measured.ts';
import { mean, sumOfSquares } from './sample.ts';
import { studentQuantile } from './student.ts';
import { welchT } from './two-sample.ts';

export interface FiellerInterval extends Interval {
  /** Below 1 the interval exists; near 1 it is very unsymmetrical. */
  readonly g: number;
  readonly df: number;
}

/**
 * Ratio of two means on the logarithmic scale: exp of the Welch difference of logarithms (a ratio of geometric means).
 *
 * What for: the change in per cent of a positive quantity whose errors grow with it (distances, times, rates).
 * @throws RangeError for a value that is not positive or a group of fewer than two.
 * @example logRatio([2, 2.2], [4, 4.4]).value // 0.5
 */
export function logRatio(x: readonly number[], y: readonly number[], confidence = 0.95): Interval {
  if ([...x, ...y].some((value) => !(value > 0))) throw new RangeError('Logarithms need positive values.');
  const { interval } = welchT(x.map(Math.log), y.map(Math.log), confidence);
  return { value: Math.exp(interval.value), low: Math.exp(interval.low), high: Math.exp(interval.high) };
}

/**
 * Ratio of two means on the plain scale with Fieller's interval (independent groups, pooled variance).
 *
 * What for: a quantity that may come near zero, where logarithms fail.
 * Where from: E. C. Fieller (1954): `g = t^2 s^2 / (n_y ybar^2)`.
 * @returns undefined when the mean of y is not clearly different from zero (g >= 1): then no finite interval exists.
 * @throws RangeError for a group of fewer than two.
 */
export function fiellerRatio(
  x: readonly number[],
  y: readonly number[],
  confidence = 0.95,
): FiellerInterval | undefined {
  if (x.length < 2 || y.length < 2) throw new RangeError('A ratio of means needs at least two values in each group.');
  const df = x.length + y.length - 2;
  const variance = (sumOfSquares(x) + sumOfSquares(y)) / df;
  return fiellerFromMoments(mean(x), variance / x.length, mean(y), variance / y.length, 0, df, confidence);
}

/**
 * Fieller's interval of `x / y` from the two estimates, their variances and covariance, with t of `df` degrees of freedom.
 * @returns undefined when y is not clearly different from zero.
 */
export function fiellerFromMoments(
  x: number,
  varianceX: number,
  y: number,
  varianceY: number,
  covariance: number,
  df: number,
  confidence = 0.95,
): FiellerInterval | undefined {
  const t2 = studentQuantile(0.5 + confidence / 2, df) ** 2;
  const g = (t2 * varianceY) / (y * y);
  if (!(g < 1)) return undefined;
  const value = x / y;
  // Roots of (x - r y)^2 = t^2 (varianceX - 2 r covariance + r^2 varianceY).
  const a = y * y - t2 * varianceY;
  const b = x * y - t2 * covariance;
  const c = x * x - t2 * varianceX;
  const root = Math.sqrt(Math.max(0, b * b - a * c));
  return { value, low: (b - root) / a, high: (b + root) / a, g, df };
}
