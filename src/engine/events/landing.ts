import type { Landing } from '../../../shared/analysis.ts';
import { localPlane } from '../geo/local-plane.ts';
import type { Motion } from '../track/motion.ts';
import { firstPullsAround, landingManners } from './flight-path.ts';
import { analyseRun, type RunCandidate, type RunSettings } from './ground-run.ts';
import { lagSigmaS } from './recorder-lags.ts';
import type { VerticalNoise } from './height-noise.ts';
import type { Prior } from './linear-gaussian.ts';
import { measured } from './take-off.ts';
import type { GivenInstants } from './take-off.ts';

/**
 * Touchdown speed against the speed over the last 50 ft, over the ground. The final approach is flown at 1.3 times the
 * stalling speed, and the wheels touch at little more than it, or at up to 1.2 times it on the main wheels of a tailwheel
 * aeroplane (FAA-H-8083-3C ch. 9 and 14): 0.77 to 0.92 in still air, and a headwind of a seventh of the airspeed lowers
 * that to 0.73 and 0.91. It keeps a long float over the runway, which slows the aeroplane as rolling does, from being taken for
 * the roll.
 */
const touchdownShare: Prior = { mean: 0.82, sigma: 0.1 };

/** What is believed about a landing, seen backwards in time. */
export function landingSettings(given: GivenInstants, flyingMps: number): RunSettings {
  return {
    direction: -1,
    slope: { mean: 0, sigma: 0.02 },
    gustMps2: [0.1, 0.2, 0.4],
    // Wheels and brakes slow it down more than the air did, by little or by much.
    step: { mean: -0.6, sigma: 0.8 },
    manners: landingManners,
    // A gentle touch is 0.2, a firm one 1 m/s.
    sinkMps: { mean: 0.5, sigma: 0.25 },
    curvatureMps2: 0.5,
    // The flare is gentler than a rotation.
    firstPulls: firstPullsAround(0.5),
    liftoffSpeedMps: { mean: touchdownShare.mean * flyingMps, sigma: touchdownShare.sigma * flyingMps },
    ...(given.start === undefined ? {} : { givenStart: given.start }),
    ...(given.change === undefined ? {} : { givenChange: given.change }),
  };
}

/**
 * @param backward the motion reversed in time; the candidate's times and the given instants are in it (negated).
 */
export function landing(
  backward: Motion,
  noise: VerticalNoise,
  candidate: RunCandidate,
  given: GivenInstants,
): Landing {
  const run = analyseRun(backward, noise, candidate, landingSettings(given, candidate.flyingMps));
  const { change, start } = run;
  const fullStop = start !== undefined;
  const touchdownS = -(change?.value ?? candidate.airborneS);
  const row = placeRow(backward, -touchdownS);
  const place = localPlane(backward.originLatDeg, backward.originLonDeg).toDegrees(
    backward.eastM[row],
    backward.northM[row],
  );
  return {
    touchdown: {
      timeS: touchdownS,
      sigmaS: given.change?.sigma ?? Math.hypot(change?.sigma ?? 3, lagSigmaS),
      origin: given.change === undefined ? 'found' : 'pilot',
    },
    ...(fullStop
      ? {
          stop: {
            timeS: -start.timeS,
            sigmaS: given.start?.sigma ?? Math.hypot(start.sigmaS, lagSigmaS),
            origin: given.start === undefined ? ('found' as const) : ('pilot' as const),
          },
        }
      : {}),
    ...(fullStop && run.distanceM !== undefined
      ? { groundRollM: measured(run.distanceM, `${run.distanceMethod} from touchdown`) }
      : {}),
    ...(run.speedMps === undefined
      ? {}
      : { touchdownSpeedMps: measured(run.speedMps, 'speed over the ground at touchdown') }),
    // Backwards the run points the other way.
    headingRad: (run.headingRad + Math.PI) % (2 * Math.PI),
    latDeg: place.latDeg,
    lonDeg: place.lonDeg,
    remarks: run.remarks,
  };
}

/** The landing of a touch-and-go: too short on the ground for more than an estimate of the touchdown. */
export function briefLanding(motion: Motion, touchdown: Prior, given: GivenInstants): Landing {
  const timeS = given.change === undefined ? touchdown.mean : -given.change.mean;
  const row = placeRow(motion, timeS);
  const place = localPlane(motion.originLatDeg, motion.originLonDeg).toDegrees(motion.eastM[row], motion.northM[row]);
  const speed = motion.groundSpeedMps[row];
  return {
    touchdown: {
      timeS,
      sigmaS: given.change?.sigma ?? touchdown.sigma,
      origin: given.change === undefined ? 'found' : 'pilot',
    },
    ...(Number.isFinite(speed)
      ? {
          touchdownSpeedMps: {
            value: speed,
            low: speed - 4,
            high: speed + 4,
            method: 'speed over the ground near touchdown',
          },
        }
      : {}),
    headingRad: motion.trackRad[row],
    latDeg: place.latDeg,
    lonDeg: place.lonDeg,
    remarks: ['Touch-and-go: the touchdown is told from the end of the descent, to about two seconds.'],
  };
}

function placeRow(motion: Motion, timeS: number): number {
  let best = -1;
  for (let row = 0; row < motion.timeS.length; row += 1) {
    if (Number.isNaN(motion.eastM[row])) continue;
    if (best < 0 || Math.abs(motion.timeS[row] - timeS) < Math.abs(motion.timeS[best] - timeS)) best = row;
  }
  return best;
}
