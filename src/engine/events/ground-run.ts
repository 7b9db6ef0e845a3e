import type { Prior } from './linear-gaussian.ts';
import type { Motion } from '../track/motion.ts';
import { AlongTrack, firstRowAt, positionAt } from './along-track.ts';
import type { VerticalNoise } from './height-noise.ts';
import { type Part, type Spread, summarise, summarisePositive } from './mixture.ts';
import { findRollStart, type RollStart } from './roll-start.ts';
import { estimateTransition, type TransitionPosterior } from './transition-model.ts';
import { lagSigmaS, recorderLags } from './recorder-lags.ts';
import { transitionData, type TransitionBounds, type TransitionSettings } from './transition-window.ts';

/** A run along the ground that ends in the air: a take-off, or a landing seen backwards in time. */
export interface RunCandidate {
  /** Last moment before flight that is slower than a third of flying speed. */
  readonly slowS: number;
  /** First moment that is certainly airborne. */
  readonly airborneS: number;
  /** Speed over the ground there. */
  readonly flyingMps: number;
  /** Height of the recorder on the ground before the run; `NaN` when unknown. */
  readonly groundAltitudeM: number;
  /** The run cannot have begun before this. */
  readonly notBeforeS: number;
  /** On a touch-and-go the slowest moment on the runway: the run is taken to start around it. */
  readonly turnedS?: number;
}

export interface RunSettings extends TransitionSettings {
  readonly direction: 1 | -1;
  /** Given by the pilot, in the time of the motion: replaces what would be found. */
  readonly givenStart?: Prior;
  readonly givenChange?: Prior;
}

export interface GroundRun {
  readonly start?: RollStart;
  /** The change between ground and air: its possible instants with their probabilities. */
  readonly changes: readonly Part[];
  readonly change?: Spread;
  readonly posterior?: TransitionPosterior;
  readonly distanceM?: Spread;
  readonly durationS?: Spread;
  readonly speedMps?: Spread;
  /** Along the ground from the start, at a time of the motion (true time); `NaN` where it cannot be told. */
  distanceAt(timeS: number): number;
  /** One sigma of distances, without that of the instants. */
  readonly distanceSigmaM: number;
  readonly headingRad: number;
  readonly latLonRow: number;
  readonly distanceMethod: string;
  readonly remarks: readonly string[];
}

/** What the model of the rotation leaves out (techniques differ), one sigma, seconds; checked on simulated campaigns. */
const modelSigmaS = 0.08;
/** Bias of a receiver's speed that does not average out over a run, m/s (Doppler speeds drift by some cm/s). */
const speedBiasMps = 0.03;
/** Slow wander of positions over a run: 2.5 m with a memory of 100 s (consumer receivers; own choice within published ranges). */
const positionWanderM = 2.5;
const positionMemoryS = 100;

/** Opening the throttle and spinning up takes so long, seconds. */
const throttleS = 2.2;
/** A flare passes into rolling with less of a sign than a lift-off gives, seconds. */
const landingSigmaS = 0.4;
/** On a touch-and-go there is little roll to learn from, seconds. */
const touchSigmaS = 0.9;

export function analyseRun(
  motion: Motion,
  noise: VerticalNoise,
  candidate: RunCandidate,
  settings: RunSettings,
): GroundRun {
  const remarks: string[] = [];
  const { direction } = settings;
  const lags = recorderLags(motion);
  const lagS = direction * lags.speedS;
  const bounds = transitionBounds(motion, candidate);
  const gap = motion.gaps.find((each) => each.endS > candidate.slowS - 1 && each.startS < candidate.airborneS + 1);

  const posterior =
    settings.givenChange === undefined && bounds !== undefined
      ? estimateTransition(transitionData(motion, noise, bounds, settings, direction, lags))
      : undefined;
  const changes = changesOf(posterior, settings, bounds, candidate, motion);
  const change = summarise(changes);

  const start = startOf(motion, candidate, settings, bounds, lagS);
  const path = new AlongTrack(motion, (start?.timeS ?? candidate.slowS) - 10, candidate.airborneS + 60);
  const places = runPlaces(motion, start, change, lagS, path);

  const reached = (timeS: number): number => {
    if (start === undefined) return Number.NaN;
    const integral = path.integral(start.timeS + lagS, timeS + lagS);
    return Number.isFinite(integral) ? integral + places.correctionM : places.straightAt(timeS);
  };
  const lasting = start === undefined || change === undefined ? 10 : Math.max(1, change.value - start.timeS);
  const integralSigma = Math.hypot(
    (Number.isFinite(motion.speedNoiseMps) ? motion.speedNoiseMps : 0.2) *
      Math.sqrt(lasting / Math.min(5, motion.rateHz)),
    speedBiasMps * lasting,
  );
  const distanceSigmaM =
    start === undefined
      ? Number.NaN
      : Math.hypot(
          places.byIntegral ? 1 / Math.hypot(1 / integralSigma, 1 / places.straightSigmaM) : places.straightSigmaM,
          // The start moves the distance by the little that is covered around it.
          start.rolling ? start.startSpeedMps * start.sigmaS : 0.5 * start.sigmaS * 0.5,
          // Lags that differ from the usual ones are made good in part by the shift of the instants that are found, and
          // not at all where the pilot gives them.
          (change === undefined ? 0 : path.speedAt(change.value + lagS) || 0) *
            (settings.givenChange === undefined ? 0.4 : 1) *
            lagSigmaS,
        );

  let distanceM: Spread | undefined;
  let durationS: Spread | undefined;
  let speedMps: Spread | undefined;
  if (change !== undefined) {
    const speedParts = changes.map((part) => ({
      weight: part.weight,
      mean: path.speedAt(part.mean + lagS),
      sigma: Math.hypot(motion.speedNoiseMps || 0.2, 0.05, part.sigma * accelerationAt(path, part.mean + lagS)),
    }));
    speedMps = summarise(speedParts);
    if (start !== undefined) {
      const v = speedMps?.value ?? 0;
      distanceM = summarisePositive(
        changes.map((part) => ({
          weight: part.weight,
          mean: reached(part.mean),
          sigma: Math.hypot(distanceSigmaM, v * part.sigma),
        })),
      );
      durationS = summarisePositive(
        changes.map((part) => ({
          weight: part.weight,
          mean: part.mean - start.timeS,
          sigma: Math.hypot(start.sigmaS, part.sigma),
        })),
      );
    }
  }
  if (gap !== undefined) {
    remarks.push(
      `The recording is interrupted for ${Math.round(gap.endS - gap.startS)} s during the run; distances rest on the positions before and after.`,
    );
  }
  if (start === undefined) remarks.push('The beginning of the run is not recorded well enough to measure from it.');
  if (motion.speedSource === 'differenced') {
    remarks.push('The recorder wrote no speed; it was worked out from positions.');
  }
  return {
    ...(start === undefined ? {} : { start }),
    changes,
    ...(change === undefined ? {} : { change }),
    ...(posterior === undefined ? {} : { posterior }),
    ...(distanceM === undefined ? {} : { distanceM }),
    ...(durationS === undefined ? {} : { durationS }),
    ...(speedMps === undefined ? {} : { speedMps }),
    distanceAt: reached,
    distanceSigmaM,
    headingRad: places.headingRad,
    latLonRow: places.row,
    distanceMethod: places.byIntegral ? 'speed integrated from the start of the roll' : 'distance between positions',
    remarks,
  };
}

function accelerationAt(path: AlongTrack, timeS: number): number {
  const change = path.speedAt(timeS + 0.5) - path.speedAt(timeS - 0.5);
  return Number.isFinite(change) ? Math.abs(change) : 1.5;
}

/** Bounds of the search, from the readings between the last slow moment and the first airborne one. */
function transitionBounds(motion: Motion, candidate: RunCandidate): TransitionBounds | undefined {
  const { timeS, groundSpeedMps, altitudeM } = motion;
  const { slowS, airborneS, flyingMps, groundAltitudeM } = candidate;
  // Power comes up slowly: on a touch-and-go the wheels may leave the ground before the speed rises.
  const from = firstRowAt(timeS, candidate.turnedS === undefined ? slowS : candidate.turnedS - 0.5);
  let earliestS = Number.NaN;
  let speedFromS = Number.NaN;
  for (let row = from; row < timeS.length && timeS[row] <= airborneS; row += 1) {
    if (Number.isNaN(speedFromS) && groundSpeedMps[row] >= 0.35 * flyingMps) speedFromS = timeS[row];
    if (groundSpeedMps[row] >= 0.5 * flyingMps) {
      earliestS = timeS[row];
      break;
    }
  }
  if (Number.isNaN(earliestS)) return undefined;
  // On a touch-and-go the power comes up during the run: until it is there the acceleration follows no rule.
  if (candidate.turnedS !== undefined) {
    speedFromS = Math.max(speedFromS, Math.min(candidate.turnedS + throttleS, airborneS - 3));
  }
  const heightBy = (gainM: number, withinS: number): number => {
    for (let row = firstRowAt(timeS, airborneS); row < timeS.length && timeS[row] <= airborneS + withinS; row += 1) {
      if (altitudeM[row] - groundAltitudeM > gainM) return timeS[row];
    }
    return airborneS + withinS;
  };
  const blind = Number.isNaN(groundAltitudeM);
  const latestS = Math.max(earliestS + 0.5, Math.min(airborneS, accelerationEnd(motion, candidate, earliestS)));
  // A slow climb is not followed for ever: what comes long after lift-off says nothing about it.
  const speedToS = Math.min(latestS + 15, blind ? airborneS + 4 : Math.max(airborneS + 1.5, heightBy(28, 4)));
  const heightToS = Math.min(latestS + 30, blind ? airborneS + 6 : Math.max(airborneS + 2, heightBy(38, 12)));
  return {
    earliestS,
    latestS,
    speedFromS,
    speedToS,
    heightFromS: Math.max(candidate.notBeforeS - 5, speedFromS - 8),
    heightToS,
  };
}

/**
 * Rolling, an aeroplane accelerates until it flies: lift-off is not later than some seconds after the acceleration has
 * fallen to a quarter of what it was.
 */
function accelerationEnd(motion: Motion, candidate: RunCandidate, earliestS: number): number {
  const { timeS, accelerationMps2 } = motion;
  if (candidate.turnedS !== undefined) return candidate.airborneS;
  let most = 0;
  for (let row = firstRowAt(timeS, candidate.slowS - 5); row < timeS.length && timeS[row] <= earliestS + 2; row += 1) {
    if (accelerationMps2[row] > most) most = accelerationMps2[row];
  }
  if (most < leastRunMps2) return candidate.airborneS;
  let lowSince = Number.NaN;
  for (let row = firstRowAt(timeS, earliestS); row < timeS.length && timeS[row] <= candidate.airborneS; row += 1) {
    if (Number.isNaN(accelerationMps2[row])) continue;
    if (accelerationMps2[row] > endedShare * most) lowSince = Number.NaN;
    else if (Number.isNaN(lowSince)) lowSince = timeS[row];
    if (timeS[row] - lowSince >= endedForS) return lowSince + endedMarginS;
  }
  return candidate.airborneS;
}

const leastRunMps2 = 0.5;
const endedShare = 0.25;
const endedForS = 3;
const endedMarginS = 4;

function changesOf(
  posterior: TransitionPosterior | undefined,
  settings: RunSettings,
  bounds: TransitionBounds | undefined,
  candidate: RunCandidate,
  motion: Motion,
): Part[] {
  if (settings.givenChange !== undefined)
    return [{ weight: 1, mean: settings.givenChange.mean, sigma: settings.givenChange.sigma }];
  let own = settings.direction === 1 ? modelSigmaS : landingSigmaS;
  if (candidate.turnedS !== undefined) own = touchSigmaS;
  if (posterior !== undefined) {
    const parts: Part[] = [];
    for (const [index, time] of posterior.timesS.entries()) {
      if (posterior.probability[index] > 1e-6)
        parts.push({ weight: posterior.probability[index], mean: time, sigma: own });
    }
    return parts;
  }
  // Nothing but the bounds: anywhere between them, in steps.
  const from = bounds?.earliestS ?? candidate.slowS;
  const to = candidate.airborneS;
  const step = Math.max(0.2, 1 / Math.max(motion.rateHz, 0.05) / 5);
  const parts: Part[] = [];
  for (let time = from; time <= to; time += step) parts.push({ weight: 1, mean: time, sigma: step / 2 });
  return parts;
}

function startOf(
  motion: Motion,
  candidate: RunCandidate,
  settings: RunSettings,
  bounds: TransitionBounds | undefined,
  lagS: number,
): RollStart | undefined {
  if (settings.givenStart !== undefined) {
    const speed = speedNear(motion, settings.givenStart.mean + lagS);
    const rolling = speed > 1.5;
    return {
      timeS: settings.givenStart.mean,
      sigmaS: settings.givenStart.sigma,
      rolling,
      startSpeedMps: rolling ? speed : 0,
      startSpeedSigmaMps: rolling ? 0.2 : 0,
    };
  }
  if (candidate.turnedS !== undefined) {
    const speed = speedNear(motion, candidate.turnedS);
    return {
      timeS: candidate.turnedS - lagS - 0.4,
      sigmaS: 0.8,
      rolling: true,
      startSpeedMps: speed,
      startSpeedSigmaMps: 0.5,
    };
  }
  if (bounds === undefined) return undefined;
  return findRollStart(
    motion,
    { goingS: bounds.earliestS, goingMps: 0.5 * candidate.flyingMps, notBeforeS: candidate.notBeforeS },
    settings.direction,
  );
}

function speedNear(motion: Motion, timeS: number): number {
  const row = firstRowAt(motion.timeS, timeS);
  for (let away = 0; away < 20; away += 1) {
    for (const index of [row - away, row + away]) {
      const speed = motion.groundSpeedMps[index];
      if (Number.isFinite(speed)) return speed;
    }
  }
  return Number.NaN;
}

interface RunPlaces {
  /** Straight distance from the start to the place at a time. */
  straightAt(timeS: number): number;
  readonly straightSigmaM: number;
  readonly byIntegral: boolean;
  /** To be added to the integral of the speed so that both estimates are weighed by their variances. */
  readonly correctionM: number;
  readonly headingRad: number;
  /** Row nearest to the start, for its latitude and longitude. */
  readonly row: number;
}

function runPlaces(
  motion: Motion,
  start: RollStart | undefined,
  change: Spread | undefined,
  lagS: number,
  path: AlongTrack,
): RunPlaces {
  const halfS = Math.max(1.2, 2.2 / motion.rateHz);
  const endS = change?.value ?? Number.NaN;
  const from = start === undefined ? undefined : startPlace(motion, start, lagS, halfS);
  const positionLagS = Math.sign(lagS) * recorderLags(motion).positionS;
  const to = Number.isFinite(endS) ? positionAt(motion, endS + positionLagS, halfS) : undefined;
  const lasted = start === undefined ? 10 : Math.max(1, endS - start.timeS);
  const white = motion.positionNoiseM ?? 0.5;
  const drift = positionWanderM * Math.sqrt(2 * (1 - Math.exp(-lasted / positionMemoryS)));
  const straightSigmaM = Math.hypot(white, drift);
  const straightAt = (timeS: number): number => {
    const there = positionAt(motion, timeS + positionLagS, halfS);
    return from === undefined || there === undefined
      ? Number.NaN
      : Math.hypot(there.eastM - from.eastM, there.northM - from.northM);
  };
  const integral = start === undefined ? Number.NaN : path.integral(start.timeS + lagS, endS + lagS);
  const straight =
    from === undefined || to === undefined ? Number.NaN : Math.hypot(to.eastM - from.eastM, to.northM - from.northM);
  const byIntegral = Number.isFinite(integral);
  let correctionM = 0;
  if (byIntegral && Number.isFinite(straight)) {
    const noise = motion.speedSource === 'receiver' ? motion.speedNoiseMps || 0.2 : 0.3;
    const integralSigma = Math.hypot(
      noise * Math.sqrt(lasted / Math.min(5, motion.rateHz)),
      speedBiasMps * lasted,
      motion.speedSource === 'receiver' ? 0 : 1.5,
    );
    const share = integralSigma ** 2 / (integralSigma ** 2 + straightSigmaM ** 2);
    correctionM = share * (straight - integral);
  }
  const headingRad =
    from !== undefined && to !== undefined
      ? (Math.atan2(to.eastM - from.eastM, to.northM - from.northM) + 2 * Math.PI) % (2 * Math.PI)
      : trackAt(motion, endS);
  const row = nearestFix(motion, (start?.timeS ?? endS) + lagS);
  return { straightAt, straightSigmaM, byIntegral, correctionM, headingRad, row };
}

/** Standing: the mean of the last fixes before the start. Rolling: the fitted position at it. */
function startPlace(
  motion: Motion,
  start: RollStart,
  lagS: number,
  halfS: number,
): { eastM: number; northM: number } | undefined {
  if (start.rolling) return positionAt(motion, start.timeS + lagS, halfS);
  let count = 0;
  let eastM = 0;
  let northM = 0;
  const from = start.timeS + lagS - 5;
  for (
    let row = firstRowAt(motion.timeS, from);
    row < motion.timeS.length && motion.timeS[row] <= start.timeS + lagS + 0.3;
    row += 1
  ) {
    if (Number.isNaN(motion.eastM[row]) || motion.groundSpeedMps[row] > 1) continue;
    count += 1;
    eastM += motion.eastM[row];
    northM += motion.northM[row];
  }
  return count > 0 ? { eastM: eastM / count, northM: northM / count } : positionAt(motion, start.timeS + lagS, halfS);
}

function trackAt(motion: Motion, timeS: number): number {
  const row = firstRowAt(motion.timeS, timeS);
  return motion.trackRad[Math.min(row, motion.trackRad.length - 1)] ?? Number.NaN;
}

function nearestFix(motion: Motion, timeS: number): number {
  const row = firstRowAt(motion.timeS, timeS);
  for (let away = 0; away < motion.timeS.length; away += 1) {
    for (const index of [row - away, row + away]) {
      if (Number.isFinite(motion.eastM[index])) return index;
    }
  }
  return -1;
}
