import { median as middleOf } from 'simple-statistics';

/**
 * Arithmetic mean, two passes: the second adds what rounding lost in the first, so that a large common offset does not matter
 * (NIST StRD SmLs09 needs it).
 * @returns NaN for an empty sample.
 * @example mean([1, 2, 6]) // 3
 */
export function mean(values: readonly number[]): number {
  if (values.length === 0) return Number.NaN;
  let sum = 0;
  for (const value of values) sum += value;
  const first = sum / values.length;
  let rest = 0;
  for (const value of values) rest += value - first;
  return first + rest / values.length;
}

/** Sum of squared differences from the mean, corrected for the rounding of the mean (Chan, Golub and LeVeque, 1983). */
export function sumOfSquares(values: readonly number[], centre = mean(values)): number {
  let squares = 0;
  let rest = 0;
  for (const value of values) {
    squares += (value - centre) ** 2;
    rest += value - centre;
  }
  return squares - (rest * rest) / Math.max(1, values.length);
}

/**
 * Variance of a sample with n - 1 in the denominator; NaN for fewer than two values.
 * @example sampleVariance([1, 2, 6]) // 7
 */
export function sampleVariance(values: readonly number[]): number {
  return values.length < 2 ? Number.NaN : sumOfSquares(values) / (values.length - 1);
}

/** Standard deviation of a sample, n - 1 in the denominator; NaN for fewer than two values. */
export function sampleDeviation(values: readonly number[]): number {
  return Math.sqrt(sampleVariance(values));
}

/**
 * Middle value; mean of the two middle ones of an even number. NaN for an empty sample.
 * @example median([3, 1, 2, 10]) // 2.5
 */
export function median(values: readonly number[] | Float64Array): number {
  return values.length === 0 ? Number.NaN : middleOf(values as number[]);
}

/** Makes the median absolute deviation of a normal sample estimate its standard deviation: 1 / Phi^-1(0.75). */
export const madToSigma = 1.4826022185056018;

/**
 * Robust standard deviation: median distance from the median, scaled to the normal distribution.
 * @example robustDeviation([1, 2, 3, 4, 100]) // 1.4826
 */
export function robustDeviation(values: readonly number[]): number {
  const centre = median(values);
  return madToSigma * median(values.map((value) => Math.abs(value - centre)));
}
