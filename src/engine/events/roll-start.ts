import type { Motion } from '../track/motion.ts';
import { firstRowAt } from './along-track.ts';
import { type Prior, solve } from './linear-gaussian.ts';
import { recorderLags } from './recorder-lags.ts';

/**
 * When does the take-off run begin? A posterior over the start on a grid, from speeds up to about 10 m/s. Before the
 * start the aeroplane stands, or rolls at a speed that changes slowly; after it the acceleration builds up over the
 * opening of the throttle (`ramp` seconds) and then falls gently with speed. So the start is extrapolated backwards from
 * the run rather than read from a threshold (which misses `V / a`, 0.8 s at 2 m/s).
 *
 * A standing run starts a little before its first motion: from the release of the brakes or the opening of the throttle
 * the thrust has to build up to the rolling resistance, up to a second or more that no track shows. Its usual length is
 * counted in, its spread is in the sigma.
 */
export interface RollStart {
  readonly timeS: number;
  readonly sigmaS: number;
  readonly rolling: boolean;
  /** Ground speed at the start; 0 when standing. */
  readonly startSpeedMps: number;
  readonly startSpeedSigmaMps: number;
}

export interface RollStartBounds {
  /** The run is surely going on here (a third to a half of the flying speed, still accelerating). */
  readonly goingS: number;
  readonly goingMps: number;
  /** Nothing before this belongs to the run. */
  readonly notBeforeS: number;
}

const ramps = [
  { timeS: 0.2, weight: 0.25 },
  { timeS: 1, weight: 0.2 },
  { timeS: 2, weight: 0.25 },
  { timeS: 3, weight: 0.18 },
  { timeS: 4.5, weight: 0.08 },
  { timeS: 7.5, weight: 0.04 },
] as const;
const stepS = 0.1;
/** From the throttle beginning to open on the move to more acceleration, or from brakes off to less: it is not one instant. */
const rollingSigmaS = 0.5;
/** From brakes off or throttle opening to the first motion (own choice; nothing when the power was set against the brakes). */
const unseenS: Prior = { mean: 0.4, sigma: 0.55 };
/** Speeds above this say nothing more about the start. */
const usedMps = 11;
/** Below this many receivers show zero, or wandering. */
const deadMps = 0.7;
const standingMps = 1.2;
const standingSeconds = 1.5;

interface Reading {
  readonly fromS: number;
  readonly toS: number;
  readonly speedMps: number;
  readonly sigmaMps: number;
}

export function findRollStart(motion: Motion, bounds: RollStartBounds, direction: 1 | -1): RollStart | undefined {
  const lagS = direction * recorderLags(motion).speedS;
  const window = rollWindow(motion, bounds, lagS);
  if (window === undefined) return undefined;
  const readings = readingsOf(motion, window.fromS, window.toS, lagS);
  if (readings.filter((reading) => reading.speedMps > deadMps).length < 2) return undefined;
  const rolling = !window.standing;
  const times: number[] = [];
  for (let time = window.earliestS; time <= window.latestS + 1e-9; time += stepS) times.push(time);
  if (times.length === 0) return undefined;
  const found: { timeS: number; logWeight: number; speed: number; speedVariance: number }[] = [];
  for (const time of times) {
    for (const ramp of ramps) {
      const result = fit(readings, time, ramp.timeS, rolling);
      if (result === undefined) continue;
      found.push({
        timeS: time,
        logWeight: result.logEvidence + Math.log(ramp.weight),
        speed: result.speed,
        speedVariance: result.speedVariance,
      });
    }
  }
  if (found.length === 0) return undefined;
  const most = Math.max(...found.map((node) => node.logWeight));
  let total = 0;
  let first = 0;
  let speed = 0;
  for (const node of found) {
    const weight = Math.exp(node.logWeight - most);
    total += weight;
    first += weight * (node.timeS - window.latestS);
    speed += weight * node.speed;
  }
  const mean = first / total;
  const startSpeed = speed / total;
  const unseen = !rolling && direction === 1;
  let variance = stepS ** 2 / 12;
  let speedVariance = 0;
  for (const node of found) {
    const weight = Math.exp(node.logWeight - most) / total;
    variance += weight * (node.timeS - window.latestS - mean) ** 2;
    speedVariance += weight * (node.speedVariance + (node.speed - startSpeed) ** 2);
  }
  return {
    timeS: window.latestS + mean - (unseen ? unseenS.mean : 0),
    sigmaS: Math.hypot(Math.sqrt(variance), unseen ? unseenS.sigma : 0, rolling ? rollingSigmaS : 0),
    rolling,
    startSpeedMps: rolling ? Math.max(0, startSpeed) : 0,
    startSpeedSigmaMps: rolling ? Math.sqrt(speedVariance) : 0,
  };
}

interface RollWindow {
  readonly fromS: number;
  readonly toS: number;
  readonly earliestS: number;
  readonly latestS: number;
  readonly standing: boolean;
}

/** Goes back from the running part to where the speed is no longer rising steadily. */
function rollWindow(motion: Motion, bounds: RollStartBounds, lagS: number): RollWindow | undefined {
  const { timeS, groundSpeedMps, accelerationMps2 } = motion;
  const going = Math.min(timeS.length - 1, firstRowAt(timeS, bounds.goingS));
  let begin = -1;
  let lowest = Number.POSITIVE_INFINITY;
  let standingSince = Number.NaN;
  let standing = false;
  for (let row = going; row >= 0 && timeS[row] >= bounds.notBeforeS; row -= 1) {
    const speed = groundSpeedMps[row];
    if (!Number.isFinite(speed)) continue;
    lowest = Math.min(lowest, speed);
    if (begin < 0) {
      // Standing, or no longer accelerating at less than half the going speed, or faster again further back.
      const quiet = accelerationMps2[row] < 0.35 && speed < 0.6 * bounds.goingMps;
      if (speed < standingMps || quiet || speed > lowest + 1.5) begin = row;
      else continue;
    }
    if (speed < standingMps) {
      if (Number.isNaN(standingSince)) standingSince = timeS[row];
      if (standingSince - timeS[row] >= standingSeconds) standing = true;
    } else if (timeS[begin] - timeS[row] > 4) break;
    else standingSince = Number.NaN;
    if (timeS[begin] - timeS[row] > 12) break;
  }
  if (begin < 0) return undefined;
  // The end of the used speeds: 11 m/s, or half of the going speed more where that is slower.
  let end = begin;
  while (end < going && !(groundSpeedMps[end] > Math.min(usedMps, bounds.goingMps))) end += 1;
  end = Math.min(going, Math.max(end, begin + 2));
  const back = standing ? 4 : 5;
  const beginS = timeS[begin] - lagS;
  const fromS = Math.max(bounds.notBeforeS, timeS[begin] - back);
  return {
    fromS,
    toS: timeS[end],
    earliestS: Math.max(bounds.notBeforeS - 1, beginS - 5),
    latestS: Math.min(timeS[end] - lagS, beginS + 5),
    standing,
  };
}

function readingsOf(motion: Motion, fromS: number, toS: number, lagS: number): Reading[] {
  const readings: Reading[] = [];
  const { timeS } = motion;
  const noise = Number.isFinite(motion.speedNoiseMps) ? motion.speedNoiseMps : 0.15;
  if (motion.speedSource === 'receiver') {
    for (let row = firstRowAt(timeS, fromS); row < timeS.length && timeS[row] <= toS; row += 1) {
      const speed = motion.groundSpeedMps[row];
      if (!Number.isFinite(speed)) continue;
      const time = timeS[row] - lagS;
      // Rates above 5 Hz repeat their noise: they count as 5 Hz.
      const repeated = Math.sqrt(Math.max(1, motion.rateHz / 5));
      const sigma = repeated * Math.hypot(noise, 0.08, speed < deadMps ? 0.4 : 0);
      readings.push({ fromS: time, toS: time, speedMps: speed, sigmaMps: sigma });
    }
    return readings;
  }
  let last = -1;
  const positionNoise = motion.positionNoiseM ?? 0.5;
  for (let row = firstRowAt(timeS, fromS); row < timeS.length && timeS[row] <= toS; row += 1) {
    if (Number.isNaN(motion.eastM[row])) continue;
    if (last >= 0) {
      const span = timeS[row] - timeS[last];
      if (span < 0.45) continue;
      const moved = Math.hypot(motion.eastM[row] - motion.eastM[last], motion.northM[row] - motion.northM[last]);
      const speed = moved / span;
      const sigma = Math.hypot((1.2 * positionNoise) / span, 0.1, speed < deadMps ? 0.5 : 0);
      readings.push({
        fromS: timeS[last] - lagS,
        toS: timeS[row] - lagS,
        speedMps: speed,
        sigmaMps: sigma,
      });
    }
    last = row;
  }
  return readings;
}

const standingPriors: Prior[] = [
  { mean: 2, sigma: 1.2 },
  { mean: 0.05, sigma: 0.08 },
];
const rollingPriors: Prior[] = [...standingPriors, { mean: 3, sigma: 3 }, { mean: 0.1, sigma: 0.4 }];
/** Taxiing on to a rolling start the speed wavers by so much, m/s. */
const waverMps = 0.25;

/** Start given: acceleration, its decrease, and for a rolling start the speed and its slow change before. */
function fit(
  readings: readonly Reading[],
  startS: number,
  rampS: number,
  rolling: boolean,
): { logEvidence: number; speed: number; speedVariance: number } | undefined {
  const priors = rolling ? rollingPriors : standingPriors;
  const size = priors.length;
  const gram = new Float64Array(size * size);
  const right = new Float64Array(size);
  let square = 0;
  let logNoise = 0;
  for (const reading of readings) {
    const before = rolling && reading.toS < startS;
    const sigma = before ? Math.hypot(reading.sigmaMps, waverMps) : reading.sigmaMps;
    const weight = 1 / (sigma * sigma);
    const columns = meanOver(reading, startS, rampS, rolling);
    for (let a = 0; a < size; a += 1) {
      right[a] += weight * columns[a] * reading.speedMps;
      for (let b = 0; b < size; b += 1) gram[a * size + b] += weight * columns[a] * columns[b];
    }
    square += weight * reading.speedMps ** 2;
    logNoise += Math.log(sigma);
  }
  const solution = solve({ gram, right, square }, priors);
  if (solution === undefined) return undefined;
  return {
    logEvidence: solution.logEvidence - logNoise,
    speed: rolling ? solution.mean[2] : 0,
    speedVariance: rolling ? solution.covariance[2 * size + 2] : 0,
  };
}

function meanOver(reading: Reading, startS: number, rampS: number, rolling: boolean): number[] {
  if (reading.toS <= reading.fromS) return columnsAt(reading.fromS - startS, rampS, rolling);
  // Simpson's rule is exact enough for a second of a smooth run.
  const from = columnsAt(reading.fromS - startS, rampS, rolling);
  const middle = columnsAt((reading.fromS + reading.toS) / 2 - startS, rampS, rolling);
  const to = columnsAt(reading.toS - startS, rampS, rolling);
  return from.map((value, index) => (value + 4 * middle[index] + to[index]) / 6);
}

function columnsAt(since: number, rampS: number, rolling: boolean): number[] {
  let gained = 0;
  let less = 0;
  if (since > 0) {
    gained = since < rampS ? since ** 2 / (2 * rampS) : since - rampS / 2;
    less = -0.5 * gained ** 2;
  }
  return rolling ? [gained, less, 1, Math.min(0, since)] : [gained, less];
}
