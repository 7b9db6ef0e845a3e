import type { Motion } from '../track/motion.ts';

/** Rows [from, to) of a motion. */
export interface Rows {
  readonly from: number;
  readonly to: number;
}

/** First row at or after a time; the length of the column when there is none. */
export function rowAtOrAfter(timeS: Float64Array, at: number): number {
  let low = 0;
  let high = timeS.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (timeS[middle] < at) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Rows of a time window, ends included. */
export function rowsBetween(timeS: Float64Array, startS: number, endS: number): Rows {
  return { from: rowAtOrAfter(timeS, startS), to: rowAtOrAfter(timeS, endS + 1e-9) };
}

/** The stretch without a gap that holds the whole window (to a tenth of a second), if there is one. */
export function stretchHolding(motion: Motion, startS: number, endS: number): Rows | undefined {
  const { timeS, stretches } = motion;
  return stretches.find(({ from, to }) => to > from && timeS[from] <= startS + 0.1 && timeS[to - 1] >= endS - 0.1);
}

/** Mean of the finite values in rows; `NaN` when fewer than `share` of the rows have one. */
export function meanOfRows(values: ArrayLike<number>, rows: Rows, share = 0.5): number {
  let sum = 0;
  let count = 0;
  for (let row = rows.from; row < rows.to; row += 1) {
    if (!Number.isFinite(values[row])) continue;
    sum += values[row];
    count += 1;
  }
  return count > 0 && count >= share * (rows.to - rows.from) ? sum / count : Number.NaN;
}
