import type { Interval } from '../../../shared/measured.ts';
import { studentQuantile } from '../stats/student.ts';
import type { EvenSeries } from './motion-series.ts';

/** Blocks of this length are taken as independent for the interval: receivers' lags and errors wander over seconds. */
const blockS = 60;

/** Receivers' filters differ in shape and not only in delay: no offset is claimed better than this (half width). */
const narrowestS = 0.05;

interface Block {
  readonly weight: number;
  readonly moment: number;
}

/** Least squares on what is left: the difference of the series against the slope of the second, each block with its own level. */
export function refinedShift(a: EvenSeries, b: EvenSeries, startS: number): Interval {
  let shiftS = startS;
  let blocks: Block[] = [];
  for (let round = 0; round < 8; round++) {
    blocks = blockMoments(a, b, shiftS);
    const step = estimate(blocks);
    if (!Number.isFinite(step)) break;
    // A single step never leaves the neighbourhood of the coarse answer.
    shiftS += Math.max(-2, Math.min(2, step));
    if (Math.abs(step) < 1e-4) break;
  }
  const total = blocks.reduce((sum, { weight }) => sum + weight, 0);
  const squares = blocks.reduce((sum, { weight }) => sum + weight ** 2, 0);
  const k = blocks.length;
  const left = blocks
    .map((_, i) => estimate(blocks.filter((__, j) => j !== i)))
    .filter((value) => Number.isFinite(value));
  const mean = left.reduce((sum, value) => sum + value, 0) / left.length;
  const variance = ((k - 1) / k) * left.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  // Few blocks carry the information (a take-off, a landing): the degrees of freedom are those of their weights.
  const freedom = total ** 2 / squares - 1;
  // One block alone cannot say how well it knows: such an answer is refused as too wide.
  if (!(freedom >= 1) || left.length < 2) return { value: shiftS, low: -Infinity, high: Infinity };
  const half = Math.max(narrowestS, studentQuantile(0.975, freedom) * Math.sqrt(variance));
  return { value: shiftS, low: shiftS - half, high: shiftS + half };
}

function estimate(blocks: readonly Block[]): number {
  const weight = blocks.reduce((sum, block) => sum + block.weight, 0);
  return blocks.reduce((sum, block) => sum + block.moment, 0) / weight;
}

/** With `a(t) = level + b(t - shift - step)`, the step is `-moment / weight` of the regression on the slope of `b`. */
function blockMoments(a: EvenSeries, b: EvenSeries, shiftS: number): Block[] {
  const { stepS } = a;
  const perBlock = Math.round(blockS / stepS);
  const oneSecond = Math.round(1 / stepS);
  const at = (position: number): number => {
    const low = Math.floor(position);
    const weight = position - low;
    return b.values[low] * (1 - weight) + b.values[low + 1] * weight;
  };
  const blocks: Block[] = [];
  for (let start = 0; start < a.values.length; start += perBlock) {
    const slopes: number[] = [];
    const differences: number[] = [];
    for (let i = start; i < Math.min(a.values.length, start + perBlock); i++) {
      const position = (a.startS + i * stepS - shiftS - b.startS) / stepS;
      if (position < oneSecond || position + oneSecond + 1 >= b.values.length) continue;
      const slope = (at(position + oneSecond) - at(position - oneSecond)) / 2;
      const difference = a.values[i] - at(position);
      if (!(Number.isFinite(slope) && Number.isFinite(difference))) continue;
      slopes.push(slope);
      differences.push(difference);
    }
    if (slopes.length < perBlock / 4) continue;
    const meanSlope = slopes.reduce((sum, value) => sum + value, 0) / slopes.length;
    const meanDifference = differences.reduce((sum, value) => sum + value, 0) / differences.length;
    let weight = 0;
    let moment = 0;
    for (const [i, slope] of slopes.entries()) {
      weight += (slope - meanSlope) ** 2;
      moment -= (slope - meanSlope) * (differences[i] - meanDifference);
    }
    if (weight > 0) blocks.push({ weight, moment });
  }
  return blocks;
}
