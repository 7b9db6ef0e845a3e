import type { Measured } from '../../../shared/measured.ts';
import { studentQuantile } from '../stats/student.ts';

/** Rate of climb at a density altitude, from one band or one climb, at one reference mass and climbing speed. */
export interface RatePoint {
  readonly densityAltitudeM: number;
  readonly rateMps: number;
  /** Standard deviation of the rate, with the motion of the air in it; absent: all points count the same, their scatter tells. */
  readonly sigmaMps?: number;
}

/** A straight line of rate against density altitude: adequate over a few thousand feet for a normally aspirated aeroplane. */
export interface RateLine {
  /** Rate at density altitude 0, m/s. */
  readonly interceptMps: number;
  /** (m/s)/m: negative. */
  readonly slopePerM: number;
  /** Of intercept and slope. */
  readonly covariance: { readonly intercept: number; readonly both: number; readonly slope: number };
  readonly degreesOfFreedom: number;
  /** Range of the density altitudes that the line stands on. */
  readonly lowestM: number;
  readonly highestM: number;
}

export type RateLineAnswer = { readonly line: RateLine } | { readonly refused: string };

/** Points closer together in height than this make no line, m (1,000 ft). */
const leastRangeM = 304.8;

/**
 * Line of rate of climb against density altitude by (weighted) least squares. With known standard deviations the errors of the line are never smaller than
 * those give, and larger when the points scatter more.
 *
 * Use it for climbs of one configuration at one power; not across the critical altitude of a turbocharged engine.
 * @returns refused with a sentence: fewer than three points, less than 1,000 ft between them.
 */
export function fitRateLine(points: readonly RatePoint[]): RateLineAnswer {
  const n = points.length;
  if (n < 3) return { refused: `Three rates at different density altitudes are needed for a line, not ${n}.` };
  const altitudes = points.map((point) => point.densityAltitudeM);
  const lowestM = Math.min(...altitudes);
  const highestM = Math.max(...altitudes);
  if (!(highestM - lowestM >= leastRangeM)) {
    return { refused: 'The climbs cover less than 1,000 ft of density altitude: too little for a line.' };
  }
  const known = points.every((point) => (point.sigmaMps ?? 0) > 0);
  const weights = points.map((point) => (known ? (point.sigmaMps ?? 1) ** -2 : 1));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const mean = (of: (point: RatePoint) => number): number =>
    points.reduce((sum, point, i) => sum + weights[i] * of(point), 0) / total;
  const x = mean((point) => point.densityAltitudeM);
  const y = mean((point) => point.rateMps);
  const xx = total * mean((point) => (point.densityAltitudeM - x) ** 2);
  const slopePerM = (total * mean((point) => (point.densityAltitudeM - x) * (point.rateMps - y))) / xx;
  const squares = total * mean((point) => (point.rateMps - y - slopePerM * (point.densityAltitudeM - x)) ** 2);
  const degreesOfFreedom = n - 2;
  const scatter = squares / degreesOfFreedom;
  const scale = known ? Math.max(1, scatter) : scatter;
  const slope = scale / xx;
  return {
    line: {
      interceptMps: y - slopePerM * x,
      slopePerM,
      covariance: { intercept: scale / total + slope * x * x, both: -slope * x, slope },
      degreesOfFreedom,
      lowestM,
      highestM,
    },
  };
}

/** Rate at a density altitude, m/s, with the 95 % interval of the line; marked beyond the data. */
export function rateOnLine(line: RateLine, densityAltitudeM: number): Measured {
  const { intercept, both, slope } = line.covariance;
  const value = line.interceptMps + line.slopePerM * densityAltitudeM;
  const sigma = Math.sqrt(intercept + 2 * densityAltitudeM * both + densityAltitudeM ** 2 * slope);
  const half = studentQuantile(0.975, line.degreesOfFreedom) * sigma;
  const beyond = Math.max(0, line.lowestM - densityAltitudeM, densityAltitudeM - line.highestM);
  return {
    value,
    low: value - half,
    high: value + half,
    method: 'line of rate against density altitude',
    ...(beyond > 0 ? { remarks: [extrapolation(beyond)] } : {}),
  };
}

export interface HeldTo {
  /** Density altitude to which the rate is held, m, with its interval by Fieller's theorem. */
  readonly densityAltitudeM: Measured;
  /** Standard error by the delta method, m: for weights and tables; the interval is Fieller's. */
  readonly sigmaM: number;
  /** A prediction beyond the highest climb. */
  readonly extrapolated: boolean;
}

export type HeldToAnswer = { readonly held: HeldTo } | { readonly refused: string };

/** Beyond the data by more than this share of their range nothing is said. */
const farthestShare = 0.5;

/**
 * Density altitude to which a rate of climb is held: where the line falls to it. 0.508 m/s (100 ft/min) is the service ceiling, 0 the absolute one
 * (FAA-H-8083-25C ch. 11).
 *
 * The interval is that of a ratio (E. C. Fieller 1954), unsymmetrical. A height beyond the highest climb is a prediction and marked.
 * @returns refused with a sentence: the rate does not fall with height, the slope is too uncertain for a bounded interval, or the answer lies beyond the
 * climbs by more than half of the range they cover.
 */
export function altitudeHeldTo(line: RateLine, rateMps: number): HeldToAnswer {
  if (!(line.slopePerM < 0)) {
    return {
      refused: 'The rate does not fall with height in these climbs: the altitude to which it is held cannot be told.',
    };
  }
  const { intercept, both, slope } = line.covariance;
  const value = (rateMps - line.interceptMps) / line.slopePerM;
  const range = line.highestM - line.lowestM;
  const beyond = Math.max(0, line.lowestM - value, value - line.highestM);
  if (beyond > farthestShare * range) {
    return {
      refused: `The rate would be reached ${Math.round(beyond)} m beyond the climbs flown, which cover ${Math.round(range)} m: too far to predict. Climb higher.`,
    };
  }
  const t = studentQuantile(0.975, line.degreesOfFreedom);
  // (a - r + b x)^2 = t^2 (Vaa + 2 x Vab + x^2 Vbb)
  const a = line.slopePerM ** 2 - t * t * slope;
  const b = (line.interceptMps - rateMps) * line.slopePerM - t * t * both;
  const c = (line.interceptMps - rateMps) ** 2 - t * t * intercept;
  const root = b * b - a * c;
  if (!(a > 0 && root >= 0)) {
    return { refused: 'The slope of the line is too uncertain to say to which altitude the rate is held.' };
  }
  const sigmaM = Math.sqrt(intercept + 2 * value * both + value * value * slope) / Math.abs(line.slopePerM);
  const extrapolated = beyond > 0;
  return {
    held: {
      densityAltitudeM: {
        value,
        low: (-b - Math.sqrt(root)) / a,
        high: (-b + Math.sqrt(root)) / a,
        method: 'line of rate against density altitude',
        ...(extrapolated ? { remarks: [extrapolation(beyond)] } : {}),
      },
      sigmaM,
      extrapolated,
    },
  };
}

function extrapolation(beyondM: number): string {
  return `A prediction, ${Math.round(beyondM)} m beyond the climbs flown.`;
}

/**
 * Time to climb between two density altitudes, s, by a line of rate: (H/R0) ln[(H - h1)/(H - h2)] with the absolute ceiling H = R0/|slope|; classical.
 * `undefined` where the line does not fall, or at or beyond the ceiling.
 */
export function timeToClimbS(
  line: Pick<RateLine, 'interceptMps' | 'slopePerM'>,
  fromM: number,
  toM: number,
): number | undefined {
  const low = line.interceptMps + line.slopePerM * fromM;
  const high = line.interceptMps + line.slopePerM * toM;
  if (!(line.slopePerM < 0 && low > 0 && high > 0)) return undefined;
  return Math.log(low / high) / -line.slopePerM;
}
