import { incompleteBeta } from './incomplete-beta.ts';
import { logBeta } from './log-gamma.ts';
import { solveFallingTail } from './solve-monotone.ts';

/**
 * F distribution with `df1` and `df2` degrees of freedom: `lower` is the probability of a smaller value, `upper` that of
 * a larger one, each accurate on its own side.
 *
 * What for: analysis of variance (do days differ by more than their runs?).
 * Where from: NIST/SEMATECH e-Handbook 1.3.6.6.5.
 * @example fCdf(4.965, 1, 10).upper // 0.05
 */
export function fCdf(x: number, df1: number, df2: number): { readonly lower: number; readonly upper: number } {
  if (!(df1 > 0 && df2 > 0)) throw new RangeError(`Degrees of freedom must be positive, not ${df1} and ${df2}.`);
  if (!(x > 0)) return { lower: 0, upper: 1 };
  const within = (df1 * x) / (df1 * x + df2);
  const beyond = df2 / (df1 * x + df2);
  return {
    lower: incompleteBeta(within, 0.5 * df1, 0.5 * df2, beyond),
    upper: incompleteBeta(beyond, 0.5 * df2, 0.5 * df1, within),
  };
}

/**
 * Quantile of the F distribution.
 * @throws RangeError for p outside 0 to 1.
 * @example fQuantile(0.95, 1, 10) // 4.9646027437307144
 */
export function fQuantile(p: number, df1: number, df2: number): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`A probability is between 0 and 1, not ${p}.`);
  if (p === 0) return 0;
  if (p === 1) return Number.POSITIVE_INFINITY;
  const logConstant = 0.5 * df1 * Math.log(df1 / df2) - logBeta(0.5 * df1, 0.5 * df2);
  return solveFallingTail(
    (x) => fCdf(x, df1, df2).upper,
    (x) => -Math.exp(logConstant + (0.5 * df1 - 1) * Math.log(x) - 0.5 * (df1 + df2) * Math.log1p((df1 * x) / df2)),
    1 - p,
  );
}
