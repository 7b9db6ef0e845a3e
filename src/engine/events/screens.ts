import type { ScreenPoint } from '../../../shared/analysis.ts';
import type { Motion } from '../track/motion.ts';
import { firstRowAt } from './along-track.ts';
import type { GroundRun } from './ground-run.ts';
import type { VerticalNoise } from './height-noise.ts';
import { type Part, summarise } from './mixture.ts';
import type { TransitionPosterior } from './transition-model.ts';
import { lagSigmaS, recorderLags } from './recorder-lags.ts';

/**
 * When and where the wheels are so high above the point of lift-off. Within the window of the lift-off model the height
 * comes from its paths (readings of height, vertical speed and speed together, lags allowed for); above that from the
 * heights themselves, less the height at lift-off.
 */
export function screenPoints(
  motion: Motion,
  noise: VerticalNoise,
  run: GroundRun,
  heightsM: readonly number[],
): ScreenPoint[] {
  const { change } = run;
  if (change === undefined) return [];
  const points: ScreenPoint[] = [];
  for (const heightM of [...heightsM].sort((a, b) => a - b)) {
    const parts =
      (run.posterior === undefined ? undefined : modelCrossings(run.posterior, heightM)) ??
      readCrossing(motion, noise, run, heightM);
    if (parts === undefined) continue;
    const time = summarise(parts);
    const distance = summarise(
      parts.map((part) => {
        const speed = run.distanceAt(part.mean + 0.5) - run.distanceAt(part.mean - 0.5) || 0;
        return {
          weight: part.weight,
          mean: run.distanceAt(part.mean),
          sigma: Math.hypot(run.distanceSigmaM, speed * part.sigma),
        };
      }),
    );
    if (time === undefined || distance === undefined) continue;
    points.push({
      heightM,
      time: { timeS: time.value, sigmaS: Math.hypot(time.sigma, lagSigmaS), origin: 'found' },
      distanceM: {
        value: distance.value,
        low: distance.low,
        high: distance.high,
        method: `${run.distanceMethod}, to where the height gained since lift-off is reached`,
      },
      timeFromLiftoffS: time.value - change.value,
    });
  }
  return points;
}

/** Where each likely path reaches the height; undefined when most of them do not within the window. */
function modelCrossings(posterior: TransitionPosterior, heightM: number): Part[] | undefined {
  const nodes = [...posterior.nodes].sort((a, b) => b.weight - a.weight).slice(0, 40);
  const parts: Part[] = [];
  let reached = 0;
  let all = 0;
  for (const node of nodes) {
    all += node.weight;
    const crossing = posterior.crossing(node, heightM);
    if (crossing === undefined) continue;
    reached += node.weight;
    parts.push({ weight: node.weight, mean: crossing.timeS, sigma: crossing.sigmaS });
  }
  return reached > 0.8 * all ? parts : undefined;
}

function readCrossing(motion: Motion, noise: VerticalNoise, run: GroundRun, heightM: number): Part[] | undefined {
  const change = run.change;
  if (change === undefined) return undefined;
  const { timeS, altitudeM } = motion;
  const lag = recorderLags(motion).verticalS;
  const before: number[] = [];
  for (let row = firstRowAt(timeS, change.value - 6); row < timeS.length && timeS[row] <= change.value; row += 1) {
    if (Number.isFinite(altitudeM[row])) before.push(altitudeM[row]);
  }
  if (before.length === 0) return undefined;
  const ground = before.reduce((sum, value) => sum + value, 0) / before.length;
  for (let row = firstRowAt(timeS, change.value + 1); row < timeS.length; row += 1) {
    if (timeS[row] > change.value + 300) return undefined;
    if (motion.gaps.some((gap) => gap.startS < timeS[row] && gap.endS > change.value)) return undefined;
    if (!(altitudeM[row] - ground >= heightM)) continue;
    // The same height again a moment later: not a single noisy reading.
    const next = firstRowAt(timeS, timeS[row] + 2);
    if (next < timeS.length && altitudeM[next] - ground < heightM - 2) continue;
    const lasted = timeS[row] - change.value;
    const { whiteM, wander } = noise.geometric;
    const drift = wander.sigmaM * Math.sqrt(2 * (1 - Math.exp(-lasted / wander.timeS)));
    const climb = Math.max(0.7, motion.verticalSpeedMps[row] || 0.7);
    return [
      {
        weight: 1,
        mean: timeS[row] - lag - 0.5 / Math.max(0.2, motion.rateHz),
        sigma: Math.hypot(Math.hypot(drift, whiteM) / climb, 0.3, 0.5 / Math.max(0.2, motion.rateHz)),
      },
    ];
  }
  return undefined;
}
