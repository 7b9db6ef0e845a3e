import type { Takeoff } from '../../../shared/analysis.ts';
import type { CoarseSeries } from '../events/coarse-series.ts';
import type { VerticalState } from './vertical-states.ts';

/** 1,000 ft above the runway. */
const initialClimbM = 304.8;
/** Turned away from the runway by more than this, counted from where the turn begins. */
const turnedRad = Math.PI / 6;
const turningRadps = 0.02;
const turnShowsS = 15;

/** End of the initial climb: 1,000 ft above the runway, the first level-off, or the beginning of the first turn. */
export function initialClimbEnd(
  series: CoarseSeries,
  takeoff: Takeoff,
  rows: readonly number[],
  states: readonly VerticalState[],
  endS: number,
): number {
  const ground = takeoff.startAltitudeM ?? Number.NaN;
  let climbed = false;
  let endedS = endS;
  for (const [index, row] of rows.entries()) {
    const timeS = series.timeS[row];
    // A turn begins some seconds before it is plain: it is looked for a little beyond the other ends.
    if (timeS > endedS + turnShowsS) break;
    if (turnedAway(series, row, takeoff.headingRad)) return Math.min(endedS, turnBegin(series, row, rows[0]));
    if (endedS < endS) continue;
    if (series.altitudeM[row] - ground > initialClimbM) endedS = timeS;
    if (states[index] === 'climb') climbed = true;
    else if (climbed) endedS = timeS;
  }
  return endedS;
}

/** Direction of motion over two seconds, from positions. */
function turnedAway(series: CoarseSeries, row: number, headingRad: number): boolean {
  const before = Math.max(0, row - 2);
  const east = series.eastM[row] - series.eastM[before];
  const north = series.northM[row] - series.northM[before];
  if (Math.hypot(east, north) < 10) return false;
  const off = Math.atan2(east, north) - headingRad;
  return Math.abs(Math.atan2(Math.sin(off), Math.cos(off))) > turnedRad;
}

function turnBegin(series: CoarseSeries, row: number, first: number): number {
  let begin = row;
  const side = Math.sign(series.turnRateRadps[row]) || 1;
  while (begin > first && side * series.turnRateRadps[begin - 1] > turningRadps) begin -= 1;
  return series.timeS[begin];
}
