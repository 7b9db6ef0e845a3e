import { type Correction, makeCorrection } from './correction.ts';
import { normallyAspiratedPowerRatio } from './engine-power.ts';
import { propagate } from './propagate.ts';
import type { Uncertain } from './uncertain.ts';
import type { DistancePart, PropellerKind } from './weight.ts';

export interface DensityChange {
  readonly part: DistancePart;
  readonly propeller: PropellerKind;
  /** Power kept up to a critical altitude. */
  readonly turbocharged: boolean;
  readonly densityRatio: Uncertain;
  readonly referenceDensityRatio: number;
}

/**
 * Exponents of the density ratio and of power. Flight-test reference handbook (SFTE, 2013) ch. 12: fixed pitch sigma^-2.4 (ground) and
 * sigma^-2.2 (air); constant speed sigma^-1.7 P^-0.9 and sigma^-1.2 P^-1.1, where P of a normally aspirated engine falls with density and
 * that of a turbocharged one is constant below its critical altitude. The handbook's further temperature term is left out: its sign is
 * opposite to that of the FAA table, and a constant-rpm evaluation drops it.
 *
 * Turbocharged with a fixed-pitch propeller: the constant-speed line (power is what matters), a case without a source of its own.
 * Landing roll: sigma^-1, from touchdown at one indicated airspeed and a deceleration that does not depend on density.
 */
const exponents = {
  'ground-roll': { fixedPitch: -2.4, density: -1.7, power: -0.9 },
  'air-distance': { fixedPitch: -2.2, density: -1.2, power: -1.1 },
  'landing-roll': { fixedPitch: -1, density: -1, power: 0 },
} as const;

/**
 * Added to the handbook's exponents where power falls with density, so that the effective exponent of the air distance is -3.2 for either propeller. The
 * handbook's own (-2.2; about -2.5) stand for ample power; the take-off table of FAA-H-8083-25C fig. 11-24, of an ordinary trainer, has -3.76. By physics: a rate of
 * climb of 740 ft/min that loses 49 ft/min in 1,000 ft (a worked example) goes with sigma^2.2, its gradient with sigma^2.7; about half of the energy gained up to
 * the screen is speed, which goes with sigma^-1: together -3.2.
 */
const fallingPower = {
  'ground-roll': { fixedPitch: 0, constantSpeed: 0 },
  'air-distance': { fixedPitch: -1, constantSpeed: -0.7 },
  'landing-roll': { fixedPitch: 0, constantSpeed: 0 },
} as const;

/**
 * One standard deviation of the effective exponent. Ground roll 0.3: the take-off table of FAA-H-8083-25C fig. 11-24 implies -2.65 to
 * -2.71 against -2.4, the constant-speed formula -2.74. Air distance 0.8: the same table implies -3.76 against -2.2 (a low-powered
 * aeroplane): half the distance between the two. Landing 0.2: drag and rolling resistance are not all braking.
 */
const exponentSigma = { 'ground-roll': 0.3, 'air-distance': 0.8, 'landing-roll': 0.2 } as const;

/** How far the density may be moved: 10 % on the ground; 3 % in the air, where exponents fail on low-powered aeroplanes. */
const reach = { 'ground-roll': 0.1, 'air-distance': 0.03, 'landing-roll': 0.1 } as const;

/** What of a {@link DensityChange} the logarithm needs. */
export type DensityKind = Pick<DensityChange, 'part' | 'propeller' | 'turbocharged'>;

/** Standard deviation of the effective exponent of a part. */
export function densityExponentSigma(part: DistancePart): number {
  return exponentSigma[part];
}

/** Logarithm of the density factor; `exponentShift` is added to the effective exponent of density. */
export function densityLog(
  kind: DensityKind,
  densityRatio: number,
  referenceDensityRatio: number,
  exponentShift: number,
): number {
  const { part, propeller, turbocharged } = kind;
  const { fixedPitch, density, power } = exponents[part];
  const logDensity = Math.log(referenceDensityRatio / densityRatio);
  const shift = exponentShift * logDensity;
  if (turbocharged) return density * logDensity + shift;
  const falling = fallingPower[part];
  if (propeller === 'fixed-pitch') return (fixedPitch + falling.fixedPitch) * logDensity + shift;
  const powerRatio = normallyAspiratedPowerRatio(referenceDensityRatio) / normallyAspiratedPowerRatio(densityRatio);
  return (density + falling.constantSpeed) * logDensity + power * Math.log(powerRatio) + shift;
}

/**
 * Factor that takes a distance to a reference density, by kind of propeller and engine.
 * @throws RangeError when a density ratio is not positive or beyond the power line.
 * @example densityFactor({ part: 'ground-roll', propeller: 'fixed-pitch', turbocharged: false, densityRatio: uncertain(0.9, 0.005), referenceDensityRatio: 1 }).factor // 0.7766
 */
export function densityFactor(change: DensityChange): Correction {
  const { part, densityRatio, referenceDensityRatio } = change;
  if (!(densityRatio.value > 0 && referenceDensityRatio > 0)) {
    throw new RangeError(`Density ratio ${densityRatio.value} or ${referenceDensityRatio} is not positive.`);
  }
  const { value, shifts } = propagate(
    { density: densityRatio, 'density exponent': { value: 0, sigma: exponentSigma[part] } },
    (at) => densityLog(change, at.density, referenceDensityRatio, at['density exponent']),
  );
  const ratio = referenceDensityRatio / densityRatio.value - 1;
  const outside: string[] = [];
  if (Math.abs(ratio) > reach[part]) {
    outside.push(
      part === 'air-distance'
        ? `The density differs by ${(ratio * 100).toFixed(0)} % from the reference; a distance through the air should be measured near the reference, not moved by more than 3 % of density.`
        : `The density differs by ${(ratio * 100).toFixed(0)} % from the reference; the exponents hold within about 10 %.`,
    );
  }
  return makeCorrection({
    name: 'density',
    factor: Math.exp(value),
    change: Math.exp(value) - 1,
    sensitivity: shifts,
    outside,
  });
}
