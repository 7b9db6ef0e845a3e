import { logBeta } from './log-gamma.ts';

const tiny = 1e-300;

/**
 * Regularised incomplete beta function `I_x(a, b)`. `complement` may give `1 - x` where it is known more exactly than the
 * subtraction would give it (tails).
 *
 * What for: the t and F distributions.
 * Where from: continued fraction of NIST Digital Library of Mathematical Functions 8.17.22, modified Lentz evaluation.
 * @throws RangeError for a or b that is not positive or x outside 0 to 1.
 * @example incompleteBeta(0.5, 2, 3) // 0.6875
 */
export function incompleteBeta(x: number, a: number, b: number, complement = 1 - x): number {
  if (!(a > 0 && b > 0) || !(x >= 0 && x <= 1)) {
    throw new RangeError(`incompleteBeta needs 0 <= x <= 1 and positive a, b, not ${x}, ${a}, ${b}.`);
  }
  if (x === 0) return 0;
  if (complement === 0) return 1;
  const logX = complement < 0.5 ? Math.log1p(-complement) : Math.log(x);
  const logComplement = x < 0.5 ? Math.log1p(-x) : Math.log(complement);
  const front = Math.exp(a * logX + b * logComplement - logBeta(a, b));
  // The fraction in x converges fast below this place. Close to x = 1 with a large `a` (many degrees of freedom) it
  // loses digits by cancellation while the fraction in 1 - x still converges, so the border lies lower there.
  const nearOne = complement < 1e-3 && complement * (a + b + 2) < 4 * (b + 1);
  return x < (a + 1) / (a + b + 2) && !nearOne
    ? (front * betaFraction(x, a, b)) / a
    : 1 - (front * betaFraction(complement, b, a)) / b;
}

function betaFraction(x: number, a: number, b: number): number {
  let c = 1;
  let d = 1 - ((a + b) * x) / (a + 1);
  if (Math.abs(d) < tiny) d = tiny;
  d = 1 / d;
  let h = d;
  for (let m = 1; m < 100_000; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 + even * d;
    if (Math.abs(d) < tiny) d = tiny;
    c = 1 + even / c;
    if (Math.abs(c) < tiny) c = tiny;
    d = 1 / d;
    h *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 + odd * d;
    if (Math.abs(d) < tiny) d = tiny;
    c = 1 + odd / c;
    if (Math.abs(c) < tiny) c = tiny;
    d = 1 / d;
    const step = d * c;
    h *= step;
    if (Math.abs(step - 1) < 1e-16) break;
  }
  return h;
}
