import { type LocalFit, localFit } from '../track/local-fit.ts';
import type { Rows } from './rows.ts';

/** Fast recorders are thinned to means over this before a slow fit, seconds. */
const blockS = 0.5;

/**
 * `localFit` for windows of many seconds: fast recordings are first averaged over half a second, and the fit is carried back to every row by straight lines.
 * The same result to a small part of the noise, at 18 Hz nearly a hundred times faster.
 */
export function slowFit(
  timeS: Float64Array,
  values: Float64Array,
  stretches: readonly Rows[],
  halfWidthS: number,
): LocalFit {
  const rows = stretches.reduce((sum, { from, to }) => sum + to - from, 0);
  const seconds = stretches.reduce((sum, { from, to }) => sum + timeS[to - 1] - timeS[from], 0);
  if (!(rows * blockS > 2 * seconds)) return localFit(timeS, values, stretches, { halfWidthS });
  const times: number[] = [];
  const means: number[] = [];
  const blocks: Rows[] = [];
  for (const { from, to } of stretches) {
    const first = times.length;
    let row = from;
    while (row < to) {
      const endS = timeS[row] + blockS;
      let time = 0;
      let value = 0;
      let count = 0;
      for (; row < to && timeS[row] < endS; row += 1) {
        if (!Number.isFinite(values[row])) continue;
        time += timeS[row];
        value += values[row];
        count += 1;
      }
      if (count === 0) continue;
      times.push(time / count);
      means.push(value / count);
    }
    blocks.push({ from: first, to: times.length });
  }
  const coarse = localFit(Float64Array.from(times), Float64Array.from(means), blocks, { halfWidthS });
  const value = new Float64Array(timeS.length).fill(Number.NaN);
  const slope = new Float64Array(timeS.length).fill(Number.NaN);
  stretches.forEach(({ from, to }, k) => {
    const { from: first, to: end } = blocks[k];
    if (end === first) return;
    let block = first;
    for (let row = from; row < to; row += 1) {
      if (!Number.isFinite(values[row])) continue;
      while (block + 2 < end && times[block + 1] < timeS[row]) block += 1;
      const next = Math.min(block + 1, end - 1);
      const span = times[next] - times[block];
      const share = span > 0 ? (timeS[row] - times[block]) / span : 0;
      value[row] = coarse.value[block] + share * (coarse.value[next] - coarse.value[block]);
      slope[row] = coarse.slope[block] + Math.max(0, Math.min(1, share)) * (coarse.slope[next] - coarse.slope[block]);
    }
  });
  return { value, slope };
}
