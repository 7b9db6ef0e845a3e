import type { CoarseSeries } from './coarse-series.ts';
import type { Flight } from './ground-and-air.ts';

/** A runway as flights of the recording used it: a point on it and its direction. */
export interface KnownRunway {
  readonly eastM: number;
  readonly northM: number;
  readonly headingRad: number;
}

/** A run along the ground, from its start to its fastest moment. */
export interface RunPlace {
  readonly from: number;
  readonly to: number;
}

const parallelRad = (15 * Math.PI) / 180;
/**
 * Along the same runway: half the width of a wide one (23 m) and what positions wander between the two runs, and what the
 * direction of a short run may be off by, 2 degrees. No runway that light aeroplanes use is longer than 2.5 km by need.
 */
const asideM = 30;
const asideShare = 0.035;
const alongM = 2500;
/** A shorter stretch shows no direction. */
const shortestM = 30;

/** Where flights left the ground and came back to it. */
export function knownRunways(series: CoarseSeries, flights: readonly Flight[]): KnownRunway[] {
  const runways: KnownRunway[] = [];
  for (const flight of flights) {
    if (flight.slowBefore >= 0) runways.push(...lineFrom(series, flight.slowBefore, flight.firstAirborne));
    if (flight.slowAfter >= 0) runways.push(...lineFrom(series, flight.lastAirborne, flight.slowAfter));
  }
  return runways;
}

function lineFrom(series: CoarseSeries, from: number, to: number): KnownRunway[] {
  const eastM = series.eastM[to] - series.eastM[from];
  const northM = series.northM[to] - series.northM[from];
  if (!(Math.hypot(eastM, northM) > shortestM)) return [];
  // The slow end lies on the runway; the other may have begun to drift off it.
  const ground = series.speedMps[from] < series.speedMps[to] ? from : to;
  return [{ eastM: series.eastM[ground], northM: series.northM[ground], headingRad: Math.atan2(eastM, northM) }];
}

/** The run lies along a runway that a flight of the recording used, in either direction. */
export function alongRunway(series: CoarseSeries, run: RunPlace, runways: readonly KnownRunway[]): boolean {
  const own = lineFrom(series, run.from, run.to)[0];
  return own !== undefined && runways.some((runway) => onLine(own, runway, alongM));
}

/** All runs lie along one line, none farther from the first than a runway is long. */
export function onOneLine(series: CoarseSeries, runs: readonly RunPlace[]): boolean {
  const lines = runs.flatMap((run) => lineFrom(series, run.from, run.to));
  return lines.every((line) => onLine(line, lines[0], alongM));
}

function onLine(own: KnownRunway, runway: KnownRunway, withinM: number): boolean {
  const off = own.headingRad - runway.headingRad;
  if (Math.abs(Math.sin(off)) > Math.sin(parallelRad)) return false;
  const east = own.eastM - runway.eastM;
  const north = own.northM - runway.northM;
  const along = east * Math.sin(runway.headingRad) + north * Math.cos(runway.headingRad);
  const aside = east * Math.cos(runway.headingRad) - north * Math.sin(runway.headingRad);
  return Math.abs(along) < withinM && Math.abs(aside) < asideM + asideShare * Math.abs(along);
}
