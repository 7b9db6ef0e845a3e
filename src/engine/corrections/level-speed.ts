import { type Correction, makeCorrection } from './correction.ts';
import { propagate } from './propagate.ts';
import type { Uncertain } from './uncertain.ts';

/** How the power was set, which decides what density does to the speed. */
export type PowerSetting = 'constant-power' | 'constant-engine-speed' | 'full-throttle';

export interface LevelSpeed {
  readonly setting: PowerSetting;
  readonly propeller: 'fixed-pitch' | 'constant-speed';
  readonly massKg: Uncertain;
  readonly densityRatio: Uncertain;
  readonly referenceMassKg?: number;
  readonly referenceDensityRatio?: number;
}

/**
 * Exponents of true airspeed in level flight, from a two-term polar, drag = p (parasite share) + i (induced share), p + i = 1, i = 0.15 with
 * 0.07 at ordinary cruising speeds (1.3 to 2 times the speed of least drag; own choice).
 *
 * - Constant power: thrust power = drag x V: (3p - i) dlnV = -(p - i) dln(sigma) - 2i dlnW.
 * - Constant engine speed, fixed pitch: thrust = sigma f(V), falling with speed as V^-s, s = 3 with 1 (a propeller near its cruising advance
 *   ratio): (s + 2p - 2i) dlnV = 2i (dln(sigma) - dlnW).
 * - Full throttle, normally aspirated, constant-speed propeller: as constant power with dlnP = 1.17 dln(sigma) (slope of 1.1324 sigma - 0.1324
 *   near 0.85 to 1). With a fixed pitch the engine also slows down: the propeller's torque sets engine speed and power together, which gives about
 *   the exponent of constant engine speed and the small loss of the lower speed; 0.07 with 0.07.
 *
 * The cube law of FAA-H-8083-25C ch. 11 is the case i = 0.
 */
function exponents(speed: LevelSpeed, inducedShare: number): { readonly density: number; readonly mass: number } {
  const i = inducedShare;
  const p = 1 - i;
  if (speed.setting === 'constant-power') {
    return { density: -(p - i) / (3 * p - i), mass: (-2 * i) / (3 * p - i) };
  }
  if (speed.setting === 'full-throttle' && speed.propeller === 'constant-speed') {
    return { density: (1.17 - (p - i)) / (3 * p - i), mass: (-2 * i) / (3 * p - i) };
  }
  const steepness = 3 + 2 * (p - i);
  return { density: (2 * i) / steepness, mass: (-2 * i) / steepness };
}

/** Induced share of drag in cruise. */
export const usualInducedShare: Uncertain = { value: 0.15, sigma: 0.07 };

function levelFactor(speed: LevelSpeed, of: 'weight' | 'density'): Correction {
  const measured = of === 'weight' ? speed.massKg : speed.densityRatio;
  const reference = of === 'weight' ? speed.referenceMassKg : speed.referenceDensityRatio;
  const target = reference ?? measured.value;
  if (!(measured.value > 0 && target > 0))
    throw new RangeError(`${measured.value} or ${target} is not a positive ${of}.`);
  const source = of === 'weight' ? 'mass' : 'density';
  const { value, shifts } = propagate({ noted: measured, 'induced drag': usualInducedShare }, (at) => {
    const exponent = exponents(speed, at['induced drag']);
    return Math.log(target / at.noted) * (of === 'weight' ? exponent.mass : exponent.density);
  });
  const ratio = target / measured.value - 1;
  const outside =
    Math.abs(ratio) > 0.1
      ? [
          `The reference ${of} is ${(ratio * 100).toFixed(0)} % away from the flight; compare level speeds within about 10 %.`,
        ]
      : [];
  // What the shape of the propeller's curve adds: 0.05 of exponent (own choice, half the spread between s = 2 and s = 4).
  const shape = of === 'density' ? 0.05 * Math.abs(Math.log(target / measured.value)) : 0;
  return makeCorrection({
    name: of,
    factor: Math.exp(value),
    change: Math.exp(value) - 1,
    sensitivity: { [source]: shifts.noted, 'induced drag': shifts['induced drag'], 'density exponent': shape },
    outside,
  });
}

/** Factor that takes a level true airspeed to a reference mass at the same power setting. */
export function levelSpeedWeightFactor(speed: LevelSpeed): Correction {
  return levelFactor(speed, 'weight');
}

/**
 * Factor that takes a level true airspeed to a reference density at the same power setting. Full-throttle top speeds are best compared at
 * equal density altitude in the first place.
 */
export function levelSpeedDensityFactor(speed: LevelSpeed): Correction {
  return levelFactor(speed, 'density');
}

/**
 * Speed ratio that a change of power, efficiency and drag gives well above the speed of least power, at equal density and nearly equal
 * weight: (P2 eta2 / P1 eta1)^(1/3) (CD1/CD2)^(1/3).
 * Source: FAA-H-8083-25C ch. 11 (parasite drag with the square, power with the cube of speed). Slower than about 1.5 times the speed of least power
 * the induced drag matters and the exponent rises to 0.4 to 0.5 (from memory).
 */
export function cubeLawSpeedRatio(change: {
  readonly powerRatio?: number;
  readonly efficiencyRatio?: number;
  readonly dragRatio?: number;
}): number {
  const { powerRatio = 1, efficiencyRatio = 1, dragRatio = 1 } = change;
  return Math.cbrt((powerRatio * efficiencyRatio) / dragRatio);
}

/** Drag ratio that a speed ratio at equal power implies by the same law: (V1/V2)^3. */
export function cubeLawDragRatio(speedRatio: number): number {
  return speedRatio ** -3;
}
