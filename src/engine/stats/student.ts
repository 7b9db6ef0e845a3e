import { incompleteBeta } from './incomplete-beta.ts';
import { logBeta } from './log-gamma.ts';
import { normalCdf, normalDensity, normalQuantile } from './normal.ts';
import { solveFallingTail } from './solve-monotone.ts';

function requireDegrees(df: number): void {
  if (!(df > 0)) throw new RangeError(`Degrees of freedom must be positive, not ${df}.`);
}

/** Density of Student's t distribution with `df` degrees of freedom (any positive number, also infinity). */
export function studentDensity(t: number, df: number): number {
  requireDegrees(df);
  if (df === Number.POSITIVE_INFINITY) return normalDensity(t);
  return Math.exp(-0.5 * (df + 1) * Math.log1p((t * t) / df) - 0.5 * Math.log(df) - logBeta(0.5, 0.5 * df));
}

/**
 * Distribution function of Student's t: the probability of a value below `t`, with `df` degrees of freedom (any positive
 * number, as Welch's formula gives; infinity is the normal distribution). Relative accuracy is kept in the lower tail.
 *
 * Where from: NIST/SEMATECH e-Handbook 1.3.6.6.4, through the incomplete beta function.
 * @example studentCdf(-1.8608135, 17.776474) // 0.03969707
 */
export function studentCdf(t: number, df: number): number {
  requireDegrees(df);
  if (Number.isNaN(t)) return Number.NaN;
  if (df === Number.POSITIVE_INFINITY) return normalCdf(t);
  const square = t * t;
  const tail =
    square === Number.POSITIVE_INFINITY
      ? 0
      : 0.5 * incompleteBeta(df / (df + square), 0.5 * df, 0.5, square / (df + square));
  return t < 0 ? tail : 1 - tail;
}

/**
 * Quantile of Student's t with `df` degrees of freedom.
 * @throws RangeError for p outside 0 to 1 or df that is not positive.
 * @example studentQuantile(0.975, 10) // 2.2281388519862742
 */
export function studentQuantile(p: number, df: number): number {
  requireDegrees(df);
  if (!(p >= 0 && p <= 1)) throw new RangeError(`A probability is between 0 and 1, not ${p}.`);
  if (df === Number.POSITIVE_INFINITY) return normalQuantile(p);
  if (p === 0.5) return 0;
  const tail = Math.min(p, 1 - p);
  if (tail === 0) return p === 0 ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
  const t = solveFallingTail(
    (x) => studentCdf(-x, df),
    (x) => -studentDensity(x, df),
    tail,
  );
  return p < 0.5 ? -t : t;
}
