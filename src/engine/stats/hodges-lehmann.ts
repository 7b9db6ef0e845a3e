import type { Interval } from '../../../shared/measured.ts';
import { mannWhitneyCounts } from './mann-whitney.ts';
import { normalQuantile } from './normal.ts';
import { median } from './sample.ts';

export interface ShiftEstimate extends Interval {
  /** Confidence that the interval really has: with few values only certain levels can be reached, never less than asked unless impossible. */
  readonly confidence: number;
}

/**
 * Hodges-Lehmann shift: the median of all differences x - y, with the exact interval of the rank sum test turned round.
 *
 * What for: a change that one odd day cannot move.
 * Where from: J. L. Hodges and E. L. Lehmann (1963). With groups so small that the level cannot be reached the interval is the whole
 * range of differences, and `confidence` says what that is worth.
 * @throws RangeError for an empty group.
 * @example hodgesLehmann([4, 5, 6], [1, 2, 3]).value // 3
 */
export function hodgesLehmann(x: readonly number[], y: readonly number[], confidence = 0.95): ShiftEstimate {
  const m = x.length;
  const n = y.length;
  if (m === 0 || n === 0) throw new RangeError('A shift needs a value in each group.');
  const differences = Float64Array.from(x.flatMap((a) => y.map((b) => a - b))).sort();
  const value = median(Array.from(differences));
  const alpha = 1 - confidence;
  let rank: number;
  let tail: number;
  if (m * n <= 900) {
    const counts = mannWhitneyCounts(m, n);
    const total = counts.reduce((sum, count) => sum + count, 0);
    // The largest rank with P(W < rank) <= alpha/2.
    rank = 0;
    tail = 0;
    while (rank + 1 < m * n && tail + counts[rank] / total <= alpha / 2) {
      tail += counts[rank] / total;
      rank++;
    }
    if (rank === 0) {
      rank = 1;
      tail = counts[0] / total;
    }
  } else {
    const sigma = Math.sqrt((m * n * (m + n + 1)) / 12);
    rank = Math.max(1, Math.floor((m * n) / 2 - normalQuantile(1 - alpha / 2) * sigma));
    tail = alpha / 2;
  }
  return { value, low: differences[rank - 1], high: differences[m * n - rank], confidence: 1 - 2 * tail };
}
