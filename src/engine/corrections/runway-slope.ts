import { gravityMps2 } from '../atmosphere/index.ts';
import { type Correction, makeCorrection } from './correction.ts';
import { propagate } from './propagate.ts';
import { type Uncertain, uncertain } from './uncertain.ts';

export interface GroundRollSlope {
  /** Ground roll after the wind correction, m. */
  readonly stillAirRollM: number;
  /** True airspeed at lift-off (touchdown): the ground speed there in still air, m/s. */
  readonly trueAirspeedMps: Uncertain;
  /** Tangent of the slope between start and lift-off, positive uphill in the direction of the roll. */
  readonly slope: Uncertain;
  /** Slope to correct to; default level. */
  readonly referenceSlope?: number;
  /** 'takeoff': uphill lengthens; 'landing': uphill shortens. */
  readonly roll: 'takeoff' | 'landing';
}

/** Beyond this slope few light-aeroplane runways exist, and ground effect, drag and the mean slope are no longer small terms. */
const steepestSlope = 0.04;

function sine(tangent: number): number {
  return Math.sin(Math.atan(tangent));
}

/** Logarithm of the slope factor; the slopes are tangents; `NaN` where no roll is possible. */
export function groundRollSlopeLog(
  roll: 'takeoff' | 'landing',
  stillAirRollM: number,
  trueAirspeedMps: number,
  slope: number,
  referenceSlope: number,
): number {
  const accelerationMps2 = trueAirspeedMps ** 2 / (2 * stillAirRollM);
  const uphillMps2 = gravityMps2 * (sine(slope) - sine(referenceSlope));
  return -Math.log(1 + ((roll === 'takeoff' ? 1 : -1) * uphillMps2) / accelerationMps2);
}

/**
 * Factor that takes a ground roll in still air on a slope to a level (or other) runway: with mean acceleration a = V^2/2S of the run as
 * flown, S_level = S / (1 + g sin(slope)/a) at take-off and S / (1 - g sin(slope)/a) in a landing roll. Exact for a force that does not
 * depend on the slope.
 *
 * The flight-test reference handbook (SFTE, 2013) ch. 12 prints the first-order form S x (1 - g sin/a): 0.2 % less at 1 %, 4 % less at 4 %.
 * Use the slope between the two points, not the published end-to-end mean, where it is known. Ground roll only.
 * @throws RangeError when the roll or speed is not positive, or the roll could not have ended on the reference slope.
 * @example groundRollSlopeFactor({ stillAirRollM: 182.9, trueAirspeedMps: uncertain(28.3, 0), slope: uncertain(0.01, 0), roll: 'takeoff' }).factor // 0.9571
 */
export function groundRollSlopeFactor(run: GroundRollSlope): Correction {
  const { stillAirRollM, trueAirspeedMps, slope, referenceSlope = 0, roll } = run;
  if (!(stillAirRollM > 0 && trueAirspeedMps.value > 0)) {
    throw new RangeError(`A roll of ${stillAirRollM} m to ${trueAirspeedMps.value} m/s is no ground roll.`);
  }
  const { value, shifts } = propagate({ speed: trueAirspeedMps, slope }, (at) =>
    groundRollSlopeLog(roll, stillAirRollM, at.speed, at.slope, referenceSlope),
  );
  if (Number.isNaN(value)) {
    throw new RangeError(`With the acceleration of this roll no roll is possible on a slope of ${referenceSlope}.`);
  }
  const outside: string[] = [];
  const steepest = Math.max(Math.abs(slope.value), Math.abs(referenceSlope));
  if (steepest > steepestSlope)
    outside.push(`A slope of ${(steepest * 100).toFixed(1)} % is steeper than the 4 % the correction is meant for.`);
  return makeCorrection({
    name: 'slope',
    factor: Math.exp(value),
    change: Math.exp(value) - 1,
    sensitivity: shifts,
    outside,
  });
}

/** Slope as it is when nobody noted it: level, with a standard deviation of 0.5 % (own judgement: most light-aeroplane runways lie within 1 %). */
export const unknownSlope: Uncertain = uncertain(0, 0.005);
