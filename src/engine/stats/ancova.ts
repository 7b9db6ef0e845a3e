import {
  type Coefficient,
  type Column,
  linearRegression,
  type NotDetermined,
  type RegressionFit,
} from './linear-regression.ts';

/** Runs that one further covariate needs (rule of thumb: 5 to 10 values a coefficient). */
export const runsPerCovariate = 8;

export interface AncovaResult {
  readonly determined: true;
  /** Second group less first, at equal covariates. */
  readonly effect: Coefficient;
  readonly slopes: readonly Coefficient[];
  readonly fit: RegressionFit;
  /** Ranges that do not overlap, too few runs: plain sentences. */
  readonly warnings: readonly string[];
}

/**
 * Difference of two groups at equal covariates (analysis of covariance with parallel slopes).
 *
 * What for: a residual influence that physics did not take out. The covariate must not be caused by the modification, its ranges must
 * overlap, and it costs about eight runs.
 * Where from: least squares with a 0/1 column; see any text on linear models.
 * @param second True for the values of the second group.
 */
export function ancova(
  y: readonly number[],
  second: readonly boolean[],
  covariates: readonly Column[],
  confidence = 0.95,
): AncovaResult | NotDetermined {
  const group: Column = { name: 'group', values: second.map((value) => (value ? 1 : 0)) };
  const fit = linearRegression(y, [group, ...covariates], { confidence });
  if (!fit.determined) return fit;
  const warnings: string[] = [];
  if (covariates.length > 0 && y.length < runsPerCovariate * (covariates.length + 1)) {
    warnings.push(
      `${y.length} runs are few for ${covariates.length} covariates: about ${runsPerCovariate} each are needed.`,
    );
  }
  for (const { name, values } of covariates) {
    const range = (of: boolean): readonly [number, number] => {
      const own = values.filter((_, i) => second[i] === of);
      return [Math.min(...own), Math.max(...own)];
    };
    const [lowA, highA] = range(false);
    const [lowB, highB] = range(true);
    if (highA < lowB || highB < lowA) {
      warnings.push(`The groups do not overlap in ${name}: the difference rests on the straight line alone.`);
    }
  }
  return { determined: true, effect: fit.coefficients[1], slopes: fit.coefficients.slice(2), fit, warnings };
}
