import { fCdf } from './f-distribution.ts';
import { mean } from './sample.ts';

export interface OneWayResult {
  readonly groups: number;
  readonly values: number;
  readonly meanSquareBetween: number;
  readonly meanSquareWithin: number;
  readonly f: number;
  readonly pValue: number;
  /** Variance between groups (days) and within them (runs); the first is never below zero. */
  readonly betweenVariance: number;
  readonly withinVariance: number;
  /** Share of the variance that all runs of a day have in common. */
  readonly intraclassCorrelation: number;
  /** Plain mean of the group means, and its standard error from them. */
  readonly mean: number;
  readonly standardError: number;
}

/**
 * One-way analysis of variance with random groups: how much do days differ beyond what their runs differ among themselves?
 * Unequal groups are treated with the effective size `n0 = (N - sum n_i^2 / N) / (k - 1)` (Searle, Casella and McCulloch, Variance
 * Components, ch. 3); equal ones give the classical `(MSB - MSW) / m`, which is also the REML estimate when positive.
 *
 * @throws RangeError for fewer than two groups, an empty one, or no group with two values.
 */
export function oneWayRandomEffects(groups: readonly (readonly number[])[]): OneWayResult {
  const k = groups.length;
  const total = groups.reduce((sum, group) => sum + group.length, 0);
  if (k < 2 || groups.some((group) => group.length === 0) || total <= k) {
    throw new RangeError('Random effects need two groups or more, and a group with two values or more.');
  }
  // Taken from the first value on (an exact subtraction of near numbers), so that a large common offset does not matter.
  const pivot = groups[0][0];
  const shifted = groups.map((group) => group.map((value) => value - pivot));
  const means = shifted.map(mean);
  const grand = groups.reduce((sum, group, i) => sum + group.length * means[i], 0) / total;
  const between = groups.reduce((sum, group, i) => sum + group.length * (means[i] - grand) ** 2, 0) / (k - 1);
  const within =
    shifted.reduce((sum, group, i) => sum + group.reduce((part, value) => part + (value - means[i]) ** 2, 0), 0) /
    (total - k);
  const effectiveSize = (total - groups.reduce((sum, group) => sum + group.length ** 2, 0) / total) / (k - 1);
  const betweenVariance = Math.max(0, (between - within) / effectiveSize);
  const centre = mean(means);
  return {
    groups: k,
    values: total,
    meanSquareBetween: between,
    meanSquareWithin: within,
    f: between / within,
    pValue: fCdf(between / within, k - 1, total - k).upper,
    betweenVariance,
    withinVariance: within,
    intraclassCorrelation: betweenVariance / (betweenVariance + within),
    mean: pivot + centre,
    standardError: Math.sqrt(means.reduce((sum, value) => sum + (value - centre) ** 2, 0) / (k - 1) / k),
  };
}
