import { incompleteGamma } from './incomplete-gamma.ts';
import { logGamma } from './log-gamma.ts';
import { solveFallingTail } from './solve-monotone.ts';

/**
 * Chi-square distribution function with `df` degrees of freedom: `lower` is the probability of a smaller value, `upper`
 * that of a larger one, each accurate on its own side.
 *
 * What for: intervals of a variance, tests of several coefficients.
 * Where from: NIST/SEMATECH e-Handbook 1.3.6.6.6.
 * @example chiSquareCdf(3.841458820694124, 1).lower // 0.95
 */
export function chiSquareCdf(x: number, df: number): { readonly lower: number; readonly upper: number } {
  return incompleteGamma(0.5 * df, 0.5 * Math.max(0, x));
}

/**
 * Quantile of the chi-square distribution.
 * @throws RangeError for p outside 0 to 1.
 * @example chiSquareQuantile(0.95, 10) // 18.307038053275146
 */
export function chiSquareQuantile(p: number, df: number): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`A probability is between 0 and 1, not ${p}.`);
  if (p === 0) return 0;
  if (p === 1) return Number.POSITIVE_INFINITY;
  const half = 0.5 * df;
  return solveFallingTail(
    (x) => chiSquareCdf(x, df).upper,
    (x) => -0.5 * Math.exp((half - 1) * Math.log(0.5 * x) - 0.5 * x - logGamma(half)),
    1 - p,
  );
}
