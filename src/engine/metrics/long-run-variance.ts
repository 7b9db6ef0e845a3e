/**
 * Variance of the sum of a stationary series over its length: Newey and West's estimate (Econometrica 55, 1987), autocovariances up to a lag of about
 * n^(1/3) + 1 weighted with a falling line. The standard error of the mean is sqrt(it / n). Never less than half of the plain variance: a short series
 * can show a negative memory by chance.
 * @param values With the mean (or trend) taken away.
 */
export function longRunVariance(values: readonly number[]): number {
  const n = values.length;
  if (n === 0) return Number.NaN;
  const covariance = (lag: number): number => {
    let sum = 0;
    for (let i = lag; i < n; i += 1) sum += values[i] * values[i - lag];
    return sum / n;
  };
  const lags = Math.min(n - 1, Math.floor(n ** (1 / 3)) + 1);
  const plain = covariance(0);
  let variance = plain;
  for (let lag = 1; lag <= lags; lag += 1) variance += 2 * (1 - lag / (lags + 1)) * covariance(lag);
  return Math.max(variance, plain / 2);
}
