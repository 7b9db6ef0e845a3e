import { median } from '../stats/sample.ts';
import type { CoarseSeries } from './coarse-series.ts';

/**
 * When is the aeroplane on the ground and when does it fly? Works on the thinned series; rows are its indices. Decides only
 * what is plain; the instants between are for the estimators.
 */

/** Standing or taxiing so slowly that it cannot be flying. */
export interface SlowRun {
  /** Rows [from, to). */
  readonly from: number;
  readonly to: number;
  /** `NaN` where the recording has no altitude. */
  readonly altitudeM: number;
}

/** One time in the air, between two slow runs or an end of the recording. */
export interface Flight {
  /** Rows that are certainly airborne: first and last. */
  readonly firstAirborne: number;
  readonly lastAirborne: number;
  /** Slow run before the take-off; absent when the recording begins in the air or too fast to tell. */
  readonly before?: SlowRun;
  /** Slow run after the landing; absent when the recording ends first. */
  readonly after?: SlowRun;
  /** Rows of the fast part before `firstAirborne` at which speed was last below a third of flying speed; -1 if never. */
  readonly slowBefore: number;
  readonly slowAfter: number;
}

/** No aeroplane of this tool's kind flies this slowly over the ground for seconds, save in a gale. */
export const slowMps = 3;
const slowestRunS = 3;
/** At some moment it must be slower than a walk, and its height must hold still, or it may be hovering in the wind. */
const walkingMps = 1.2;
const steadyM = 8;
const sameFieldM = 150;
const steadyMps = 0.8;
/**
 * Clearly flying: so high above the ground it left, and moving; runways may rise by so much over the distance covered
 * since (strips of 2 % are common, steeper ones exist).
 */
export const airborneRiseM = 13;
const steepestRunway = 0.022;
const longestRunwayM = 800;
const flyingMps = 8;
/** To count as a flight at all: so long faster than so, with so much change of height. */
const flightSpeedMps = 12;
const flightSeconds = 15;
const flightHeightM = 25;
/** Without any altitude, speed alone must tell: no taxiing is this fast this long. */
const blindSpeedMps = 20;
const blindSeconds = 30;

export function slowRuns(series: CoarseSeries): SlowRun[] {
  const runs: (SlowRun & { readonly stands: boolean })[] = [];
  const { speedMps, timeS, stretch } = series;
  let from = -1;
  for (let row = 0; row <= timeS.length; row += 1) {
    const slow = row < timeS.length && speedMps[row] < slowMps;
    const continues = from >= 0 && slow && stretch[row] === stretch[row - 1];
    if (continues) continue;
    if (from >= 0) {
      const lasted = timeS[row - 1] - timeS[from];
      if (lasted >= slowestRunS || (row - from >= 2 && lasted >= 2)) {
        const last = lastMinute(series, from, row);
        if (last.steady)
          runs.push({
            from,
            to: row,
            altitudeM: lastAltitude(series, from, row),
            stands: last.slowestMps < walkingMps,
          });
      }
    }
    from = slow ? row : -1;
  }
  // Taxiing slowly without ever standing counts where it is about as high as a place where the aeroplane stood.
  const standing = runs.filter((run) => run.stands);
  return runs.filter(
    (run) =>
      (run.stands || standing.some((other) => !(Math.abs(other.altitudeM - run.altitudeM) > sameFieldM))) &&
      !standing.some((other) => hangsOver(series, run, other)),
  );
}

/**
 * Against a gale an aeroplane may stand still over the ground for some seconds: a short slow run well above a place near
 * by where it stood for longer is none.
 */
const hangsAtMostS = 20;
const hangsAboveM = 40;
const hangsWithinM = 3000;
const steepestGround = 0.04;

function hangsOver(series: CoarseSeries, run: SlowRun, other: SlowRun): boolean {
  const lasted = (one: SlowRun): number => series.timeS[one.to - 1] - series.timeS[one.from];
  if (lasted(run) > hangsAtMostS || lasted(other) <= lasted(run)) return false;
  const away = Math.hypot(
    series.eastM[run.from] - series.eastM[other.from],
    series.northM[run.from] - series.northM[other.from],
  );
  return away < hangsWithinM && run.altitudeM - other.altitudeM > hangsAboveM + steepestGround * away;
}

/** The last quarter minute is the best height for what follows; both ends are near each other anyway. */
function lastAltitude(series: CoarseSeries, from: number, to: number): number {
  const heights: number[] = [];
  for (let row = to - 1; row >= from && series.timeS[to - 1] - series.timeS[row] <= 15; row -= 1) {
    if (Number.isFinite(series.altitudeM[row])) heights.push(series.altitudeM[row]);
  }
  return median(heights);
}

/** The last minute of a slow run: how slow it gets, and whether it neither rises nor sinks. */
function lastMinute(series: CoarseSeries, from: number, to: number): { slowestMps: number; steady: boolean } {
  const { timeS, speedMps, altitudeM } = series;
  let slowest = Number.POSITIVE_INFINITY;
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  let first = to - 1;
  for (let row = to - 1; row >= from && timeS[to - 1] - timeS[row] <= 60; row -= 1) {
    slowest = Math.min(slowest, speedMps[row]);
    first = row;
    if (!Number.isFinite(altitudeM[row])) continue;
    low = Math.min(low, altitudeM[row]);
    high = Math.max(high, altitudeM[row]);
  }
  const change = Math.abs(altitudeM[to - 1] - altitudeM[first]) / Math.max(1, timeS[to - 1] - timeS[first]);
  return { slowestMps: slowest, steady: !(high - low > steadyM) || !(change > steadyMps) };
}

export function findFlights(series: CoarseSeries, runs: readonly SlowRun[]): Flight[] {
  const flights: Flight[] = [];
  const bounds: [SlowRun | undefined, SlowRun | undefined][] = [];
  for (let index = 0; index <= runs.length; index += 1) bounds.push([runs[index - 1], runs[index]]);
  for (const [before, after] of bounds) {
    const from = before?.to ?? 0;
    const to = after?.from ?? series.timeS.length;
    if (!isFlight(series, from, to)) continue;
    const flight = airbornePart(series, from, to, before, after);
    if (flight !== undefined) flights.push(flight);
  }
  return flights;
}

function isFlight(series: CoarseSeries, from: number, to: number): boolean {
  const heights: number[] = [];
  let fast = 0;
  let veryFast = 0;
  for (let row = from; row < to; row += 1) {
    const step =
      row > 0 && series.stretch[row] === series.stretch[row - 1] ? series.timeS[row] - series.timeS[row - 1] : 0;
    if (series.speedMps[row] > flightSpeedMps) {
      fast += step;
      if (Number.isFinite(series.altitudeM[row])) heights.push(series.altitudeM[row]);
    }
    if (series.speedMps[row] > blindSpeedMps) veryFast += step;
  }
  if (fast < flightSeconds) return false;
  if (heights.length < 5) return veryFast >= blindSeconds;
  heights.sort((a, b) => a - b);
  return (
    heights[Math.floor(0.97 * (heights.length - 1))] - heights[Math.floor(0.03 * (heights.length - 1))] > flightHeightM
  );
}

/**
 * Leaves or meets the ground like a helicopter: clearly above it (or sinking to it) at less than a third of flying speed
 * and slower than any lift-off of an aeroplane, save into a gale.
 */
const hoverMps = 7;
const hoverM = 9;
const hoverRateMps = 1.2;

export function hovers(series: CoarseSeries, flight: Flight): boolean {
  const low = (ground: SlowRun | undefined, from: number, to: number, place: number): boolean => {
    if (ground === undefined || Number.isNaN(ground.altitudeM)) return false;
    let above = 0;
    for (let row = from; row <= to; row += 1) {
      const away = Math.hypot(series.eastM[row] - series.eastM[place], series.northM[row] - series.northM[place]);
      if (away > 600 || !(series.speedMps[row] < hoverMps)) continue;
      if (!(Math.abs(series.verticalSpeedMps[row]) > hoverRateMps)) continue;
      if (series.altitudeM[row] - ground.altitudeM > hoverM + 0.04 * away) above += 1;
    }
    return above >= 2;
  };
  const { before, after, firstAirborne, lastAirborne } = flight;
  return (
    low(before, before?.to ?? 0, firstAirborne, (before?.to ?? 1) - 1) ||
    low(after, lastAirborne, (after?.from ?? 0) - 1, after?.from ?? 0)
  );
}

function airbornePart(
  series: CoarseSeries,
  from: number,
  to: number,
  before: SlowRun | undefined,
  after: SlowRun | undefined,
): Flight | undefined {
  const firstAirborne = climbsAway(series, from, to, before, 1);
  const lastAirborne = climbsAway(series, from, to, after, -1);
  if (firstAirborne === undefined || lastAirborne === undefined || lastAirborne < firstAirborne) return undefined;
  return {
    firstAirborne,
    lastAirborne,
    ...(before === undefined ? {} : { before }),
    ...(after === undefined ? {} : { after }),
    slowBefore: lastSlow(series, firstAirborne, from, -1),
    slowAfter: lastSlow(series, lastAirborne, to - 1, 1),
  };
}

/** First row (going forward from the slow run before, or backward from the one after) that is certainly in the air. */
function climbsAway(
  series: CoarseSeries,
  from: number,
  to: number,
  ground: SlowRun | undefined,
  direction: 1 | -1,
): number | undefined {
  const start = direction === 1 ? from : to - 1;
  const inside = (row: number): boolean => row >= from && row < to;
  if (ground === undefined) {
    // Begins (or ends) in motion: airborne at once if it is fast there; otherwise rolling, with an unknown ground height.
    for (let row = start; inside(row); row += direction) if (series.speedMps[row] > flightSpeedMps) return row;
    return undefined;
  }
  const blind = Number.isNaN(ground.altitudeM);
  const place = direction === 1 ? ground.to - 1 : ground.from;
  for (let row = start; inside(row); row += direction) {
    if (!(series.speedMps[row] > flyingMps)) continue;
    if (blind) {
      if (series.speedMps[row] > blindSpeedMps) return row;
      continue;
    }
    const away = Math.hypot(series.eastM[row] - series.eastM[place], series.northM[row] - series.northM[place]);
    const rise = airborneRiseM + steepestRunway * Math.min(longestRunwayM, away);
    if (!(series.altitudeM[row] - ground.altitudeM > rise)) continue;
    if (staysUp(series, row, direction, ground.altitudeM, inside)) return row;
  }
  return undefined;
}

/** For the next ten seconds it neither comes back to the ground nor is it still only accelerating strongly along it. */
function staysUp(
  series: CoarseSeries,
  row: number,
  direction: 1 | -1,
  groundM: number,
  inside: (row: number) => boolean,
): boolean {
  let seen = 0;
  for (let next = row; inside(next) && Math.abs(series.timeS[next] - series.timeS[row]) <= 10; next += direction) {
    if (!Number.isFinite(series.altitudeM[next])) continue;
    if (series.altitudeM[next] - groundM < airborneRiseM - 5 || !(series.speedMps[next] > 0.6 * flyingMps))
      return false;
    seen += 1;
  }
  return seen >= 1;
}

/**
 * Slow on the ground: less than 0.35 of the speed in flight. Against a strong wind that is less than brisk taxiing, and the
 * roll would seem to go on for as long as it taxis: then a taxiing speed is slow, if it is less than half the speed in flight.
 */
const slowShare = 0.35;
const briskTaxiMps = 6;

/** Going from a row towards an end, the first slow row; -1 if there is none. */
function lastSlow(series: CoarseSeries, row: number, end: number, direction: 1 | -1): number {
  const flying = flyingSpeed(series, row, direction === 1 ? -1 : 1);
  const slow = Math.max(slowShare * flying, Math.min(0.5 * flying, briskTaxiMps));
  for (let index = row; direction === 1 ? index <= end : index >= end; index += direction) {
    if (series.speedMps[index] < slow) return index;
  }
  // The slow run itself begins just beyond the end.
  const beyond = end + direction;
  return beyond >= 0 && beyond < series.timeS.length && series.speedMps[beyond] < slow ? beyond : -1;
}

/** Median speed in the five seconds from a row on. */
export function flyingSpeed(series: CoarseSeries, row: number, direction: 1 | -1): number {
  const speeds: number[] = [];
  for (
    let index = row;
    index >= 0 && index < series.timeS.length && Math.abs(series.timeS[index] - series.timeS[row]) <= 5;
    index += direction
  ) {
    if (Number.isFinite(series.speedMps[index])) speeds.push(series.speedMps[index]);
  }
  return median(speeds);
}
