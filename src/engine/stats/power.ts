import { noncentralTCdf } from './noncentral-t.ts';
import { normalCdf } from './normal.ts';
import { studentQuantile } from './student.ts';

/**
 * Power of a two-sided t test: the chance to find a difference of `ratio` standard errors.
 *
 * Where from: noncentral t; both tails are counted (R's `power.t.test(strict = TRUE)`).
 * @param ratio True difference over the standard error of its estimate.
 * @example powerOfT(Math.sqrt(10), 38) // 0.869: 20 + 20 values, one standard deviation apart
 */
export function powerOfT(ratio: number, df: number, alpha = 0.05): number {
  const delta = Math.abs(ratio);
  if (delta > 37) return 1;
  const critical = studentQuantile(1 - alpha / 2, df);
  if (df > 1e5) return normalCdf(delta - critical) + normalCdf(-delta - critical);
  return 1 - noncentralTCdf(critical, df, delta) + noncentralTCdf(-critical, df, delta);
}

/**
 * The difference, in standard errors, that a two-sided t test finds with the given power.
 * @example detectableRatio(8, 0.8) // 5 + 5 values: 3.2, i.e. 2.024 standard deviations
 */
export function detectableRatio(df: number, power = 0.8, alpha = 0.05): number {
  let low = 0;
  let high = 1;
  while (powerOfT(high, df, alpha) < power) {
    low = high;
    high *= 2;
    if (high > 36) return high;
  }
  for (let step = 0; step < 100 && high - low > 1e-13 * high; step++) {
    const middle = (low + high) / 2;
    if (powerOfT(middle, df, alpha) < power) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
