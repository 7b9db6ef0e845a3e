import type { Motion } from '../track/motion.ts';
import { firstRowAt } from './along-track.ts';
import type { VerticalNoise } from './height-noise.ts';
import type { Prior } from './linear-gaussian.ts';
import { type RecorderLags } from './recorder-lags.ts';
import type { HeightSeries, TransitionData, VerticalSeries } from './transition-model.ts';

/** Where to look for the change between rolling and flying, in the time of the motion. */
export interface TransitionBounds {
  /** First and last possible instant. */
  readonly earliestS: number;
  readonly latestS: number;
  /** Speeds from here (take-off: power is set) to here (about 100 ft). */
  readonly speedFromS: number;
  readonly speedToS: number;
  readonly heightFromS: number;
  readonly heightToS: number;
}

/** What is known of the change beforehand; see the fields of the same names of {@link TransitionData}. */
export type TransitionSettings = Pick<
  TransitionData,
  'slope' | 'gustMps2' | 'step' | 'manners' | 'sinkMps' | 'curvatureMps2' | 'firstPulls' | 'liftoffSpeedMps'
>;

/** Readings closer together than this are averaged: receivers of 5 to 18 Hz repeat much of their noise from one to the next. */
const speedBinS = 0.25;
const verticalBinS = 0.25;
const heightBinS = 0.5;
/** The fast noise never averages out below this: filters in the receiver correlate it (own choice, half the least noise seen published for Doppler speeds, 0.05 m/s). */
const leastSpeedNoiseMps = 0.025;
const heightLag: Prior = { mean: 0, sigma: 0.25 };
const pressureLag: Prior = { mean: 0, sigma: 0.4 };
const verticalLag: Prior = { mean: 0, sigma: 0.3 };
/** Change of the static pressure's error from rolling to flying, as height (avionics logs swing by some metres in the roll). */
const pressureErrorM = 3;
/** Altitudes without a stated datum are often pressure altitudes set to the field. */
const staticErrorM: Record<Motion['altitudeKind'], number> = {
  msl: 0,
  ellipsoid: 0,
  pressure: pressureErrorM,
  unknown: 2,
};
/** In the roll propeller wash, ground effect and opening vents move the static pressure by metres, not only with the square of speed. */
const rollingPressureWander = { sigmaM: 2, timeS: 6 };
/** Altitudes without a stated datum may be mixed from several sensors and hop by some metres within seconds. */
const unstatedWander = { sigmaM: 1.5, timeS: 8 };
/** Turbulence in the vertical speed that no pull explains, and what the receiver's filter leaves of a sudden pull. */
const verticalWander = { sigmaM: 0.25, timeS: 1.5 };
/** Beside a pressure altitude the vertical speed is likely its rate, with its faults. */
const pressureRateWander = { sigmaM: 0.35, timeS: 4 };

/**
 * Cuts the data of one transition out of a motion. `direction` -1 says that the motion is a reversed one (a landing): lags
 * then look the other way.
 */
export function transitionData(
  motion: Motion,
  noise: VerticalNoise,
  bounds: TransitionBounds,
  settings: TransitionSettings,
  direction: 1 | -1,
  lags: RecorderLags,
): TransitionData {
  const heights: HeightSeries[] = [];
  const geometric = pick(motion, motion.altitudeM, bounds.heightFromS, bounds.heightToS, heightBinS);
  if (geometric.timeS.length >= 4) {
    const pressureOnly = motion.altitudeKind === 'pressure';
    heights.push({
      timeS: geometric.timeS,
      valuesM: geometric.values,
      whiteM: Math.max(0.05, noise.geometric.whiteM * geometric.averaging, motion.altitudeResolutionM / Math.sqrt(12)),
      wander: motion.altitudeKind === 'unknown' ? [noise.geometric.wander, unstatedWander] : [noise.geometric.wander],
      lagS: forward(pressureOnly ? pressureLag : heightLag, direction),
      speedErrorM: staticErrorM[motion.altitudeKind],
    });
  }
  if (motion.pressureAltitudeM !== undefined && noise.pressure !== undefined) {
    const pressure = pick(motion, motion.pressureAltitudeM, bounds.heightFromS, bounds.heightToS, heightBinS);
    if (pressure.timeS.length >= 4) {
      heights.push({
        timeS: pressure.timeS,
        valuesM: pressure.values,
        whiteM: Math.max(0.1, noise.pressure.whiteM * pressure.averaging),
        wander: [noise.pressure.wander, rollingPressureWander],
        lagS: forward(pressureLag, direction),
        speedErrorM: pressureErrorM,
      });
    }
  }
  const verticals = verticalReadings(motion, noise, bounds, direction);
  return {
    ...settings,
    ...speedReadings(motion, bounds),
    heights,
    ...(verticals === undefined ? {} : { verticals }),
    speedAt: interpolator(motion, motion.groundSpeedMps, bounds),
    verticalAt: interpolator(motion, motion.verticalSpeedMps, bounds),
    earliestS: bounds.earliestS,
    latestS: bounds.latestS,
    stepS: 0.1,
    lags,
    direction,
  };
}

function forward(lag: Prior, direction: 1 | -1): Prior {
  return { mean: direction * lag.mean, sigma: lag.sigma };
}

interface Binned {
  readonly timeS: Float64Array;
  readonly values: Float64Array;
  /** Usual factor by which averaging lowers white noise. */
  readonly averaging: number;
}

function pick(motion: Motion, column: Float64Array, fromS: number, toS: number, binS: number): Binned {
  const times: number[] = [];
  const values: number[] = [];
  for (let row = firstRowAt(motion.timeS, fromS); row < column.length && motion.timeS[row] <= toS; row += 1) {
    if (!Number.isFinite(column[row])) continue;
    times.push(motion.timeS[row]);
    values.push(column[row]);
  }
  const outTimes: number[] = [];
  const outValues: number[] = [];
  let from = 0;
  while (from < times.length) {
    let to = from + 1;
    while (to < times.length && times[to] - times[from] < binS - 1e-3) to += 1;
    let time = 0;
    let value = 0;
    for (let index = from; index < to; index += 1) {
      time += (times[index] - times[from]) / (to - from);
      value += values[index] / (to - from);
    }
    outTimes.push(times[from] + time);
    outValues.push(value);
    from = to;
  }
  return {
    timeS: Float64Array.from(outTimes),
    values: Float64Array.from(outValues),
    averaging: times.length > 0 ? Math.sqrt(outTimes.length / times.length) : 1,
  };
}

function speedReadings(
  motion: Motion,
  bounds: TransitionBounds,
): Pick<TransitionData, 'speedFromS' | 'speedToS' | 'speedMps' | 'speedWhiteMps' | 'positionWhiteM'> {
  if (motion.speedSource === 'receiver') {
    const found = pick(motion, motion.groundSpeedMps, bounds.speedFromS, bounds.speedToS, speedBinS);
    const noise = Number.isFinite(motion.speedNoiseMps) ? motion.speedNoiseMps : 0.15;
    return {
      speedFromS: found.timeS,
      speedToS: found.timeS,
      speedMps: found.values,
      // Half of the noise is taken to be shared by the readings of a bin.
      speedWhiteMps: Math.max(leastSpeedNoiseMps, noise * Math.sqrt((1 + found.averaging ** 2) / 2)),
      positionWhiteM: 0,
    };
  }
  const from: number[] = [];
  const to: number[] = [];
  const speed: number[] = [];
  const { timeS, eastM, northM } = motion;
  let last = -1;
  for (let row = firstRowAt(timeS, bounds.speedFromS); row < timeS.length && timeS[row] <= bounds.speedToS; row += 1) {
    if (Number.isNaN(eastM[row])) continue;
    if (last >= 0) {
      // At high rates differences of neighbours are nearly all noise.
      if (timeS[row] - timeS[last] < 0.45) continue;
      from.push(timeS[last]);
      to.push(timeS[row]);
      speed.push(Math.hypot(eastM[row] - eastM[last], northM[row] - northM[last]) / (timeS[row] - timeS[last]));
    }
    last = row;
  }
  return {
    speedFromS: Float64Array.from(from),
    speedToS: Float64Array.from(to),
    speedMps: Float64Array.from(speed),
    speedWhiteMps: 0.02,
    positionWhiteM: Math.max(0.05, motion.positionNoiseM ?? 0.5),
  };
}

function verticalReadings(
  motion: Motion,
  noise: VerticalNoise,
  bounds: TransitionBounds,
  direction: 1 | -1,
): VerticalSeries | undefined {
  if (motion.recordedVerticalSpeedMps === undefined || noise.verticalSpeedMps === undefined) return undefined;
  const found = pick(motion, motion.recordedVerticalSpeedMps, bounds.heightFromS, bounds.heightToS, verticalBinS);
  if (found.timeS.length < 4) return undefined;
  return {
    timeS: found.timeS,
    valuesMps: found.values,
    whiteMps: Math.max(0.1, noise.verticalSpeedMps),
    wander: motion.pressureAltitudeM === undefined ? [verticalWander] : [verticalWander, pressureRateWander],
    lagS: forward(verticalLag, direction),
    speedErrorM: motion.pressureAltitudeM === undefined ? 0 : pressureErrorM,
  };
}

/** Linear interpolation between the finite rows around the window. */
function interpolator(motion: Motion, column: Float64Array, bounds: TransitionBounds): (timeS: number) => number {
  const fromS = Math.min(bounds.speedFromS, bounds.heightFromS) - 6;
  const toS = Math.max(bounds.speedToS, bounds.heightToS) + 6;
  const times: number[] = [];
  const values: number[] = [];
  for (let row = firstRowAt(motion.timeS, fromS); row < column.length && motion.timeS[row] <= toS; row += 1) {
    if (!Number.isFinite(column[row])) continue;
    times.push(motion.timeS[row]);
    values.push(column[row]);
  }
  return (timeS) => {
    if (times.length === 0) return 0;
    let low = 0;
    let high = times.length - 1;
    if (timeS <= times[0]) return values[0];
    if (timeS >= times[high]) return values[high];
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (times[middle] <= timeS) low = middle;
      else high = middle;
    }
    return values[low] + ((timeS - times[low]) / (times[high] - times[low])) * (values[high] - values[low]);
  };
}
