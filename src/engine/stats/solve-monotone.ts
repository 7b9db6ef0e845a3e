/**
 * Where a falling function of a positive number takes a wanted value: the tail of a distribution turned round.
 * Newton steps inside a bracket, bisection where a step would leave it.
 *
 * @param tail Falls from above `wanted` at 0 towards 0.
 * @param slope Its derivative (negative).
 * @returns the place to the last few digits.
 */
export function solveFallingTail(tail: (x: number) => number, slope: (x: number) => number, wanted: number): number {
  let low = 0;
  let high = 1;
  while (tail(high) > wanted) {
    low = high;
    high *= 2;
    if (high > 1e300) return Number.POSITIVE_INFINITY;
  }
  let x = (low + high) / 2;
  for (let step = 0; step < 400; step++) {
    const value = tail(x);
    if (value === wanted) return x;
    if (value > wanted) low = x;
    else high = x;
    // Newton on the logarithm of the tail: close to straight for every tail in use.
    const gradient = slope(x);
    let next = value > 0 && gradient < 0 ? x - (value * Math.log(value / wanted)) / gradient : Number.NaN;
    if (!(next > low && next < high)) next = low === 0 ? high / 16 : (low + high) / 2;
    if (Math.abs(next - x) <= 1e-16 * Math.abs(next) || next === x) return next;
    x = next;
    if (high - low <= 2e-16 * high) return x;
  }
  return x;
}
