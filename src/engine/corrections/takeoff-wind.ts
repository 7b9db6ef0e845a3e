import { type Correction, makeCorrection } from './correction.ts';
import { propagate } from './propagate.ts';
import { type Uncertain, uncertain } from './uncertain.ts';

/**
 * Exponent of the wind correction of a take-off ground roll, 1.85: flight-test reference handbook (SFTE, 2013) ch. 12, going back to a
 * USAF flight-test note of 1952. FAA-H-8083-25C ch. 11 uses the square (thrust that hardly falls with speed). The standard deviation is
 * the distance between the two.
 */
export const takeoffWindExponent: Uncertain = { value: 1.85, sigma: 0.15 };

export interface GroundRollWind {
  /** Ground speed at lift-off (touchdown), m/s, as measured. */
  readonly groundSpeedMps: Uncertain;
  /** Headwind at the height of the wing, m/s; a tailwind is negative. */
  readonly headwindMps: Uncertain;
  /** Headwind to correct to, m/s; default still air. */
  readonly referenceHeadwindMps?: number;
  /** Default {@link takeoffWindExponent}. Pass `uncertain(2, 0)` for the sensitivity that is shown beside it. */
  readonly exponent?: Uncertain;
}

/** Logarithm of the wind factor of a ground roll: k x ln((V_GS + headwind - reference headwind) / V_GS); `NaN` outside its domain. */
export function groundRollWindLog(
  groundSpeedMps: number,
  headwindMps: number,
  referenceHeadwindMps: number,
  exponent: number,
): number {
  return exponent * Math.log((groundSpeedMps + headwindMps - referenceHeadwindMps) / groundSpeedMps);
}

/**
 * Factor that takes a take-off ground roll in wind to still air (or to a reference headwind) at the same airspeed of lift-off:
 * ((V_TAS - reference headwind) / V_GS)^1.85, V_TAS = V_GS + headwind.
 *
 * Holds for steady wind along the runway; breaks with gusts, a wind read kilometres away and strong crosswind. With 46 kt at lift-off, one
 * knot of error in the wind is 4 % of distance.
 * Source: flight-test reference handbook (SFTE, 2013) ch. 12.
 * @throws RangeError when ground speed or airspeed is not positive.
 * @example groundRollWindFactor({ groundSpeedMps: uncertain(23.66, 0.1), headwindMps: uncertain(4.12, 1) }).factor // 1.345
 */
export function groundRollWindFactor(wind: GroundRollWind): Correction {
  const { groundSpeedMps, headwindMps, referenceHeadwindMps = 0, exponent = takeoffWindExponent } = wind;
  const airspeedMps = groundSpeedMps.value + headwindMps.value;
  if (!(groundSpeedMps.value > 0 && airspeedMps - referenceHeadwindMps > 0)) {
    throw new RangeError(
      `Ground speed ${groundSpeedMps.value} m/s with ${headwindMps.value} m/s of headwind is no speed to lift off or touch down at.`,
    );
  }
  const { value, shifts } = propagate(
    { speed: groundSpeedMps, headwind: headwindMps, 'wind exponent': exponent },
    (at) => groundRollWindLog(at.speed, at.headwind, referenceHeadwindMps, at['wind exponent']),
  );
  const outside: string[] = [];
  const change = headwindMps.value - referenceHeadwindMps;
  if (Math.abs(change) > 0.1 * airspeedMps) {
    outside.push(
      `The wind along the runway is ${((Math.abs(change) / airspeedMps) * 100).toFixed(0)} % of the airspeed: prefer runs below 10 %.`,
    );
  }
  return makeCorrection({
    name: 'wind',
    factor: Math.exp(value),
    change: Math.exp(value) - 1,
    sensitivity: shifts,
    outside,
  });
}

export interface AirDistanceWind {
  /** Horizontal distance from lift-off to the screen height along the ground, m. */
  readonly airDistanceM: number;
  /** Time from lift-off to the screen height, s. */
  readonly timeS: Uncertain;
  /** Mean headwind from lift-off to the screen, m/s. */
  readonly headwindMps: Uncertain;
  readonly referenceHeadwindMps?: number;
}

/**
 * Addend, metres, that takes an air distance (lift-off to screen height) to still air or to a reference headwind: headwind x time. Exact
 * for a wind that is the same all the way up: the aeroplane flies the same path through the air.
 * Source: flight-test reference handbook (SFTE, 2013) ch. 12.
 */
export function airDistanceWindAddend(wind: AirDistanceWind): Correction {
  const { airDistanceM, timeS, headwindMps, referenceHeadwindMps = 0 } = wind;
  const { value, shifts } = propagate(
    { time: timeS, headwind: headwindMps },
    (at) => (at.headwind - referenceHeadwindMps) * at.time,
  );
  const correctedM = airDistanceM + value;
  const outside = correctedM > 0 ? [] : ['The wind correction is larger than the air distance itself.'];
  return makeCorrection({
    name: 'wind',
    addend: value,
    change: value / airDistanceM,
    sensitivity: { time: shifts.time / correctedM, headwind: shifts.headwind / correctedM },
    outside,
  });
}

/** The same with the exponent of the pilot's handbook, 2 (FAA-H-8083-25C ch. 11): shown beside the result as its sensitivity. */
export function groundRollWindFactorSquare(wind: GroundRollWind): Correction {
  return groundRollWindFactor({ ...wind, exponent: uncertain(2, 0) });
}
