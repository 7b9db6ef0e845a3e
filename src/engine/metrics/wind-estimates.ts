import type { Problem } from '../../../shared/problem.ts';
import type { LevelRun, Phase, WindEstimate } from '../analysis.ts';
import { studentQuantile } from '../stats/student.ts';
import type { Motion } from '../track/motion.ts';
import type { Track } from '../track/track.ts';
import { airFromTriangle, type Velocity, velocityTowards, windOfVelocity } from '../wind/wind-triangle.ts';
import { windFromLegs, type WindLeg } from '../wind/wind-from-legs.ts';
import { windFromTurn } from '../wind/wind-from-turn.ts';
import { measured, normal95 } from './interval.ts';
import { meanOfRows, rowsBetween } from './rows.ts';
import { findLevelTurns, type LevelTurn } from './turns.ts';

/** Legs belong together within 25 minutes, 20 nautical miles and 200 m of height: one wind, slowly changing. */
const longestS = 1500;
const farthestM = 37_040;
const highestM = 200;
/** Legs follow each other: after a longer pause a change of power is as likely as not, and would pass unseen. */
const longestPauseS = 240;
/** Of one power setting: engine speeds within 60 rpm, fuel flows within 8 %, recorded true airspeeds within 2 m/s (4 kt). */
const rpmStep = 60;
const fuelFlowShare = 0.08;
const airspeedStepMps = 2;
/** Residuals beyond 2 kt mean that speed or wind was not steady. */
const unsteadyMps = 2 * (1852 / 3600);

export interface WindsFound {
  readonly winds: readonly WindEstimate[];
  /** Why level runs gave no wind, so that their ground speeds are not taken for airspeeds. */
  readonly problems: readonly Problem[];
}

/**
 * Winds of a recording: from level runs on spread headings (with the true airspeed of each power setting), from continuous turns, and from recorded
 * true airspeed and heading. What cannot be separated is left out and told in `problems`: there is no wind from two opposite tracks.
 */
export function findWinds(
  motion: Motion,
  track: Track,
  phases: readonly Phase[],
  levelRuns: readonly LevelRun[],
): WindsFound {
  const problems: Problem[] = [];
  const fromLegs = groupsOf(motion, levelRuns).flatMap((runs) => {
    const answer = fromRuns(runs);
    if ('winds' in answer) return answer.winds;
    if (runs.length > 1) problems.push(notSeparable(runs, answer.refused));
    return [];
  });
  const winds = [
    ...fromLegs,
    ...findLevelTurns(motion, phases).flatMap((turn) => fromTurn(motion, turn)),
    ...levelRuns.flatMap((run) => fromInstruments(motion, track, run)),
  ].sort((a, b) => a.startS - b.startS);
  return { winds, problems };
}

/** The winds of {@link findWinds} alone. */
export function estimateWinds(
  motion: Motion,
  track: Track,
  phases: readonly Phase[],
  levelRuns: readonly LevelRun[],
): WindEstimate[] {
  return [...findWinds(motion, track, phases, levelRuns).winds];
}

function notSeparable(runs: readonly LevelRun[], reason: string): Problem {
  const clock = (timeS: number): string => new Date(timeS * 1000).toISOString().slice(11, 16);
  const from = clock(runs[0].startS);
  const to = clock(runs[runs.length - 1].endS);
  return {
    code: 'wind-not-separable',
    severity: 'info',
    message: `No wind and no airspeed from the ${runs.length} level runs between ${from} and ${to} UTC. ${reason}`,
  };
}

function middleRow(motion: Motion, run: LevelRun): number {
  const { from, to } = rowsBetween(motion.timeS, run.startS, run.endS);
  return Math.floor((from + to) / 2);
}

/** Runs of level flight that one wind can be asked of, in order of time; each run belongs to one group. */
function groupsOf(motion: Motion, runs: readonly LevelRun[]): LevelRun[][] {
  const groups: LevelRun[][] = [];
  for (const run of [...runs].sort((a, b) => a.startS - b.startS)) {
    const group = groups[groups.length - 1];
    const last = group?.[group.length - 1];
    const follows = last !== undefined && run.startS - last.endS <= longestPauseS;
    const fits =
      follows &&
      group?.every((other) => {
        const here = middleRow(motion, run);
        const there = middleRow(motion, other);
        const apartM = Math.hypot(motion.eastM[here] - motion.eastM[there], motion.northM[here] - motion.northM[there]);
        return (
          run.endS - other.startS <= longestS &&
          !(apartM > farthestM) &&
          Math.abs(run.altitudeM - other.altitudeM) <= highestM
        );
      });
    if (fits) group.push(run);
    else groups.push([run]);
  }
  return groups;
}

function legOf(run: LevelRun): WindLeg {
  const { value, high } = run.groundSpeedMps;
  return {
    ...velocityTowards(run.trackRad, value),
    timeS: (run.startS + run.endS) / 2,
    lengthS: run.endS - run.startS,
    altitudeM: run.altitudeM,
    sigmaMps: Math.hypot((high - value) / normal95, legSigmaMps),
  };
}

/**
 * What the airspeed of a leg differs from that of its setting, beyond the scatter inside the leg, m/s (0.8 kt): air that rises or sinks all along a leg
 * (0.1 m/s is 0.5 kt at cruising power: m g w against 3 P/V of the cube law) and the pilot.
 */
const legSigmaMps = 0.4;

function fromRuns(
  runs: readonly LevelRun[],
): { readonly winds: readonly WindEstimate[] } | { readonly refused: string } {
  const settings = settingsOf(runs);
  const legs = runs.map((run, i) => ({ ...legOf(run), ...settings[i] }));
  const answer = windFromLegs(legs);
  if ('refused' in answer) return answer;
  const { found } = answer;
  const remarks: string[] = [];
  if (found.residualRmsMps > unsteadyMps) {
    remarks.push('The speeds differ by more than 2 kt from one circle: airspeed or wind was not steady.');
  }
  if (found.settingsShare < 0.9)
    remarks.push('It is not sure which legs were flown at the same power; the intervals allow for it.');
  const factor = studentQuantile(0.975, found.degreesOfFreedom);
  const winds = found.airspeeds.flatMap(({ valueMps, sigmaMps }, group) => {
    const own = runs.filter((_, i) => found.groups[i] === group);
    // A single leg at its own setting has an airspeed by the wind of the others; it is given with the run itself.
    if (own.length < 2) return [];
    return [
      {
        startS: Math.min(...own.map((run) => run.startS)),
        endS: Math.max(...own.map((run) => run.endS)),
        altitudeM: own.reduce((sum, run) => sum + run.altitudeM, 0) / own.length,
        ...windWithIntervals(found.air, found.airCovariance, factor, remarks),
        trueAirspeedMps: measured(valueMps, sigmaMps, 'circle through the ground velocities', remarks, factor),
        method: 'three or more headings',
      },
    ];
  });
  return { winds };
}

/**
 * Power settings of runs from what the aeroplane recorded. Engine speed alone tells settings apart but does not make two legs of one (a constant-speed
 * propeller holds it while the power changes); fuel flow or airspeed does.
 */
function settingsOf(runs: readonly LevelRun[]): { readonly setting?: number; readonly settingSure?: boolean }[] {
  const signs: readonly (readonly [number | undefined, number])[][] = runs.map((run) => [
    [run.engineSpeedRpm, rpmStep],
    [run.fuelFlowM3ps && Math.log(run.fuelFlowM3ps.value), fuelFlowShare],
    [run.trueAirspeedMps?.value, airspeedStepMps],
  ]);
  const alike = (a: number, b: number): boolean =>
    signs[a].every(([value, step], k) => {
      const other = signs[b][k][0];
      return value === undefined || other === undefined || Math.abs(value - other) < step;
    });
  const settings: number[] = [];
  const firsts: number[] = [];
  runs.forEach((_, i) => {
    let setting = firsts.findIndex((first) => alike(i, first));
    if (setting < 0) setting = firsts.push(i) - 1;
    settings.push(setting);
  });
  const sure = runs.every((run) => run.fuelFlowM3ps !== undefined || run.trueAirspeedMps !== undefined);
  return settings.map((setting) => ({ setting, settingSure: sure }));
}

function fromTurn(motion: Motion, turn: LevelTurn): WindEstimate[] {
  const { timeS, groundSpeedMps, trackRad } = motion;
  const { from, to } = turn.rows;
  const times = timeS.subarray(from, to);
  const velocities: Velocity[] = [];
  for (let row = from; row < to; row += 1) velocities.push(velocityTowards(trackRad[row], groundSpeedMps[row]));
  const answer = windFromTurn(times, velocities, motion.speedNoiseMps);
  if ('refused' in answer) return [];
  const { fit } = answer;
  const sigma = Math.sqrt(fit.covariance[2][2]);
  const factor = studentQuantile(0.975, fit.degreesOfFreedom);
  return [
    {
      startS: turn.startS,
      endS: turn.endS,
      altitudeM: turn.altitudeM,
      ...windWithIntervals(fit.air, fit.covariance, factor, []),
      trueAirspeedMps: measured(
        fit.trueAirspeedMps,
        sigma,
        'circle through the ground velocities of a turn',
        ['The airspeed of a turn: bank takes some away, so it is not that of level flight.'],
        factor,
      ),
      method: 'turn',
    },
  ];
}

/** Errors of instruments: airspeed 2 %, heading 3 degrees (own judgement; an unslaved compass is worse). */
const airspeedShare = 0.02;
const headingSigmaRad = (3 * Math.PI) / 180;

/** Ground velocity less recorded true airspeed along recorded heading, over a level run. */
function fromInstruments(motion: Motion, track: Track, run: LevelRun): WindEstimate[] {
  const { headingRad } = track.channels;
  if (headingRad === undefined || run.trueAirspeedMps === undefined) return [];
  const rows = rowsBetween(motion.timeS, run.startS, run.endS);
  const sine = meanOfRows(headingRad.map(Math.sin), rows);
  const cosine = meanOfRows(headingRad.map(Math.cos), rows);
  if (!Number.isFinite(sine + cosine)) return [];
  const airspeed = run.trueAirspeedMps.value;
  const air = airFromTriangle(run.trackRad, run.groundSpeedMps.value, Math.atan2(sine, cosine), airspeed);
  const wind = windOfVelocity(air);
  const sigma = airspeed * Math.hypot(airspeedShare, headingSigmaRad);
  const remarks = [
    'From the aeroplane’s own airspeed and heading, whose errors are unknown; the heading is taken as true.',
  ];
  return [
    {
      startS: run.startS,
      endS: run.endS,
      altitudeM: run.altitudeM,
      ...intervals(wind.fromRad, wind.speedMps, sigma, sigma, normal95, 'recorded airspeed and heading', remarks),
      method: 'recorded airspeed',
    },
  ];
}

function windWithIntervals(
  air: Velocity,
  covariance: readonly (readonly number[])[],
  factor: number,
  remarks: readonly string[],
) {
  const { fromRad, speedMps } = windOfVelocity(air);
  const [[ee, en], [, nn]] = covariance;
  const unit =
    speedMps > 0 ? { e: air.eastMps / speedMps, n: air.northMps / speedMps } : { e: Math.SQRT1_2, n: Math.SQRT1_2 };
  const along = Math.sqrt(unit.e ** 2 * ee + 2 * unit.e * unit.n * en + unit.n ** 2 * nn);
  const across = Math.sqrt(unit.n ** 2 * ee - 2 * unit.e * unit.n * en + unit.e ** 2 * nn);
  const method = 'centre of the circle through the ground velocities';
  return intervals(fromRad, speedMps, along, across, factor, method, remarks);
}

/** Intervals of a speed and a direction from the errors along and across; a wind that may be calm has any direction. */
function intervals(
  fromRad: number,
  speedMps: number,
  alongMps: number,
  acrossMps: number,
  factor: number,
  method: string,
  remarks: readonly string[],
) {
  const most = factor * acrossMps;
  const angle = most < speedMps ? Math.asin(most / speedMps) : Math.PI;
  // The larger component of error also lengthens a short vector: the lower limit of a speed is never below 0.
  const speed = measured(speedMps, alongMps, method, remarks, factor);
  const high = most < speedMps ? speed.high : Math.max(speed.high, Math.hypot(speedMps, most));
  return {
    fromRad: { value: fromRad, low: fromRad - angle, high: fromRad + angle, method },
    speedMps: { ...speed, low: most < speedMps ? Math.max(0, speed.low) : 0, high },
  };
}
