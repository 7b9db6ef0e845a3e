import { normalCdf } from './normal.ts';

export interface MannWhitneyResult {
  /** Pairs (x, y) with x above y; ties count one half. */
  readonly w: number;
  readonly pValue: number;
  /** Probability of a W at least as large (one-sided, x above y). */
  readonly upperP: number;
  /** False with ties or large samples: the normal approximation with continuity and tie correction was used. */
  readonly exact: boolean;
}

/**
 * Number of the arrangements of m and n values that give each W from 0 to m n, when no two values are equal.
 * Where from: H. B. Mann and D. R. Whitney (1947), recursion over the largest value.
 */
export function mannWhitneyCounts(m: number, n: number): Float64Array {
  // Coefficients of the Gaussian binomial: product of (1 - q^(n+i)) / (1 - q^i).
  const size = m * n + 1;
  const counts = new Float64Array(size);
  counts[0] = 1;
  for (let i = 1; i <= m; i++) {
    for (let w = size - 1; w >= n + i; w--) counts[w] -= counts[w - n - i];
    for (let w = i; w < size; w++) counts[w] += counts[w - i];
  }
  return counts;
}

/** Above this product of group sizes the counts no longer fit a double exactly enough, and the approximation is excellent. */
const exactLimit = 900;

/**
 * Mann-Whitney (Wilcoxon rank sum) test: is x shifted against y, whatever the shape of the scatter?
 *
 * What for: a check that one odd day does not make the result.
 * Where from: Mann and Whitney (1947); two-sided p as twice the smaller tail.
 * @throws RangeError for an empty group.
 * @example mannWhitney([4, 5, 6], [1, 2, 3]).pValue // 0.1
 */
export function mannWhitney(x: readonly number[], y: readonly number[]): MannWhitneyResult {
  const m = x.length;
  const n = y.length;
  if (m === 0 || n === 0) throw new RangeError('A rank test needs a value in each group.');
  let w = 0;
  let ties = false;
  for (const a of x) {
    for (const b of y) {
      if (a > b) w += 1;
      else if (a === b) {
        w += 0.5;
        ties = true;
      }
    }
  }
  if (!ties && m * n <= exactLimit) {
    const counts = mannWhitneyCounts(m, n);
    const total = counts.reduce((sum, count) => sum + count, 0);
    let upper = 0;
    let lower = 0;
    counts.forEach((count, value) => {
      if (value >= w) upper += count;
      if (value <= w) lower += count;
    });
    return { w, pValue: Math.min(1, (2 * Math.min(upper, lower)) / total), upperP: upper / total, exact: true };
  }
  const tieSum = [...countEqual([...x, ...y]).values()].reduce((sum, count) => sum + count ** 3 - count, 0);
  const all = m + n;
  const sigma = Math.sqrt(((m * n) / 12) * (all + 1 - tieSum / (all * (all - 1))));
  const z = w - (m * n) / 2;
  const half = 0.5 * Math.sign(z);
  return {
    w,
    pValue: sigma > 0 ? Math.min(1, 2 * normalCdf(-Math.abs(z - half) / sigma)) : 1,
    upperP: sigma > 0 ? normalCdf(-(z - 0.5) / sigma) : 1,
    exact: false,
  };
}

function countEqual(values: readonly number[]): Map<number, number> {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  return counts;
}
