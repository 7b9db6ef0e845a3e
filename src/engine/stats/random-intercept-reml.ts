import { at, type Triangle, triangle } from './cholesky.ts';
import { generalisedLeastSquares, type GlsFit } from './generalised-least-squares.ts';
import { studentCdf, studentQuantile } from './student.ts';

export interface RandomInterceptFit {
  readonly coefficients: readonly {
    readonly value: number;
    readonly standardError: number;
    /** Satterthwaite's approximation. */
    readonly df: number;
    readonly pValue: number;
    readonly low: number;
    readonly high: number;
  }[];
  readonly groupVariance: number;
  readonly residualVariance: number;
  readonly residualLogLikelihood: number;
}

/**
 * Linear model with a random intercept for each group (day), by restricted maximum likelihood; groups may be of any size.
 *
 * What for: several runs a day that share the day's wind, air and form.
 * Where from: Patterson and Thompson (1971); degrees of freedom after Satterthwaite as in Fai and Cornelius (1996), with the observed
 * information of the two variances. With the group variance at zero (its border) the runs count as independent: see
 * `integrated-random-intercept.ts`, which does not fall into that trap.
 * @param group Group of each value, any labels.
 * @throws RangeError when lengths differ or the coefficients cannot be determined.
 */
export function randomInterceptReml(
  y: readonly number[],
  columns: readonly (readonly number[])[],
  group: readonly (string | number)[],
  confidence = 0.95,
): RandomInterceptFit {
  const n = y.length;
  if (group.length !== n || columns.some((column) => column.length !== n)) {
    throw new RangeError('All columns of a model need the same length.');
  }
  const p = columns.length;
  const fitAt = (groupVariance: number, residualVariance: number): GlsFit => {
    const fit = generalisedLeastSquares(y, columns, covarianceOf(group, groupVariance, residualVariance), false);
    if (fit === undefined)
      throw new RangeError('The coefficients of the model cannot be determined from these values.');
    return fit;
  };
  // Profile over the ratio: for a given ratio the residual variance is weighted squares / (n - p).
  const profile = (ratio: number): number => {
    const fit = fitAt(ratio, 1);
    const logLikelihoodOfV = fit.residualLogLikelihood + 0.5 * fit.weightedSquares;
    return logLikelihoodOfV - 0.5 * (n - p) * Math.log(fit.weightedSquares / (n - p));
  };
  const ratio = maximiseOverRatio(profile);
  const residualVariance = fitAt(ratio, 1).weightedSquares / (n - p);
  const groupVariance = ratio * residualVariance;
  const fit = fitAt(groupVariance, residualVariance);

  const contrastDf = satterthwaite(fitAt, groupVariance, residualVariance, p, n);
  return {
    coefficients: Array.from(fit.coefficients, (value, j) => {
      const standardError = Math.sqrt(fit.covariance[j][j]);
      const df = contrastDf[j];
      const half = studentQuantile(0.5 + confidence / 2, df) * standardError;
      return {
        value,
        standardError,
        df,
        pValue: 2 * studentCdf(-Math.abs(value / standardError), df),
        low: value - half,
        high: value + half,
      };
    }),
    groupVariance,
    residualVariance,
    residualLogLikelihood: fit.residualLogLikelihood,
  };
}

function covarianceOf(group: readonly (string | number)[], between: number, within: number): Triangle {
  const v = triangle(group.length);
  group.forEach((label, i) => {
    for (let j = 0; j < i; j++) if (group[j] === label) v[at(i, j)] = between;
    v[at(i, i)] = between + within;
  });
  return v;
}

/** Largest value over ratios of 0 and 1e-6 to 1e6: a coarse scan, then golden section on the logarithm. */
function maximiseOverRatio(profile: (ratio: number) => number): number {
  let best = 0;
  let bestValue = profile(0);
  let bestLog = Number.NaN;
  for (let log = -6; log <= 6; log += 0.5) {
    const value = profile(10 ** log);
    if (value > bestValue) [best, bestValue, bestLog] = [10 ** log, value, log];
  }
  if (Number.isNaN(bestLog)) return best;
  let low = bestLog - 0.5;
  let high = bestLog + 0.5;
  const golden = (Math.sqrt(5) - 1) / 2;
  for (let step = 0; step < 60; step++) {
    const a = high - golden * (high - low);
    const b = low + golden * (high - low);
    if (profile(10 ** a) > profile(10 ** b)) high = b;
    else low = a;
  }
  return 10 ** ((low + high) / 2);
}

/** df_j = 2 v^2 / (g' A g): v the variance of coefficient j, g its gradient, A the inverse observed information of the variances. */
function satterthwaite(
  fitAt: (between: number, within: number) => GlsFit,
  between: number,
  within: number,
  p: number,
  n: number,
): number[] {
  const stepOf = (value: number): number => 1e-3 * Math.max(value, 1e-3 * within);
  if (between < 1e-6 * within) return Array.from({ length: p }, () => n - p);
  const h = [stepOf(between), stepOf(within)];
  const shifted = (i: number, j: number): GlsFit => fitAt(between + i * h[0], within + j * h[1]);
  const centre = shifted(0, 0);
  const logL = (i: number, j: number): number => shifted(i, j).residualLogLikelihood;
  const bb = -(logL(1, 0) - 2 * logL(0, 0) + logL(-1, 0)) / h[0] ** 2;
  const ww = -(logL(0, 1) - 2 * logL(0, 0) + logL(0, -1)) / h[1] ** 2;
  const bw = -(logL(1, 1) - logL(1, -1) - logL(-1, 1) + logL(-1, -1)) / (4 * h[0] * h[1]);
  const determinant = bb * ww - bw * bw;
  return Array.from({ length: p }, (_, j) => {
    const variance = (fit: GlsFit): number => fit.covariance[j][j];
    const gb = (variance(shifted(1, 0)) - variance(shifted(-1, 0))) / (2 * h[0]);
    const gw = (variance(shifted(0, 1)) - variance(shifted(0, -1))) / (2 * h[1]);
    const spread = (gb * gb * ww - 2 * gb * gw * bw + gw * gw * bb) / determinant;
    const df = (2 * variance(centre) ** 2) / spread;
    return df > 0 && Number.isFinite(df) ? Math.min(df, n - p) : n - p;
  });
}
