import { gapSteps, shortestGapS } from './gaps.ts';
import { median } from '../stats/sample.ts';

/**
 * A column brought to other times by straight lines between neighbouring values. `NaN` outside the recording, where a
 * neighbour is missing, and across gaps: more than 3.5 s and 3.5 usual steps, or a stated break. Directions (radians) go the
 * shorter way round.
 *
 * @param timeS times of the column, ascending @param at times wanted, ascending
 */
export function interpolated(
  timeS: Float64Array,
  values: Float64Array,
  breaks: readonly number[],
  at: Float64Array,
  circular = false,
): Float64Array {
  const rows: number[] = [];
  for (let row = 0; row < timeS.length; row++) if (Number.isFinite(values[row])) rows.push(row);
  const steps = rows.slice(1).map((row, i) => timeS[row] - timeS[rows[i]]);
  const longestS = Math.max(shortestGapS, gapSteps * (steps.length > 0 ? median(steps) : 0));
  const out = new Float64Array(at.length).fill(Number.NaN);
  let next = 0;
  let nextBreak = 0;
  for (let i = 0; i < at.length; i++) {
    while (next < rows.length && timeS[rows[next]] < at[i]) next++;
    if (next === rows.length) break;
    const after = rows[next];
    if (timeS[after] === at[i]) {
      out[i] = values[after];
      continue;
    }
    if (next === 0) continue;
    const before = rows[next - 1];
    const stepS = timeS[after] - timeS[before];
    while (nextBreak < breaks.length && breaks[nextBreak] <= before) nextBreak++;
    const broken = nextBreak < breaks.length && breaks[nextBreak] <= after;
    if (stepS > longestS || broken) continue;
    out[i] = between(values[before], values[after], (at[i] - timeS[before]) / stepS, circular);
  }
  return out;
}

function between(before: number, after: number, weight: number, circular: boolean): number {
  if (!circular) return before + weight * (after - before);
  const full = 2 * Math.PI;
  const turn = ((((after - before) % full) + 3 * Math.PI) % full) - Math.PI;
  return (((before + weight * turn) % full) + full) % full;
}
