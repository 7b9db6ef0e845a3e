import { incompleteGamma } from './incomplete-gamma.ts';
import { solveFallingTail } from './solve-monotone.ts';

const logSqrtTwoPi = 0.9189385332046728;

/** Density of the standard normal distribution. */
export function normalDensity(z: number): number {
  return Math.exp(-0.5 * z * z - logSqrtTwoPi);
}

/**
 * Standard normal distribution function: the probability of a value below `z`. Relative accuracy is kept in the lower tail.
 *
 * Where from: `erfc` as an incomplete gamma function, NIST Digital Library of Mathematical Functions 7.11.2.
 * @example normalCdf(1.96) // 0.9750021048517795
 */
export function normalCdf(z: number): number {
  if (Number.isNaN(z)) return Number.NaN;
  const { lower, upper } = incompleteGamma(0.5, 0.5 * z * z);
  return z < 0 ? 0.5 * upper : 0.5 + 0.5 * lower;
}

/**
 * Quantile of the standard normal distribution.
 * @throws RangeError for p outside 0 to 1.
 * @example normalQuantile(0.975) // 1.959963984540054
 */
export function normalQuantile(p: number): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`A probability is between 0 and 1, not ${p}.`);
  if (p === 0.5) return 0;
  const tail = Math.min(p, 1 - p);
  if (tail === 0) return p === 0 ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
  const z = solveFallingTail(
    (x) => normalCdf(-x),
    (x) => -normalDensity(x),
    tail,
  );
  return p < 0.5 ? -z : z;
}
