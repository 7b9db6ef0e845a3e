import { median } from '../stats/sample.ts';
import type { Stretch } from './local-fit.ts';
import type { Gap } from './track.ts';

/**
 * A step between two valid fixes is a gap when it is longer than this and several times the steps around it. Recorders
 * that slow down when nothing happens (15 s at rest, 5 s moving) have no gaps by that; a second or two lost from a 1 Hz
 * track is bridged by fits over real times. Own choice: 3 s of a take-off is already a tenth of its speed range or more.
 */
export const shortestGapS = 3.5;
export const gapSteps = 3.5;
const neighbours = 8;

export interface Coverage {
  readonly stretches: readonly Stretch[];
  readonly gaps: readonly Gap[];
  /** Median rate of the valid fixes, Hz. */
  readonly rateHz: number;
}

/** Finds gaps and the stretches between them, from the rows with a valid fix and the breaks that the recording states. */
export function findCoverage(
  timeS: Float64Array,
  valid: (row: number) => boolean,
  breaks: readonly number[],
): Coverage {
  const rows: number[] = [];
  for (let row = 0; row < timeS.length; row += 1) if (valid(row)) rows.push(row);
  if (rows.length === 0) return { stretches: [], gaps: [], rateHz: Number.NaN };
  const steps = rows.slice(1).map((row, index) => timeS[row] - timeS[rows[index]]);
  const stretches: Stretch[] = [];
  const gaps: Gap[] = [];
  let from = rows[0];
  let nextBreak = 0;
  for (let index = 0; index < steps.length; index += 1) {
    const before = rows[index];
    const after = rows[index + 1];
    const step = steps[index];
    while (nextBreak < breaks.length && breaks[nextBreak] <= before) nextBreak += 1;
    const stated = nextBreak < breaks.length && breaks[nextBreak] <= after;
    // A stated break without any time missing (a file split into segments) still interrupts nothing that was measured.
    const long = step > shortestGapS && step > gapSteps * usualStep(steps, index);
    if (long || (stated && step > 2 * usualStep(steps, index))) {
      gaps.push({ startS: timeS[before], endS: timeS[after] });
      stretches.push({ from, to: before + 1 });
      from = after;
    }
  }
  stretches.push({ from, to: rows[rows.length - 1] + 1 });
  return { stretches, gaps, rateHz: steps.length > 0 ? 1 / median(steps) : Number.NaN };
}

/** The largest of the median steps just before and just after, near and wider: a change of rate is not a gap. */
function usualStep(steps: readonly number[], index: number): number {
  let usual = 0;
  for (const reach of [3, neighbours]) {
    const before = steps.slice(Math.max(0, index - reach), index);
    const after = steps.slice(index + 1, index + 1 + reach);
    if (before.length > 2) usual = Math.max(usual, median(before));
    if (after.length > 2) usual = Math.max(usual, median(after));
  }
  return usual > 0 ? usual : median(steps);
}
