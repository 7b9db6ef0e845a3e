import { normalCdf } from './normal.ts';

/** A weighted sum of normal distributions; weights add to 1. */
export interface NormalMixture {
  readonly weights: Float64Array;
  readonly means: Float64Array;
  readonly deviations: Float64Array;
}

/** Probability below x of a mixture of normal distributions. */
export function mixtureCdf(mixture: NormalMixture, x: number): number {
  let sum = 0;
  mixture.weights.forEach((weight, k) => {
    const deviation = mixture.deviations[k];
    if (deviation > 0) sum += weight * normalCdf((x - mixture.means[k]) / deviation);
    else if (x >= mixture.means[k]) sum += weight;
  });
  return sum;
}

/** Mean of a mixture. */
export function mixtureMean(mixture: NormalMixture): number {
  let sum = 0;
  mixture.weights.forEach((weight, k) => {
    sum += weight * mixture.means[k];
  });
  return sum;
}

/**
 * Quantile of a mixture of normal distributions, by bisection and secant steps; relative to its spread good to 1e-9.
 * @throws RangeError for p not inside 0 to 1.
 */
export function mixtureQuantile(mixture: NormalMixture, p: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`A quantile needs a probability between 0 and 1, not ${p}.`);
  const centre = mixtureMean(mixture);
  let spread = 0;
  mixture.weights.forEach((weight, k) => {
    spread += weight * (mixture.deviations[k] + Math.abs(mixture.means[k] - centre));
  });
  if (spread === 0) return centre;
  return solveRising((x) => mixtureCdf(mixture, x) - p, centre, spread);
}

/** Zero of a rising function near `start`, at the scale of `step`. */
export function solveRising(f: (x: number) => number, start: number, step: number): number {
  let low = start - step;
  let high = start + step;
  let atLow = f(low);
  let atHigh = f(high);
  for (let width = step; atLow > 0 && width < 1e12 * step; width *= 2) {
    high = low;
    atHigh = atLow;
    low -= width;
    atLow = f(low);
  }
  for (let width = step; atHigh < 0 && width < 1e12 * step; width *= 2) {
    low = high;
    atLow = atHigh;
    high += width;
    atHigh = f(high);
  }
  // Illinois variant of false position: keeps the bracket and converges fast.
  let side = 0;
  for (let k = 0; k < 200 && high - low > 1e-10 * step; k++) {
    const middle = atHigh > atLow ? (low * atHigh - high * atLow) / (atHigh - atLow) : (low + high) / 2;
    const x = middle > low && middle < high ? middle : (low + high) / 2;
    const value = f(x);
    if (value === 0) return x;
    if (value < 0) {
      low = x;
      atLow = value;
      if (side === -1) atHigh /= 2;
      side = -1;
    } else {
      high = x;
      atHigh = value;
      if (side === 1) atLow /= 2;
      side = 1;
    }
  }
  return (low + high) / 2;
}
