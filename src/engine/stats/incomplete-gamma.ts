import { logGamma } from './log-gamma.ts';

const tiny = 1e-300;
const epsilon = 1e-17;

/**
 * Regularised lower incomplete gamma function `P(a, x)` and its complement `Q = 1 - P`, each computed on the side where
 * it keeps its relative accuracy.
 *
 * What for: the chi-square distribution (`a = k/2`) and the normal distribution (`a = 1/2`).
 * Where from: NIST Digital Library of Mathematical Functions 8.11.4 (series) and 8.9.2 (continued fraction, modified
 * Lentz evaluation).
 * @throws RangeError for a that is not positive or a negative x.
 * @example incompleteGamma(1, 2).lower // 1 - exp(-2) = 0.8646647167633873
 */
export function incompleteGamma(a: number, x: number): { readonly lower: number; readonly upper: number } {
  if (!(a > 0) || !(x >= 0)) throw new RangeError(`incompleteGamma needs a > 0 and x >= 0, not ${a} and ${x}.`);
  if (x === 0) return { lower: 0, upper: 1 };
  if (x === Number.POSITIVE_INFINITY) return { lower: 1, upper: 0 };
  const front = Math.exp(a * Math.log(x) - x - logGamma(a));
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let k = 1; k < 100_000; k++) {
      term *= x / (a + k);
      sum += term;
      if (term < sum * epsilon) break;
    }
    const lower = front * sum;
    return { lower, upper: 1 - lower };
  }
  let b = x + 1 - a;
  let c = 1 / tiny;
  let d = 1 / b;
  let h = d;
  for (let k = 1; k < 100_000; k++) {
    const numerator = -k * (k - a);
    b += 2;
    d = numerator * d + b;
    if (Math.abs(d) < tiny) d = tiny;
    c = b + numerator / c;
    if (Math.abs(c) < tiny) c = tiny;
    d = 1 / d;
    const step = d * c;
    h *= step;
    if (Math.abs(step - 1) < 1e-16) break;
  }
  const upper = front * h;
  return { lower: 1 - upper, upper };
}
