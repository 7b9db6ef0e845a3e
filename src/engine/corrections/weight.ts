import { type Correction, makeCorrection } from './correction.ts';
import { propagate } from './propagate.ts';
import type { Uncertain } from './uncertain.ts';

export type PropellerKind = 'fixed-pitch' | 'constant-speed';
/** Ground roll of a take-off, air distance from lift-off to a screen height, or landing roll. */
export type DistancePart = 'ground-roll' | 'air-distance' | 'landing-roll';

/**
 * Exponents of mass. Take-off: flight-test reference handbook (SFTE, 2013) ch. 12. Spread of the ground roll: 0.15, because the take-off
 * table of FAA-H-8083-25C fig. 11-24 implies 2.40 to 2.55, its text example 2.27, the handbook 2.4 and 2.6. Of the air distance: 0.3, for want
 * of a second source (the same table has rolls and totals at one mass only).
 * Landing roll: 1.5 with 0.3: touchdown speed squared goes with mass; with the wheels braked to a share of the weight the deceleration stays
 * (exponent 1), with a fixed braking force it falls with mass (exponent 2, as in naval flight-test practice, from memory).
 */
export const weightExponents: Readonly<Record<DistancePart, Readonly<Record<PropellerKind, Uncertain>>>> = {
  'ground-roll': { 'fixed-pitch': { value: 2.4, sigma: 0.15 }, 'constant-speed': { value: 2.6, sigma: 0.15 } },
  'air-distance': { 'fixed-pitch': { value: 2.2, sigma: 0.3 }, 'constant-speed': { value: 2.3, sigma: 0.3 } },
  'landing-roll': { 'fixed-pitch': { value: 1.5, sigma: 0.3 }, 'constant-speed': { value: 1.5, sigma: 0.3 } },
};

export interface WeightChange {
  readonly part: DistancePart;
  readonly propeller: PropellerKind;
  readonly massKg: Uncertain;
  readonly referenceMassKg: number;
}

/** Logarithm of the weight factor. */
export function weightLog(massKg: number, referenceMassKg: number, exponent: number): number {
  return exponent * Math.log(referenceMassKg / massKg);
}

/**
 * Factor that takes a distance to a reference mass: (reference / mass)^exponent of {@link weightExponents}.
 * Valid within 10 % of mass (flight-test reference handbook, SFTE 2013, ch. 12: keep test conditions within about 10 %).
 * @throws RangeError when a mass is not positive.
 * @example weightFactor({ part: 'ground-roll', propeller: 'fixed-pitch', massKg: uncertain(1020.6, 5), referenceMassKg: 1088.6 }).factor // 1.1675
 */
export function weightFactor(change: WeightChange): Correction {
  const { part, propeller, massKg, referenceMassKg } = change;
  if (!(massKg.value > 0 && referenceMassKg > 0))
    throw new RangeError(`Mass ${massKg.value} kg or ${referenceMassKg} kg is not a mass.`);
  const exponent = weightExponents[part][propeller];
  const { value, shifts } = propagate({ mass: massKg, 'weight exponent': exponent }, (at) =>
    weightLog(at.mass, referenceMassKg, at['weight exponent']),
  );
  const ratio = referenceMassKg / massKg.value - 1;
  const outside =
    Math.abs(ratio) > 0.1
      ? [
          `The reference mass is ${(ratio * 100).toFixed(0)} % away from the mass flown; the exponents hold within about 10 %.`,
        ]
      : [];
  return makeCorrection({
    name: 'weight',
    factor: Math.exp(value),
    change: Math.exp(value) - 1,
    sensitivity: shifts,
    outside,
  });
}
