import { type Rows, rowAtOrAfter } from './rows.ts';

/**
 * Value of a column at a time, from a straight line through the finite samples within `halfS` of it, weighted with the tricube function
 * (Cleveland 1979), inside the given rows only. A line, not a mean, so that a climb or a one-sided window does not shift it.
 * `NaN` with fewer than two samples, or none within `halfS`.
 */
export function valueAt(
  timeS: Float64Array,
  values: ArrayLike<number>,
  within: Rows,
  at: number,
  halfS: number,
): number {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let y0 = 0;
  let y1 = 0;
  let count = 0;
  const first = Math.max(within.from, rowAtOrAfter(timeS, at - halfS));
  for (let row = first; row < within.to && timeS[row] <= at + halfS; row += 1) {
    const value = values[row];
    if (!Number.isFinite(value)) continue;
    const u = (timeS[row] - at) / halfS;
    const core = 1 - Math.abs(u) ** 3;
    // Never zero: a coarse recorder may have its only neighbour at the edge of the window.
    const weight = core * core * core + 1e-6;
    s0 += weight;
    s1 += weight * u;
    s2 += weight * u * u;
    y0 += weight * value;
    y1 += weight * u * value;
    count += 1;
  }
  if (count < 2) return Number.NaN;
  const determinant = s0 * s2 - s1 * s1;
  return determinant > 1e-9 * s0 * s2 ? (s2 * y0 - s1 * y1) / determinant : y0 / s0;
}
