import { gravityMps2 } from '../atmosphere/index.ts';
import { type Correction, makeCorrection } from './correction.ts';
import { propagate } from './propagate.ts';
import type { Uncertain } from './uncertain.ts';

export interface ClimbWeight {
  /** Rate of climb (specific excess power) as flown, m/s. */
  readonly rateMps: number;
  readonly massKg: Uncertain;
  readonly referenceMassKg: number;
  /** Where these are known the induced drag is corrected too; otherwise its size is carried as an error. */
  readonly polar?: InducedDragData;
}

export interface InducedDragData {
  /** Span squared over wing area. */
  readonly aspectRatio: number;
  readonly wingAreaM2: number;
  /** Air and speed of the day that the rate already stands for (the standard day after the power step). */
  readonly densityKgM3: number;
  readonly trueAirspeedMps: number;
  /** Oswald factor; default {@link usualOswaldFactor}. */
  readonly oswaldFactor?: Uncertain;
}

/** Span efficiency of light aeroplanes: 0.75 with 0.08 (from memory of text-book tables, 0.6 to 0.85; the handbook's own example uses 0.75). */
export const usualOswaldFactor: Uncertain = { value: 0.75, sigma: 0.08 };

/**
 * Induced-drag term of a change of mass, m/s: [2 / (pi AR e rho V S)] (W_t^2 - W_s^2) / W_s with weights in newtons. Negative for a heavier
 * reference.
 * Source: flight-test reference handbook (SFTE, 2013) ch. 12, last step of the climb correction.
 */
export function inducedDragRateMps(
  polar: InducedDragData,
  massKg: number,
  referenceMassKg: number,
  oswaldFactor?: number,
): number {
  const { aspectRatio, wingAreaM2, densityKgM3, trueAirspeedMps } = polar;
  const e = oswaldFactor ?? polar.oswaldFactor?.value ?? usualOswaldFactor.value;
  const testN = massKg * gravityMps2;
  const referenceN = referenceMassKg * gravityMps2;
  const perSquareNewton = 2 / (Math.PI * aspectRatio * e * densityKgM3 * trueAirspeedMps * wingAreaM2);
  return (perSquareNewton * (testN ** 2 - referenceN ** 2)) / referenceN;
}

/**
 * The induced-drag term where the wing is not known: 3.0 m/s less climb per unit of relative mass, with 1.0. The term is
 * 4 (W/S) / (pi AR e rho V): 3.2 m/s for 490 N/m2, AR 7, e 0.75 at 32 m/s, 3.6 for 660 N/m2, AR 7.4 at 40 m/s, 2.2 for a lightly loaded wing of
 * 350 N/m2. The simple rule of the handbook leaves it out, which is a bias towards too good a rate at the heavier mass.
 */
export const usualInducedRatePerRelativeMass: Uncertain = { value: 3, sigma: 1 };

/**
 * Addend, m/s, that takes a rate of climb to a reference mass at the same airspeed: the excess power stays, so rate x (m / m_ref), less the
 * induced drag of the heavier weight.
 * Source: flight-test reference handbook (SFTE, 2013) ch. 12. Prefer mass as a covariate over many climbs.
 * @throws RangeError when a mass is not positive.
 * @example 722 ft/min at 998 kg, AR 7.4, S 16.17 m2, e 0.75, 75 kt EAS at 3,000 ft, standard day: 609 ft/min at 1,089 kg
 */
export function climbWeightAddend(climb: ClimbWeight): Correction {
  const { rateMps, massKg, referenceMassKg, polar } = climb;
  if (!(massKg.value > 0 && referenceMassKg > 0))
    throw new RangeError(`Mass ${massKg.value} kg or ${referenceMassKg} kg is not a mass.`);
  const induced = polar === undefined ? usualInducedRatePerRelativeMass : (polar.oswaldFactor ?? usualOswaldFactor);
  const { value, shifts } = propagate({ mass: massKg, 'induced drag': induced }, (at) => {
    const inertia = rateMps * (at.mass / referenceMassKg - 1);
    if (polar !== undefined) return inertia + inducedDragRateMps(polar, at.mass, referenceMassKg, at['induced drag']);
    return inertia - at['induced drag'] * (referenceMassKg / at.mass - 1);
  });
  const corrected = rateMps + value;
  const ratio = referenceMassKg / massKg.value - 1;
  const outside =
    Math.abs(ratio) > 0.1
      ? [`The reference mass is ${(ratio * 100).toFixed(0)} % away from the mass flown; keep within about 10 %.`]
      : [];
  if (!(corrected > 0)) outside.push('At the reference mass no climb is left: the correction is larger than the rate.');
  return makeCorrection({
    name: 'weight',
    addend: value,
    change: value / rateMps,
    sensitivity: {
      mass: shifts.mass / Math.abs(corrected),
      'induced drag': shifts['induced drag'] / Math.abs(corrected),
    },
    outside,
  });
}
