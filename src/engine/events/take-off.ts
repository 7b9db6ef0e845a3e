import type { AnalysisOptions, Takeoff } from '../../../shared/analysis.ts';
import type { Measured } from '../../../shared/measured.ts';
import { localPlane } from '../geo/local-plane.ts';
import type { Motion } from '../track/motion.ts';
import { firstRowAt } from './along-track.ts';
import { firstPullsAround, takeoffManners } from './flight-path.ts';
import { analyseRun, type GroundRun, type RunCandidate, type RunSettings } from './ground-run.ts';
import { lagSigmaS } from './recorder-lags.ts';
import type { VerticalNoise } from './height-noise.ts';
import type { Prior } from './linear-gaussian.ts';
import type { Spread } from './mixture.ts';
import { screenPoints } from './screens.ts';

/** 50 ft and 100 ft. */
export const usualScreensM = [15.24, 30.48] as const;

export interface GivenInstants {
  readonly start?: Prior;
  readonly change?: Prior;
}

/** Runways without a stated slope: level within 2 %, one sigma (rules of thumb reach to 2 %, farm strips have more). */
const unknownSlope: Prior = { mean: 0, sigma: 0.02 };

/**
 * Lift-off speed against the speed at 50 ft over the ground: lift-off is flown at 1.05 to 1.25, the climb over the
 * obstacle at 1.2 or more times the stalling speed (FAA-H-8083-25C ch. 11; legacy 14 CFR 23.51), and wind lowers the ratio.
 */
const liftoffShare: Prior = { mean: 0.87, sigma: 0.09 };

/** What is believed about a take-off before looking at it. */
export function takeoffSettings(candidate: RunCandidate, options: AnalysisOptions, given: GivenInstants): RunSettings {
  return {
    direction: 1,
    slope: options.runwaySlope === undefined ? unknownSlope : { mean: options.runwaySlope, sigma: 0.003 },
    gustMps2: [0.05, 0.1, 0.2, 0.4],
    // Raising the nose to lift-off costs induced drag of some 5 % of the weight, less the friction that the wheels lose.
    step: { mean: -0.45, sigma: 0.35 },
    manners: takeoffManners,
    sinkMps: { mean: 0, sigma: 0.02 },
    curvatureMps2: 0.15,
    // A pull of the order of 0.15 g at lift-off.
    firstPulls: firstPullsAround(1.5),
    liftoffSpeedMps: liftoffSpeed(candidate, options),
    ...(given.start === undefined ? {} : { givenStart: given.start }),
    ...(given.change === undefined ? {} : { givenChange: given.change }),
  };
}

/** From the speed at 50 ft and, where the pilot knows his usual lift-off airspeed, from that less the wind. */
function liftoffSpeed(candidate: RunCandidate, options: AnalysisOptions): Prior {
  const { flyingMps } = candidate;
  const fromClimb = { mean: liftoffShare.mean * flyingMps, sigma: liftoffShare.sigma * flyingMps };
  const usual = options.usualLiftoffTasMps;
  if (usual === undefined) return fromClimb;
  const wind = options.headwindMps ?? { value: 0, sigma: 4 };
  const known = { mean: usual.value - wind.value, sigma: Math.hypot(usual.sigma, wind.sigma) };
  const weight = known.sigma ** -2;
  const other = fromClimb.sigma ** -2;
  return {
    mean: (weight * known.mean + other * fromClimb.mean) / (weight + other),
    sigma: (weight + other) ** -0.5,
  };
}

export function takeOff(
  motion: Motion,
  noise: VerticalNoise,
  candidate: RunCandidate,
  outcome: 'flown' | 'touch-and-go',
  options: AnalysisOptions,
  given: GivenInstants,
): Takeoff {
  const settings = takeoffSettings(candidate, options, given);
  const run = analyseRun(motion, noise, candidate, settings);
  const remarks = [...run.remarks];
  if (run.start?.rolling === true && outcome === 'flown') {
    remarks.push('Rolling start: the run began at some speed, so it is shorter than one from standstill.');
  }
  if (outcome === 'touch-and-go') {
    remarks.push(
      'Touch-and-go: the run is counted from where the power came up; when that was can only be told roughly.',
    );
  }
  const screens = screenPoints(motion, noise, run, options.screenHeightsM ?? usualScreensM);
  if (screens.length < (options.screenHeightsM ?? usualScreensM).length) {
    remarks.push('Not every screen height can be told from this recording.');
  }
  const { change, start } = run;
  const unseen = unseenStart(motion, candidate);
  return {
    outcome,
    rollStart: {
      timeS: start?.timeS ?? unseen.mean,
      sigmaS: given.start?.sigma ?? Math.hypot(start?.sigmaS ?? unseen.sigma, lagSigmaS),
      origin: given.start === undefined ? 'found' : 'pilot',
    },
    ...(change === undefined
      ? {}
      : {
          liftoff: {
            timeS: change.value,
            sigmaS: given.change?.sigma ?? Math.hypot(change.sigma, lagSigmaS),
            origin: given.change === undefined ? ('found' as const) : ('pilot' as const),
          },
        }),
    rollingStart: start?.rolling ?? false,
    startSpeedMps: start?.startSpeedMps ?? 0,
    headingRad: run.headingRad,
    ...placeOf(motion, run),
    ...(Number.isFinite(candidate.groundAltitudeM) ? { startAltitudeM: candidate.groundAltitudeM } : {}),
    ...(run.distanceM === undefined
      ? {}
      : { groundRollM: measured(run.distanceM, `${run.distanceMethod} to lift-off`) }),
    ...(run.durationS === undefined
      ? {}
      : { timeToLiftoffS: measured(run.durationS, 'from first motion to lift-off') }),
    ...(run.speedMps === undefined
      ? {}
      : { liftoffSpeedMps: measured(run.speedMps, 'speed over the ground at lift-off') }),
    screens,
    remarks,
  };
}

/** Somewhere between the last slow reading and the next one. */
function unseenStart(motion: Motion, candidate: RunCandidate): Prior {
  const { timeS, groundSpeedMps } = motion;
  let next = firstRowAt(timeS, candidate.slowS + 1e-3);
  while (next < timeS.length - 1 && !Number.isFinite(groundSpeedMps[next])) next += 1;
  const apart = Math.max(1, (timeS[next] ?? candidate.airborneS) - candidate.slowS);
  return { mean: candidate.slowS + apart / 2, sigma: apart / Math.sqrt(12) };
}

export function measured(spread: Spread, method: string): Measured {
  return { value: spread.value, low: spread.low, high: spread.high, method };
}

export function placeOf(motion: Motion, run: GroundRun): { latDeg: number; lonDeg: number } {
  const row = run.latLonRow;
  return localPlane(motion.originLatDeg, motion.originLonDeg).toDegrees(motion.eastM[row], motion.northM[row]);
}
