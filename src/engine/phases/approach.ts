import type { CoarseSeries } from '../events/coarse-series.ts';
import type { FoundEvents } from '../events/find-events.ts';
import type { AirPart } from './detect-phases.ts';

/** 1,000 ft above the runway. */
const approachM = 304.8;
/** An approach is not farther from the field than this (3 NM). */
const nearM = 5556;

/**
 * Where the approach that ends at `endS` begins: the last time it comes down through 1,000 ft above the runway or enters
 * three nautical miles around it, whichever is later; in a circuit flown lower than that, where it is abeam going the
 * other way.
 */
export function approachStart(
  series: CoarseSeries,
  part: AirPart,
  notBeforeS: number,
  endS: number,
  events: FoundEvents,
): number {
  const last = rowBefore(series, endS);
  const ground = runwayHeight(series, part, endS, events);
  let startS = endS;
  for (let row = last; row >= 0 && series.timeS[row] > notBeforeS; row -= 1) {
    const away = Math.hypot(series.eastM[row] - series.eastM[last], series.northM[row] - series.northM[last]);
    if (series.altitudeM[row] - ground > approachM || away > nearM) return startS;
    startS = series.timeS[row];
  }
  // Never higher nor farther since the last take-off or go-around: a circuit. It begins where the track is turned round.
  const runway = heading(series, last - 6, last);
  for (let row = last; row >= 0 && series.timeS[row] > notBeforeS; row -= 1) {
    const off = Math.abs(turned(heading(series, row - 3, row), runway));
    if (off > 2.6) {
      let begin = row;
      while (
        begin > 3 &&
        series.timeS[begin] > notBeforeS &&
        Math.abs(turned(heading(series, begin - 3, begin), runway)) > 2.2
      )
        begin -= 1;
      return series.timeS[begin];
    }
  }
  return startS;
}

function rowBefore(series: CoarseSeries, timeS: number): number {
  let row = series.timeS.length - 1;
  while (row > 0 && series.timeS[row] > timeS) row -= 1;
  return row;
}

function runwayHeight(series: CoarseSeries, part: AirPart, endS: number, events: FoundEvents): number {
  if (part.landing !== undefined && Math.abs(part.landing.touchdown.timeS - endS) < 1)
    return series.altitudeM[rowBefore(series, endS)];
  return (
    events.goArounds.find((pass) => pass.timeS === endS)?.groundAltitudeM ?? series.altitudeM[rowBefore(series, endS)]
  );
}

function heading(series: CoarseSeries, from: number, to: number): number {
  const start = Math.max(0, from);
  return Math.atan2(series.eastM[to] - series.eastM[start], series.northM[to] - series.northM[start]);
}

function turned(a: number, b: number): number {
  return Math.atan2(Math.sin(a - b), Math.cos(a - b));
}
