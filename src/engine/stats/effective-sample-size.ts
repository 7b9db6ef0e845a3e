import { mean } from './sample.ts';

/**
 * Number of independent values that `count` values with lag-one correlation r are worth: `n (1 - r) / (1 + r)`.
 *
 * What for: the standard error of a mean or slope from one continuous piece of a track. Never more than `count`, never less than 1.
 * Where from: mean of a first-order autoregressive process, large n (Box and Jenkins).
 * @example effectiveSampleSize(90, 0.8) // 10
 */
export function effectiveSampleSize(count: number, lagOneCorrelation: number): number {
  const r = Math.min(0.9999, Math.max(0, lagOneCorrelation));
  return Math.max(Math.min(1, count), (count * (1 - r)) / (1 + r));
}

/**
 * Correlation of each value with the next one.
 * @returns NaN for fewer than three values or a constant column.
 */
export function lagOneCorrelation(values: readonly number[]): number {
  if (values.length < 3) return Number.NaN;
  const centre = mean(values);
  let products = 0;
  let squares = 0;
  values.forEach((value, i) => {
    squares += (value - centre) ** 2;
    if (i > 0) products += (value - centre) * (values[i - 1] - centre);
  });
  return squares > 0 ? products / squares : Number.NaN;
}
