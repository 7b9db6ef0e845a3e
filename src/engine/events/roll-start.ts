import type { Motion } from '../track/motion.ts';
import { firstRowAt } from './along-track.ts';
import { type Prior, solve } from './linear-gaussian.ts';
import { type RecorderLags, recorderLags } from './recorder-lags.ts';
import { median } from '../stats/sample.ts';

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

/**
 * How long the acceleration takes to build up, and what of that is over before anything moves (`unseenS`): with the power
 * set against the brakes nothing but their release; else the thrust must first reach rolling resistance and slope. It
 * grows with the square of the revolutions, F = T (t / r)^2, so that with 0.2 to 0.6 m/s2 of resistance (friction 0.02
 * to 0.06) against 2 m/s2 of acceleration a third to a half of the opening goes by unseen. Less in proportion for slow
 * openings, which begin above idle. (Static thrust and revolutions: ordinary propeller theory; the shares are own judgement.)
 */
const ramps: readonly { readonly timeS: number; readonly weight: number; readonly unseenS: Prior }[] = [
  { timeS: 0.2, weight: 0.25, unseenS: { mean: 0.1, sigma: 0.15 } },
  { timeS: 1, weight: 0.2, unseenS: { mean: 0.45, sigma: 0.35 } },
  { timeS: 2, weight: 0.25, unseenS: { mean: 0.7, sigma: 0.45 } },
  { timeS: 3, weight: 0.18, unseenS: { mean: 0.9, sigma: 0.5 } },
  { timeS: 4.5, weight: 0.08, unseenS: { mean: 1.1, sigma: 0.6 } },
  { timeS: 7.5, weight: 0.04, unseenS: { mean: 1.4, sigma: 0.8 } },
];
const stepS = 0.1;
/** From the throttle beginning to open on the move to more acceleration, or from brakes off to less: it is not one instant. */
const rollingSigmaS = 0.5;
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
  const lags = recorderLags(motion);
  const lagS = direction * lags.speedS;
  const window = rollWindow(motion, bounds, lagS);
  if (window === undefined) return undefined;
  // Forwards in time the filter of the receiver is part of the model, a landing backwards is shifted by it.
  const filterS = direction === 1 ? lags.speedS : 0;
  const readings = readingsOf(motion, window.fromS, window.toS, direction === 1 ? 0 : lagS);
  if (readings.filter((reading) => reading.speedMps > deadMps).length < 2) return undefined;
  const rolling = !window.standing;
  // Backwards in time the force of a landing is that of braking, which follows no rule.
  const forces = direction === 1 ? forceReadings(motion, window, lags) : [];
  const times: number[] = [];
  for (let time = window.earliestS; time <= window.latestS + 1e-9; time += stepS) times.push(time);
  if (times.length === 0) return undefined;
  const unseen = !rolling && direction === 1;
  const found: { timeS: number; variance: number; logWeight: number; speed: number; speedVariance: number }[] = [];
  for (const time of times) {
    for (const ramp of ramps) {
      const result = fit(readings, forces, time, ramp.timeS, rolling, filterS);
      if (result === undefined) continue;
      found.push({
        timeS: unseen ? time - ramp.unseenS.mean : time,
        variance: unseen ? ramp.unseenS.sigma ** 2 : 0,
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
  let variance = stepS ** 2 / 12;
  let speedVariance = 0;
  for (const node of found) {
    const weight = Math.exp(node.logWeight - most) / total;
    variance += weight * (node.variance + (node.timeS - window.latestS - mean) ** 2);
    speedVariance += weight * (node.speedVariance + (node.speed - startSpeed) ** 2);
  }
  return {
    timeS: window.latestS + mean,
    sigmaS: Math.hypot(Math.sqrt(variance), rolling ? rollingSigmaS : 0),
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
  const along = directionOf(motion, fromS, toS);
  const positionNoise = motion.positionNoiseM ?? 0.5;
  for (let row = firstRowAt(timeS, fromS); row < timeS.length && timeS[row] <= toS; row += 1) {
    if (Number.isNaN(motion.eastM[row])) continue;
    if (last >= 0) {
      const span = timeS[row] - timeS[last];
      if (span < 0.45) continue;
      const east = motion.eastM[row] - motion.eastM[last];
      const north = motion.northM[row] - motion.northM[last];
      // Along the run: the mere distance between two wandering fixes is never negative, which looks like motion.
      const speed =
        along === undefined ? Math.hypot(east, north) / span : (along.east * east + along.north * north) / span;
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

/** Unit vector of the way covered between two times; undefined when that is too short to have a direction. */
function directionOf(motion: Motion, fromS: number, toS: number): { east: number; north: number } | undefined {
  const { timeS, eastM, northM } = motion;
  let first = -1;
  let last = -1;
  for (let row = firstRowAt(timeS, fromS); row < timeS.length && timeS[row] <= toS; row += 1) {
    if (Number.isNaN(eastM[row])) continue;
    if (first < 0) first = row;
    last = row;
  }
  if (first < 0) return undefined;
  const east = eastM[last] - eastM[first];
  const north = northM[last] - northM[first];
  const size = Math.hypot(east, north);
  return size > 10 ? { east: east / size, north: north / size } : undefined;
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
  forces: readonly ForceReading[],
  startS: number,
  rampS: number,
  rolling: boolean,
  filterS: number,
): { logEvidence: number; speed: number; speedVariance: number } | undefined {
  const priors = [...(rolling ? rollingPriors : standingPriors), ...(forces.length > 0 ? [forceOffset] : [])];
  const size = priors.length;
  const gram = new Float64Array(size * size);
  const right = new Float64Array(size);
  let square = 0;
  let logNoise = 0;
  const add = (columns: readonly number[], value: number, sigma: number): void => {
    const weight = 1 / (sigma * sigma);
    for (let a = 0; a < columns.length; a += 1) {
      right[a] += weight * columns[a] * value;
      for (let b = 0; b < columns.length; b += 1) gram[a * size + b] += weight * columns[a] * columns[b];
    }
    square += weight * value ** 2;
    logNoise += Math.log(sigma);
  };
  for (const reading of readings) {
    const before = rolling && reading.toS < startS;
    const sigma = before ? Math.hypot(reading.sigmaMps, waverMps) : reading.sigmaMps;
    add(meanOver(reading, startS, rampS, rolling, filterS), reading.speedMps, sigma);
  }
  for (const force of forces) add(forceColumns(force.timeS - startS, rampS, rolling), force.mps2, force.sigmaMps2);
  const solution = solve({ gram, right, square }, priors);
  if (solution === undefined) return undefined;
  return {
    logEvidence: solution.logEvidence - logNoise,
    speed: rolling ? solution.mean[2] : 0,
    speedVariance: rolling ? solution.covariance[2 * size + 2] : 0,
  };
}

function meanOver(reading: Reading, startS: number, rampS: number, rolling: boolean, filterS: number): number[] {
  const at = (timeS: number): number[] => columnsAt(timeS - startS, rampS, rolling, filterS);
  if (reading.toS <= reading.fromS) return at(reading.fromS);
  // Simpson's rule is exact enough for a second of a smooth run.
  const from = at(reading.fromS);
  const middle = at((reading.fromS + reading.toS) / 2);
  const to = at(reading.toS);
  return from.map((value, index) => (value + 4 * middle[index] + to[index]) / 6);
}

/**
 * Speed gained for a unit of acceleration, what its decrease takes off, the speed before and its slow change, as a
 * first-order filter of `filterS` shows them. (Of an acceleration that builds up to 1 over r the speed is t^2 / 2r, then
 * t - r / 2; the filter's answer to that is exact, but for the small decrease.)
 */
function columnsAt(since: number, rampS: number, rolling: boolean, filterS: number): number[] {
  let gained = 0;
  if (since > 0) {
    const fading = filterS > 0 ? Math.exp(-since / filterS) : 0;
    if (since < rampS) gained = (since ** 2 / 2 - filterS * since + filterS ** 2 * (1 - fading)) / rampS;
    else {
      const built = filterS > 0 ? Math.exp(-(since - rampS) / filterS) - fading : 0;
      gained = since - rampS / 2 - filterS + (filterS ** 2 * built) / rampS;
    }
  }
  const less = -0.5 * gained ** 2;
  if (!rolling) return [gained, less];
  const before = since < 0 || filterS === 0 ? Math.min(0, since - filterS) : -filterS * Math.exp(-since / filterS);
  return [gained, less, 1, before];
}

/** The force that goes with the speeds of {@link columnsAt}, and a constant. */
function forceColumns(since: number, rampS: number, rolling: boolean): number[] {
  let rate = 0;
  let less = 0;
  if (since > 0) {
    rate = since < rampS ? since / rampS : 1;
    less = -rate * (since < rampS ? since ** 2 / (2 * rampS) : since - rampS / 2);
  }
  return rolling ? [rate, less, 0, since < 0 ? 1 : 0, 1] : [rate, less, 1];
}

interface ForceReading {
  /** True time. */
  readonly timeS: number;
  readonly mps2: number;
  readonly sigmaMps2: number;
}

/** Slope of the ground against that of the standstills, as a force: two per cent. */
const forceOffset: Prior = { mean: 0, sigma: 0.2 };
/** Above this speed noses and tails are raised, which turns gravity into the force. */
const forceUsedMps = 8;
const forceBinS = 0.2;
/** Bumps and the engine in an average over a fifth of a second; what is left of them between neighbours is less. */
const leastForceNoiseMps2 = 0.12;

/** The forward force around the start, in averages, at true times; empty where the recording has none. */
function forceReadings(motion: Motion, window: RollWindow, lags: RecorderLags): ForceReading[] {
  const { force, timeS, groundSpeedMps } = motion;
  const { forceLead } = lags;
  if (force === undefined || forceLead === undefined) return [];
  const bins: { timeS: number; mps2: number }[] = [];
  let [sum, times, count, beganS] = [0, 0, 0, Number.NaN];
  const close = (): void => {
    if (count > 0) bins.push({ timeS: times / count + forceLead.value, mps2: sum / count });
    [sum, times, count] = [0, 0, 0];
  };
  for (let row = firstRowAt(timeS, window.fromS - lags.speedS - forceLead.value); row < timeS.length; row += 1) {
    if (timeS[row] > window.toS || groundSpeedMps[row] > forceUsedMps) break;
    if (!Number.isFinite(force.forwardMps2[row])) continue;
    if (count > 0 && timeS[row] - beganS >= forceBinS - 1e-3) close();
    if (count === 0) beganS = timeS[row];
    sum += force.forwardMps2[row];
    times += timeS[row];
    count += 1;
  }
  close();
  if (bins.length < 10) return [];
  // From one average to the next but one the force changes little but by bumps.
  const jumps = bins.slice(2).map((bin, index) => Math.abs(bin.mps2 - 2 * bins[index + 1].mps2 + bins[index].mps2));
  const noise = Math.max(leastForceNoiseMps2, (1.4826 * median(jumps)) / Math.sqrt(6));
  return bins.map((bin) => ({ ...bin, sigmaMps2: noise }));
}
