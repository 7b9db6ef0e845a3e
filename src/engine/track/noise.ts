import { median } from '../stats/sample.ts';
import type { Stretch } from './local-fit.ts';

/** Steps shorter or longer than this share of each other are still taken as even. */
const evenness = 0.25;
/** Third differences of white noise have 1 + 9 + 9 + 1 times its variance. */
const thirdDifferenceGain = Math.sqrt(20);
/** The median of |x| of a normal variate is this many sigmas. */
const medianToSigma = 1.4826;

/**
 * One sigma of the fast (sample to sample) noise of a column, from third differences of evenly spaced samples, which
 * cancel any quadratic movement. The scale is taken from the calmer half of the recording, in blocks, so that turns and
 * gusts do not count; never under the rounding of the recorder (step / sqrt 12).
 *
 * Values: any unit; `resolution` in the same. Answers `NaN` with fewer than 12 usable samples.
 */
export function fastNoise(
  timeS: Float64Array,
  values: Float64Array,
  stretches: readonly Stretch[],
  use: (row: number) => boolean,
  resolution = 0,
): number {
  const sizes: number[] = [];
  for (const stretch of stretches) {
    const rows: number[] = [];
    for (let row = stretch.from; row < stretch.to; row += 1) {
      if (Number.isFinite(values[row]) && use(row)) rows.push(row);
    }
    for (let index = 3; index < rows.length; index += 1) {
      const [a, b, c, d] = rows.slice(index - 3, index + 1) as [number, number, number, number];
      const middle = timeS[c] - timeS[b];
      const left = timeS[b] - timeS[a];
      const right = timeS[d] - timeS[c];
      if (Math.abs(left - middle) > evenness * middle || Math.abs(right - middle) > evenness * middle) continue;
      const third = values[d] - 3 * values[c] + 3 * values[b] - values[a];
      sizes.push(Math.abs(third) / thirdDifferenceGain);
    }
  }
  if (sizes.length < 12) return Number.NaN;
  const blocks: number[] = [];
  const block = Math.max(12, Math.ceil(sizes.length / 200));
  for (let from = 0; from + block <= sizes.length; from += block) {
    const part = sizes.slice(from, from + block);
    // Rounded data give many exact zeros; the root mean square of the lower nine tenths stays informative there.
    blocks.push(Math.max(medianToSigma * median(part), trimmedSigma(part)));
  }
  blocks.sort((a, b) => a - b);
  const calm = blocks[Math.floor(blocks.length / 3)];
  return Math.max(calm, resolution / Math.sqrt(12));
}

/** Sigma from the root mean square of the lower nine tenths of |x|; 0.788 is that of a unit normal variate so trimmed. */
function trimmedSigma(sizes: readonly number[]): number {
  const sorted = [...sizes].sort((a, b) => a - b);
  const kept = sorted.slice(0, Math.ceil(0.9 * sorted.length));
  return Math.sqrt(kept.reduce((sum, value) => sum + value * value, 0) / kept.length) / 0.788;
}
