import { incompleteBeta } from './incomplete-beta.ts';
import { logGamma } from './log-gamma.ts';
import { normalCdf } from './normal.ts';

/**
 * Distribution function of the noncentral t with `df` degrees of freedom and noncentrality `delta`.
 *
 * What for: the power of a t test: what a comparison could have found.
 * Where from: R. V. Lenth, algorithm AS 243, Applied Statistics 38 (1989), from memory; checked against high-precision
 * integration. `|delta|` up to 37 (beyond it the first term underflows).
 * @throws RangeError for |delta| > 37.
 * @example noncentralTCdf(2.1, 18, 2.5) // 0.3425
 */
export function noncentralTCdf(t: number, df: number, delta: number): number {
  if (!(Math.abs(delta) <= 37)) throw new RangeError(`Noncentrality ${delta} is beyond 37.`);
  if (t < 0) return 1 - noncentralTCdf(-t, df, -delta);
  if (df === Number.POSITIVE_INFINITY) return normalCdf(t - delta);
  const x = (t * t) / (t * t + df);
  let sum = 0;
  if (x > 0) {
    const lambda = delta * delta;
    let p = 0.5 * Math.exp(-0.5 * lambda);
    let q = Math.sqrt(2 / Math.PI) * p * delta;
    let rest = 0.5 - p;
    let a = 0.5;
    const b = 0.5 * df;
    const beyond = df / (t * t + df);
    const power = beyond ** b;
    let odd = incompleteBeta(x, a, b, beyond);
    let oddStep =
      2 * power * Math.exp(a * Math.log(x) - (Math.log(Math.sqrt(Math.PI)) + logGamma(b) - logGamma(a + b)));
    let even = 1 - power;
    let evenStep = b * x * power;
    sum = p * odd + q * even;
    for (let k = 1; k < 5000; k++) {
      a += 1;
      odd -= oddStep;
      even -= evenStep;
      oddStep *= (x * (a + b - 1)) / a;
      evenStep *= (x * (a + b - 0.5)) / (a + 0.5);
      p *= lambda / (2 * k);
      q *= lambda / (2 * k + 1);
      rest -= p;
      sum += p * odd + q * even;
      if (k > 0.5 * lambda && Math.abs(2 * rest * (odd - oddStep)) < 1e-16) break;
    }
  }
  return Math.min(1, Math.max(0, sum + normalCdf(-delta)));
}
