import type { AnalysisOptions, EventOverride, Landing, Takeoff } from '../../../shared/analysis.ts';
import { filmClockSigmaS } from '../../../shared/film-time.ts';
import type { Problem } from '../../../shared/problem.ts';
import type { Motion } from '../track/motion.ts';
import { firstRowAt } from './along-track.ts';
import { coarseSeries, type CoarseSeries } from './coarse-series.ts';
import { findFlights, type Flight, flyingSpeed, hovers, slowRuns } from './ground-and-air.ts';
import type { RunCandidate } from './ground-run.ts';
import { type VerticalNoise, verticalNoise } from './height-noise.ts';
import { briefLanding, landing } from './landing.ts';
import type { Prior } from './linear-gaussian.ts';
import { findTouches, type LowPass } from './low-passes.ts';
import { drivenOnGround } from './on-wheels.ts';
import { rejectedTakeoffs } from './rejected-take-off.ts';
import { reversedMotion } from './reversed-motion.ts';
import { type GivenInstants, takeOff } from './take-off.ts';

export interface FoundEvents {
  readonly takeoffs: readonly Takeoff[];
  readonly landings: readonly Landing[];
  readonly flights: readonly Flight[];
  /** Low passes over a runway without touching it. */
  readonly goArounds: readonly LowPass[];
  readonly series: CoarseSeries;
  readonly problems: readonly Problem[];
}

/** One sigma of an instant that the pilot gives without saying how well he knows it, seconds. */
const pilotSigmaS = 0.3;

/** All take-offs and landings of a recording, in order of time. Overrides replace what would be found. */
export function findEvents(motion: Motion, options: AnalysisOptions = {}): FoundEvents {
  const series = coarseSeries(motion);
  const runs = slowRuns(series);
  const moves = findFlights(series, runs);
  const flights = moves.filter((move) => !drivenOnGround(series, move));
  const noise = verticalNoise(motion);
  let backward: Motion | undefined;
  const reversed = (): Motion => (backward ??= reversedMotion(motion));
  const departures: Departure[] = [];
  const arrivals: Arrival[] = [];
  const goArounds: LowPass[] = [];
  const touches: Touch[] = [];
  const problems: Problem[] = moves
    .filter((move) => !flights.includes(move))
    .map((move) => drivenProblem(series, move));
  // Twice is no accident of heights: this flies like a helicopter, and none of its departures is a take-off run.
  const hovering = flights.filter((flight) => hovers(series, flight));
  if (hovering.length >= 2) {
    problems.push({
      code: 'leaves-the-ground-hovering',
      severity: 'warning',
      message:
        'This recording leaves or meets the ground at hovering speed, as no aeroplane does: no take-offs and landings are given.',
    });
    return { takeoffs: [], landings: [], flights, goArounds, series, problems };
  }
  for (const flight of flights) {
    if (hovering.includes(flight)) continue;
    const start = departureCandidate(series, flight);
    if (start !== undefined && isHidden(motion, start)) {
      problems.push({
        code: 'take-off-not-recorded',
        severity: 'info',
        message: `A take-off before ${isoTime(start.airborneS)} lies in a gap of the recording and cannot be measured.`,
      });
    } else if (start !== undefined) departures.push({ candidate: start, outcome: 'flown' });
    for (const pass of findTouches(series, flight, runs)) {
      if (pass.departure === undefined || pass.touchdown === undefined) goArounds.push(pass);
      else {
        departures.push({ candidate: pass.departure, outcome: 'touch-and-go' });
        touches.push({ touchdown: pass.touchdown, timeS: pass.touchdown.mean });
      }
    }
    const end = arrivalCandidate(series, flight);
    if (end !== undefined && isHidden(reversed(), end)) {
      problems.push({
        code: 'landing-not-recorded',
        severity: 'info',
        message: `A landing after ${isoTime(-end.airborneS)} lies in a gap of the recording and cannot be measured.`,
      });
    } else if (end !== undefined) arrivals.push({ candidate: end, timeS: -end.airborneS });
  }
  const takeoffs = rejectedTakeoffs(motion, series, flights, runs);
  const overrides = options.overrides ?? [];
  // Take-offs are numbered in order of time with the rejected ones, as the reader sees them.
  const order = [
    ...takeoffs.map((takeoff) => ({ timeS: takeoff.rollStart.timeS, rejected: takeoff })),
    ...departures.map((departure) => ({ timeS: departure.candidate.airborneS, departure })),
  ].sort((a, b) => a.timeS - b.timeS);
  const all = order.map((entry, index) => {
    const given = givenInstants(overrides, 'roll-start', 'liftoff', index + 1, 1);
    if ('rejected' in entry) return overridden(entry.rejected, given);
    return takeOff(motion, noise, entry.departure.candidate, entry.departure.outcome, options, given);
  });
  return {
    problems,
    takeoffs: all,
    landings: findLandings(motion, reversed, noise, [...arrivals, ...touches], overrides),
    flights,
    goArounds,
    series,
  };
}

function drivenProblem(series: CoarseSeries, move: Flight): Problem {
  return {
    code: 'moves-along-the-ground',
    severity: 'warning',
    message: `From ${isoTime(series.timeS[move.firstAirborne])} to ${isoTime(series.timeS[move.lastAirborne])} the recording moves as along a road or railway, with none of the turns, climbs and descents of a flight: no take-off and landing is given there.`,
  };
}

interface Departure {
  readonly candidate: RunCandidate;
  readonly outcome: 'flown' | 'touch-and-go';
}

interface Arrival {
  /** In reversed time. */
  readonly candidate: RunCandidate;
  readonly timeS: number;
}

interface Touch {
  readonly touchdown: Prior;
  readonly timeS: number;
}

function findLandings(
  motion: Motion,
  reversed: () => Motion,
  noise: VerticalNoise,
  arrivals: readonly (Arrival | Touch)[],
  overrides: readonly EventOverride[],
): Landing[] {
  return [...arrivals]
    .sort((a, b) => a.timeS - b.timeS)
    .map((arrival, index) => {
      const given = givenInstants(overrides, 'stop', 'touchdown', index + 1, -1);
      return 'candidate' in arrival
        ? landing(reversed(), noise, arrival.candidate, given)
        : briefLanding(motion, arrival.touchdown, given);
    });
}

function overridden(takeoff: Takeoff, given: GivenInstants): Takeoff {
  if (given.start === undefined) return takeoff;
  return { ...takeoff, rollStart: { timeS: given.start.mean, sigmaS: given.start.sigma, origin: 'pilot' } };
}

function givenInstants(
  overrides: readonly EventOverride[],
  start: EventOverride['event'],
  change: EventOverride['event'],
  number: number,
  direction: 1 | -1,
): GivenInstants {
  // The last word counts.
  const find = (event: EventOverride['event']): { mean: number; sigma: number } | undefined => {
    const found = overrides.filter((each) => each.event === event && each.number === number).at(-1);
    if (found === undefined) return undefined;
    // A time read off a film is compared with positions that come late by an amount that is not known.
    const clockS = found.intoFilmS === undefined ? 0 : filmClockSigmaS;
    return {
      mean: direction * found.timeS,
      sigma: Math.hypot(found.sigmaS ?? pilotSigmaS, clockS, found.filmStartSigmaS ?? 0),
    };
  };
  const first = find(start);
  const second = find(change);
  return {
    ...(first === undefined ? {} : { start: first }),
    ...(second === undefined ? {} : { change: second }),
  };
}

function departureCandidate(series: CoarseSeries, flight: Flight): RunCandidate | undefined {
  const { slowBefore, firstAirborne, before } = flight;
  if (slowBefore < 0 || before === undefined) return undefined;
  return {
    slowS: series.timeS[slowBefore],
    airborneS: series.timeS[firstAirborne],
    flyingMps: flyingSpeed(series, firstAirborne, 1),
    groundAltitudeM: before.altitudeM,
    notBeforeS: series.timeS[before.from],
  };
}

/** In reversed time. */
function arrivalCandidate(series: CoarseSeries, flight: Flight): RunCandidate | undefined {
  const { slowAfter, lastAirborne, after } = flight;
  if (slowAfter < 0 || after === undefined) return undefined;
  return {
    slowS: -series.timeS[slowAfter],
    airborneS: -series.timeS[lastAirborne],
    flyingMps: flyingSpeed(series, lastAirborne, -1),
    groundAltitudeM: after.altitudeM,
    notBeforeS: -series.timeS[after.to - 1],
  };
}

/** The whole change between rolling and flying lies in a gap: no reading of it between a third of flying speed and the air. */
function isHidden(motion: Motion, candidate: RunCandidate): boolean {
  const gap = motion.gaps.find((each) => each.endS > candidate.slowS && each.startS < candidate.airborneS);
  if (gap === undefined) return false;
  let readings = 0;
  for (let row = firstRowAt(motion.timeS, candidate.slowS); row < motion.timeS.length; row += 1) {
    if (motion.timeS[row] >= candidate.airborneS) break;
    if (motion.groundSpeedMps[row] > 0.4 * candidate.flyingMps) readings += 1;
  }
  return readings < 3;
}

function isoTime(timeS: number): string {
  return `${new Date(timeS * 1000).toISOString().slice(0, 19)}Z`;
}
