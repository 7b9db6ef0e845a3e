import type { Correction } from './correction.ts';
import { densityExponentSigma, densityFactor, densityLog } from './density.ts';
import { propagate } from './propagate.ts';
import { groundRollSlopeFactor, groundRollSlopeLog } from './runway-slope.ts';
import { airDistanceWindAddend, groundRollWindFactor, groundRollWindLog, takeoffWindExponent } from './takeoff-wind.ts';
import { rootSumSquare, type Uncertain } from './uncertain.ts';
import { type DistancePart, type PropellerKind, weightExponents, weightFactor, weightLog } from './weight.ts';

/** Conditions to correct to. A missing part is not corrected. */
export interface DistanceReference {
  readonly headwindMps?: number;
  readonly slope?: number;
  readonly massKg?: number;
  readonly densityRatio?: number;
}

/** Conditions flown. A missing part is not corrected, and told in `left`. */
export interface DistanceConditions {
  readonly propeller: PropellerKind;
  readonly turbocharged: boolean;
  /** At the height of the wing on the ground. */
  readonly headwindMps?: Uncertain;
  /** Tangent, uphill positive, in the direction of the roll. */
  readonly slope?: Uncertain;
  readonly massKg?: Uncertain;
  readonly densityRatio?: Uncertain;
}

export interface GroundRollRun {
  readonly roll: 'takeoff' | 'landing';
  /** As measured, with its own error. */
  readonly distanceM: Uncertain;
  /** Ground speed at lift-off or touchdown. */
  readonly groundSpeedMps: Uncertain;
}

/** A take-off to a screen height: start of roll, lift-off, screen. */
export interface ScreenRun {
  readonly groundRollM: Uncertain;
  /** From the start of the roll to the screen; its error without that of the instant of lift-off, which only moves the border. */
  readonly totalM: Uncertain;
  readonly groundSpeedMps: Uncertain;
  /** From lift-off to the screen, s. */
  readonly airTimeS: number;
  /** Mean headwind on the way up; default that on the ground. The error of the note is taken as one and the same. */
  readonly airHeadwindMps?: Uncertain;
}

export interface ReducedDistance {
  readonly valueM: number;
  /** Everything: measurement, notes, exponents. */
  readonly sigmaM: number;
  /** Measurement and notes: differs from run to run. */
  readonly runSigmaM: number;
  /** Exponents, the same for all runs: signed shift for one standard deviation of each. */
  readonly modelShiftsM: Readonly<Record<string, number>>;
  /** Every source of error, exponents included: signed shift for one standard deviation of each. A comparison needs to know which are shared. */
  readonly shiftsM: Readonly<Record<string, number>>;
  /** In the order applied: ground roll first, then (to a screen) those of the air distance. */
  readonly corrections: readonly Correction[];
  /** Corrections that could not be made, as sentences. */
  readonly left: readonly string[];
}

type Part = 'headwindMps' | 'slope' | 'massKg' | 'densityRatio';

const missing: Readonly<Record<Part, string>> = {
  headwindMps: 'No wind along the runway was noted: not corrected for wind.',
  slope: 'No slope was noted: not corrected for slope.',
  massKg: 'No mass was noted: not corrected for weight.',
  densityRatio: 'No air temperature or altimeter setting was noted: not corrected for density.',
};

/** One value of each input, in standard deviations from its centre where it is shared by both parts of a distance. */
interface Draw {
  readonly headwind: number;
  readonly slope: number;
  readonly mass: number;
  readonly density: number;
  readonly windExponent: number;
  readonly weightExponent: number;
  readonly densityExponent: number;
}

const drawn = (quantity: Uncertain, standardDeviations: number): number =>
  quantity.value + standardDeviations * quantity.sigma;

/** Weight and density, in this order (they commute). */
function logWeightDensity(
  part: DistancePart,
  conditions: DistanceConditions,
  reference: DistanceReference,
  draw: Draw,
): number {
  const { propeller, turbocharged, massKg, densityRatio } = conditions;
  let log = 0;
  if (reference.massKg !== undefined && massKg !== undefined) {
    log += weightLog(
      drawn(massKg, draw.mass),
      reference.massKg,
      drawn(weightExponents[part][propeller], draw.weightExponent),
    );
  }
  if (reference.densityRatio !== undefined && densityRatio !== undefined) {
    const shift = draw.densityExponent * densityExponentSigma(part);
    log += densityLog(
      { part, propeller, turbocharged },
      drawn(densityRatio, draw.density),
      reference.densityRatio,
      shift,
    );
  }
  return log;
}

/** Wind to still air, slope, weight, density, and last (where one is asked for) the reference wind. */
function groundRollM(
  roll: 'takeoff' | 'landing',
  distanceM: number,
  groundSpeedMps: number,
  conditions: DistanceConditions,
  reference: DistanceReference,
  draw: Draw,
): number {
  const { headwindMps, slope } = conditions;
  const headwind = headwindMps === undefined ? 0 : drawn(headwindMps, draw.headwind);
  const exponent = drawn(takeoffWindExponent, draw.windExponent);
  const airspeedMps = groundSpeedMps + headwind;
  const windKnown = reference.headwindMps !== undefined && headwindMps !== undefined;
  let valueM = distanceM;
  if (windKnown) valueM *= Math.exp(groundRollWindLog(groundSpeedMps, headwind, 0, exponent));
  if (reference.slope !== undefined && slope !== undefined) {
    valueM *= Math.exp(groundRollSlopeLog(roll, valueM, airspeedMps, drawn(slope, draw.slope), reference.slope));
  }
  valueM *= Math.exp(
    logWeightDensity(roll === 'takeoff' ? 'ground-roll' : 'landing-roll', conditions, reference, draw),
  );
  if (windKnown) valueM *= Math.exp(groundRollWindLog(airspeedMps, 0, reference.headwindMps, exponent));
  return valueM;
}

/** The corrections of a ground roll one by one, as they are shown. */
function groundCorrections(
  run: GroundRollRun,
  conditions: DistanceConditions,
  reference: DistanceReference,
): Correction[] {
  const { roll, groundSpeedMps, distanceM } = run;
  const { propeller, turbocharged, headwindMps, slope, massKg, densityRatio } = conditions;
  const corrections: Correction[] = [];
  let stillAirRollM = distanceM.value;
  const headwind = headwindMps ?? { value: 0, sigma: 0 };
  const trueAirspeedMps = {
    value: groundSpeedMps.value + headwind.value,
    sigma: Math.hypot(groundSpeedMps.sigma, headwind.sigma),
  };
  const windKnown = reference.headwindMps !== undefined && headwindMps !== undefined;
  if (windKnown) {
    const wind = groundRollWindFactor({ groundSpeedMps, headwindMps });
    stillAirRollM *= wind.factor ?? 1;
    corrections.push(wind);
  }
  if (reference.slope !== undefined && slope !== undefined) {
    corrections.push(
      groundRollSlopeFactor({ stillAirRollM, trueAirspeedMps, slope, referenceSlope: reference.slope, roll }),
    );
  }
  const part = roll === 'takeoff' ? 'ground-roll' : 'landing-roll';
  if (reference.massKg !== undefined && massKg !== undefined) {
    corrections.push(weightFactor({ part, propeller, massKg, referenceMassKg: reference.massKg }));
  }
  if (reference.densityRatio !== undefined && densityRatio !== undefined) {
    const referenceDensityRatio = reference.densityRatio;
    corrections.push(densityFactor({ part, propeller, turbocharged, densityRatio, referenceDensityRatio }));
  }
  if (windKnown && reference.headwindMps !== 0) {
    const zero = { value: 0, sigma: 0 };
    const referenceHeadwindMps = reference.headwindMps;
    corrections.push(
      groundRollWindFactor({ groundSpeedMps: trueAirspeedMps, headwindMps: zero, referenceHeadwindMps }),
    );
  }
  return corrections;
}

function leftOut(conditions: DistanceConditions, reference: DistanceReference): string[] {
  return (Object.keys(missing) as Part[])
    .filter((key) => reference[key] !== undefined && conditions[key] === undefined)
    .map((key) => missing[key]);
}

const standard: Uncertain = { value: 0, sigma: 1 };
const standardDraws = {
  headwind: standard,
  slope: standard,
  mass: standard,
  density: standard,
  windExponent: standard,
  weightExponent: standard,
  densityExponent: standard,
};

function reduced(
  propagated: { readonly value: number; readonly shifts: Readonly<Record<string, number>> },
  corrections: readonly Correction[],
  left: readonly string[],
): ReducedDistance {
  const shifts = Object.entries(propagated.shifts);
  const model = shifts.filter(([source]) => source.endsWith('Exponent'));
  const run = shifts.filter(([source]) => !source.endsWith('Exponent'));
  const runSigmaM = rootSumSquare(run.map(([, shift]) => shift));
  return {
    valueM: propagated.value,
    sigmaM: Math.hypot(runSigmaM, rootSumSquare(model.map(([, shift]) => shift))),
    runSigmaM,
    modelShiftsM: Object.fromEntries(model),
    shiftsM: propagated.shifts,
    corrections,
    left,
  };
}

/**
 * A ground roll taken from the conditions flown to reference conditions: wind, slope, weight, density, in the order of the flight-test
 * reference handbook (SFTE, 2013) ch. 12, with the standard deviation carried through the whole chain (the slope correction depends on the
 * wind-corrected roll).
 * @throws RangeError as the single corrections do: no positive speed, no possible roll.
 */
export function reduceGroundRoll(
  run: GroundRollRun,
  conditions: DistanceConditions,
  reference: DistanceReference,
): ReducedDistance {
  const corrections = groundCorrections(run, conditions, reference);
  const propagated = propagate({ distance: run.distanceM, speed: run.groundSpeedMps, ...standardDraws }, (at) =>
    groundRollM(run.roll, at.distance, at.speed, conditions, reference, at),
  );
  return reduced(propagated, corrections, leftOut(conditions, reference));
}

/**
 * A take-off distance to a screen height taken to reference conditions: ground roll and air distance each by their own method, added. The
 * same noted wind, mass and density act on both, and an error in the instant of lift-off moves distance from one to the other: both are
 * carried as what they are, one error.
 * @throws RangeError as {@link reduceGroundRoll}; or when the screen is not beyond lift-off.
 */
export function reduceDistanceToScreen(
  run: ScreenRun,
  conditions: DistanceConditions,
  reference: DistanceReference,
): ReducedDistance {
  const { groundRollM: rollM, totalM, groundSpeedMps, airTimeS } = run;
  const airDistanceM = totalM.value - rollM.value;
  if (!(airDistanceM > 0 && airTimeS > 0)) {
    throw new RangeError(`An air distance of ${airDistanceM} m in ${airTimeS} s is none.`);
  }
  const airHeadwindMps = run.airHeadwindMps ?? conditions.headwindMps;
  const corrections = groundCorrections({ roll: 'takeoff', distanceM: rollM, groundSpeedMps }, conditions, reference);
  const referenceHeadwindMps = reference.headwindMps;
  const windKnown = referenceHeadwindMps !== undefined && airHeadwindMps !== undefined;
  if (windKnown) {
    const timeS = { value: airTimeS, sigma: rollM.sigma / groundSpeedMps.value };
    corrections.push(airDistanceWindAddend({ airDistanceM, timeS, headwindMps: airHeadwindMps, referenceHeadwindMps }));
  }
  const { propeller, turbocharged, massKg, densityRatio } = conditions;
  const part = 'air-distance';
  if (reference.massKg !== undefined && massKg !== undefined) {
    corrections.push(weightFactor({ part, propeller, massKg, referenceMassKg: reference.massKg }));
  }
  if (reference.densityRatio !== undefined && densityRatio !== undefined) {
    const referenceDensityRatio = reference.densityRatio;
    corrections.push(densityFactor({ part, propeller, turbocharged, densityRatio, referenceDensityRatio }));
  }
  const propagated = propagate({ total: totalM, roll: rollM, speed: groundSpeedMps, ...standardDraws }, (at) => {
    const ground = groundRollM('takeoff', at.roll, at.speed, conditions, reference, at);
    const timeS = airTimeS - (at.roll - rollM.value) / groundSpeedMps.value;
    let air = at.total - at.roll;
    if (windKnown) air += drawn(airHeadwindMps, at.headwind) * timeS;
    air *= Math.exp(logWeightDensity(part, conditions, reference, at));
    // To the reference wind at the end: the time in the air scales with the distance through it.
    if (windKnown && referenceHeadwindMps !== 0) {
      const stillAirM = at.total - at.roll + drawn(airHeadwindMps, at.headwind) * timeS;
      air -= referenceHeadwindMps * timeS * (air / stillAirM);
    }
    return ground + air;
  });
  return reduced(propagated, corrections, leftOut(conditions, reference));
}
