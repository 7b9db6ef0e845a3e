import type { AnalysisOptions, Takeoff } from '../../../shared/analysis.ts';
import type { Measured } from '../../../shared/measured.ts';
import { localPlane } from '../geo/local-plane.ts';
import type { Motion } from '../track/motion.ts';
import { firstPullsAround } from './flight-path.ts';
import { analyseRun, type GroundRun, lagSigmaS, type RunCandidate, type RunSettings } from './ground-run.ts';
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

/** Runways without a stated slope: level within about 1.2 %, one sigma (own choice; rules allow 2 % and farm strips have more). */
const unknownSlope: Prior = { mean: 0, sigma: 0.012 };

/** What is believed about a take-off before looking at it. */
export function takeoffSettings(options: AnalysisOptions, given: GivenInstants): RunSettings {
  const usual = options.usualLiftoffTasMps;
  const wind = options.headwindMps ?? { value: 0, sigma: 4 };
  return {
    direction: 1,
    slope: options.runwaySlope === undefined ? unknownSlope : { mean: options.runwaySlope, sigma: 0.003 },
    gustMps2: [0.05, 0.1, 0.2, 0.4],
    // Raising the nose to lift-off costs induced drag of some 5 % of the weight, less the friction that the wheels lose.
    step: { mean: -0.45, sigma: 0.3 },
    curvatureMps2: 0.15,
    // A pull of the order of 0.15 g at lift-off.
    firstPulls: firstPullsAround(1.5),
    ...(usual === undefined
      ? {}
      : { liftoffSpeedMps: { mean: usual.value - wind.value, sigma: Math.hypot(usual.sigma, wind.sigma) } }),
    ...(given.start === undefined ? {} : { givenStart: given.start }),
    ...(given.change === undefined ? {} : { givenChange: given.change }),
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
  const settings = takeoffSettings(options, given);
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
  return {
    outcome,
    rollStart: {
      timeS: start?.timeS ?? candidate.slowS,
      sigmaS: given.start?.sigma ?? Math.hypot(start?.sigmaS ?? Math.max(1, 0.5 / motion.rateHz), lagSigmaS),
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

export function measured(spread: Spread, method: string): Measured {
  return { value: spread.value, low: spread.low, high: spread.high, method };
}

export function placeOf(motion: Motion, run: GroundRun): { latDeg: number; lonDeg: number } {
  const row = run.latLonRow;
  return localPlane(motion.originLatDeg, motion.originLonDeg).toDegrees(motion.eastM[row], motion.northM[row]);
}
