import type { CoarseSeries } from '../events/coarse-series.ts';
import type { VerticalState } from './vertical-states.ts';

/** 1,000 ft above the runway. */
const approachM = 304.8;
/** Circuits are flown below this height above the runway (1,500 ft) and not farther out than three nautical miles. */
const circuitM = 457.2;
const circuitRadiusM = 5556;
/** Flying across the runway's direction, and back along it. */
const acrossRad = 1.8;
const backRad = 2.6;

export interface ApproachEnd {
  /** Touchdown, or the lowest point of a go-around. */
  readonly endS: number;
  readonly groundAltitudeM: number;
  /** It cannot begin before this: the end of the initial climb, or the last go-around. */
  readonly notBeforeS: number;
}

/**
 * Where an approach begins. Coming from above: where the descent ends in the circuit, or, straight in, at 1,000 ft above the
 * runway. In a circuit that was never left: where it turns onto the downwind leg.
 *
 * @param stateOf climbing, level or descending at a row
 */
export function approachStart(
  series: CoarseSeries,
  end: ApproachEnd,
  stateOf: (row: number) => VerticalState | undefined,
): number {
  const last = rowBefore(series, end.endS);
  let first = last;
  let fromAbove = false;
  for (let row = last; row >= 0 && series.timeS[row] > end.notBeforeS; row -= 1) {
    const away = Math.hypot(series.eastM[row] - series.eastM[last], series.northM[row] - series.northM[last]);
    if (series.altitudeM[row] - end.groundAltitudeM > circuitM || away > circuitRadiusM) {
      fromAbove = true;
      break;
    }
    first = row;
  }
  // Within the circuit's limits all the way: a descent into it that levels off counts as coming from above.
  let from = first;
  if (!fromAbove) {
    while (from <= last && stateOf(from) !== 'descent') from += 1;
    if (nothingLevelLater(from, last, stateOf)) return downwindTurn(series, first, last) ?? series.timeS[first];
  }
  for (let row = from; row <= last; row += 1) {
    const above = series.altitudeM[row] - end.groundAltitudeM;
    if (stateOf(row) !== 'descent' && above > 60) return series.timeS[row] - series.speedLagS;
    if (above <= approachM && nothingLevelLater(row, last, stateOf)) return series.timeS[row];
  }
  return series.timeS[first];
}

/** Down to the runway without levelling off (the flare, the last twenty rows, apart). */
function nothingLevelLater(from: number, last: number, stateOf: (row: number) => VerticalState | undefined): boolean {
  for (let row = from; row <= last - 20; row += 1) if (stateOf(row) !== 'descent') return false;
  return true;
}

/** Beginning of the turn from across the runway's direction to against it; undefined when it never flies against it. */
function downwindTurn(series: CoarseSeries, first: number, last: number): number | undefined {
  const runway = heading(series, last - 6, last);
  for (let row = first + 3; row <= last; row += 1) {
    if (Math.abs(turned(heading(series, row - 3, row), runway)) < backRad) continue;
    let begin = row;
    while (begin > first + 3 && Math.abs(turned(heading(series, begin - 3, begin), runway)) > acrossRad) begin -= 1;
    return series.timeS[begin];
  }
  return undefined;
}

function rowBefore(series: CoarseSeries, timeS: number): number {
  let row = series.timeS.length - 1;
  while (row > 0 && series.timeS[row] > timeS) row -= 1;
  return row;
}

function heading(series: CoarseSeries, from: number, to: number): number {
  const start = Math.max(0, from);
  return Math.atan2(series.eastM[to] - series.eastM[start], series.northM[to] - series.northM[start]);
}

function turned(a: number, b: number): number {
  return Math.atan2(Math.sin(a - b), Math.cos(a - b));
}
