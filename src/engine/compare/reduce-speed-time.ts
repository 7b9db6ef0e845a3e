import { propagate, type PropellerKind, type Uncertain, weightExponents } from '../corrections/index.ts';
import { gravityMps2 } from '../atmosphere/index.ts';
import type { AppliedCorrection } from './result.ts';
import type { ReducedRun } from './run.ts';
import { type SharedQuantity, totalSigma } from './run-conditions.ts';
import type { RollConditions } from './roll-conditions.ts';
import { addShifts } from './shift-sum.ts';

/**
 * Exponents of lift-off true airspeed: square root of mass and of the inverse density at one indicated airspeed and lift coefficient
 * (FAA-H-8083-25C ch. 11: weight +21 %, lift-off speed +10 %). The standard deviation allows for a pilot who does not change the speed with the load.
 */
const speedExponents = { mass: { value: 0.5, sigma: 0.15 }, density: { value: -0.5, sigma: 0.05 } } as const;

/** Exponent of the wind for the time of a roll: distance goes with the power 1.85 of ground speed, and time is distance over speed. */
const timeWindExponent: Uncertain = { value: 0.85, sigma: 0.15 };

/** Exponent of density for the time: that of the distance, -2.4 (flight-test reference handbook, SFTE 2013, ch. 12), less that of the speed. */
const timeDensityExponent: Uncertain = { value: -1.9, sigma: 0.3 };

const unit = (quantity: SharedQuantity): Uncertain => ({ value: quantity.value, sigma: totalSigma(quantity) });

function spreadAll(shifts: Readonly<Record<string, number>>, conditions: RollConditions): Record<string, number> {
  const shared: Record<string, number> = {};
  const spread = (shift: number | undefined, quantity: SharedQuantity): void => {
    const sigma = totalSigma(quantity);
    if (shift !== undefined && sigma > 0) addShifts(shared, quantity.shifts, shift / sigma);
  };
  spread(shifts.headwind, conditions.headwind);
  spread(shifts.slope, conditions.slope);
  spread(shifts.mass, conditions.mass);
  spread(shifts.density, conditions.densityRatio);
  return shared;
}

function step(name: AppliedCorrection['name'], factor: number, sigma: number): AppliedCorrection {
  return { name, factor, relativeSigma: Math.abs(sigma) };
}

/**
 * True airspeed at lift-off from the ground speed, at the reference mass and density: V = (V_GS + headwind) (m_ref/m)^0.5 (sigma_ref/sigma)^-0.5,
 * less the reference headwind (a ground speed again when one is asked for).
 */
export function reduceSpeed(
  groundSpeedMps: Uncertain,
  conditions: RollConditions,
  reference: { readonly headwindMps: number; readonly densityRatio: number },
): ReducedRun {
  const headwind = unit(conditions.headwind);
  const mass = unit(conditions.mass);
  const density = unit(conditions.densityRatio);
  const massLog = (value: number): number => Math.log(conditions.targetMass.value / value);
  const densityLog = (value: number): number => Math.log(reference.densityRatio / value);
  const { value, shifts } = propagate(
    {
      speed: groundSpeedMps,
      headwind,
      mass,
      density,
      massExponent: speedExponents.mass,
      densityExponent: speedExponents.density,
    },
    (at) =>
      (at.speed + at.headwind) *
        Math.exp(at.massExponent * massLog(at.mass) + at.densityExponent * densityLog(at.density)) -
      reference.headwindMps,
  );
  return {
    value,
    ownSigma: Math.abs(shifts.speed),
    shared: addShifts(
      spreadAll(shifts, conditions),
      { 'weight exponent of speed': shifts.massExponent, 'density exponent of speed': shifts.densityExponent },
      1,
    ),
    corrections: [
      { name: 'wind', addend: headwind.value, relativeSigma: Math.abs(shifts.headwind / value) },
      step('weight', Math.exp(speedExponents.mass.value * massLog(mass.value)), shifts.massExponent / value),
      step(
        'density',
        Math.exp(speedExponents.density.value * densityLog(density.value)),
        shifts.densityExponent / value,
      ),
    ],
  };
}

/**
 * Time from brake release to lift-off at reference conditions. With distance S to the power k of the speed and t = 2 S / V of a steadily growing
 * speed, every exponent of the time is that of the distance less that of the speed; the slope acts on the acceleration and so on both alike.
 * @param groundRollM As measured, for the mean acceleration; without it the slope is not corrected.
 */
export function reduceTime(
  timeS: Uncertain,
  groundRollM: number | undefined,
  groundSpeedMps: Uncertain,
  conditions: RollConditions,
  reference: {
    readonly propeller: PropellerKind;
    readonly headwindMps: number;
    readonly slope: number;
    readonly densityRatio: number;
  },
): ReducedRun {
  const distance = weightExponents['ground-roll'][reference.propeller];
  const weight: Uncertain = { value: distance.value - speedExponents.mass.value, sigma: distance.sigma };
  const headwind = unit(conditions.headwind);
  const slope = unit(conditions.slope);
  const mass = unit(conditions.mass);
  const density = unit(conditions.densityRatio);
  const windFactor = (speed: number, wind: number, exponent: number): number => {
    const airspeed = speed + wind;
    if (!(airspeed > 0 && airspeed > reference.headwindMps)) throw new RangeError('No airspeed is left at lift-off.');
    return ((airspeed - reference.headwindMps) / speed) ** exponent;
  };
  const slopeFactor = (speed: number, wind: number, tangent: number): number => {
    if (groundRollM === undefined) return 1;
    // Mean acceleration of the roll in still air, which is (V_TAS / V_GS)^1.85 times as long.
    const airspeed = speed + wind;
    const acceleration = (airspeed ** 2 / (2 * groundRollM)) * (speed / airspeed) ** 1.85;
    return (
      1 / (1 + (gravityMps2 * (Math.sin(Math.atan(tangent)) - Math.sin(Math.atan(reference.slope)))) / acceleration)
    );
  };
  const { value, shifts } = propagate(
    {
      time: timeS,
      speed: groundSpeedMps,
      headwind,
      slope,
      mass,
      density,
      windExponent: timeWindExponent,
      weightExponent: weight,
      densityExponent: timeDensityExponent,
    },
    (at) =>
      at.time *
      windFactor(at.speed, at.headwind, at.windExponent) *
      slopeFactor(at.speed, at.headwind, at.slope) *
      (conditions.targetMass.value / at.mass) ** at.weightExponent *
      (reference.densityRatio / at.density) ** at.densityExponent,
  );
  const { windExponent, weightExponent, densityExponent } = shifts;
  const relative = (...parts: readonly number[]): number => Math.hypot(...parts) / value;
  return {
    value,
    ownSigma: Math.hypot(shifts.time, shifts.speed),
    shared: addShifts(
      spreadAll(shifts, conditions),
      {
        'wind exponent': windExponent,
        [`weight exponent, ${reference.propeller}`]: weightExponent,
        [`density exponent, ${reference.propeller}`]: densityExponent,
      },
      1,
    ),
    corrections: [
      step(
        'wind',
        windFactor(groundSpeedMps.value, headwind.value, timeWindExponent.value),
        relative(shifts.headwind, windExponent),
      ),
      step('slope', slopeFactor(groundSpeedMps.value, headwind.value, slope.value), relative(shifts.slope)),
      step('weight', (conditions.targetMass.value / mass.value) ** weight.value, relative(shifts.mass, weightExponent)),
      step(
        'density',
        (reference.densityRatio / density.value) ** timeDensityExponent.value,
        relative(shifts.density, densityExponent),
      ),
    ],
  };
}
