import type { ReducedDistance, Uncertain } from '../corrections/index.ts';
import type { AppliedCorrection } from './result.ts';
import type { ReducedRun } from './run.ts';
import { type RollConditions, distanceRun } from './roll-conditions.ts';

/** Acceleration at lift-off over the mean of the roll: it falls with speed as thrust does and drag grows (three quarters, give or take a quarter; own judgement). */
const finalAcceleration: Uncertain = { value: 0.75, sigma: 0.25 };

export interface EqualSpeedRun {
  /** As measured. */
  readonly distanceM: Uncertain;
  readonly groundSpeedMps: Uncertain;
  /** One sigma of the instant of lift-off. */
  readonly liftoffSigmaS: number;
}

/**
 * A ground roll at the lift-off airspeed that is usual for the weight and density flown, instead of the one that was flown: the reduced roll times (V_usual / V)^2
 * (FAA-H-8083-25C ch. 11: distance goes with the square of the lift-off speed). In effect the mean acceleration V^2 / 2S is compared.
 *
 * An error in the wind moves the still-air roll (exponent 1.85) and the square of the airspeed nearly alike and cancels; so does, for the greater part, an error in the
 * instant of lift-off, which moves distance and speed together.
 * @param usualSpeedMps True airspeed at lift-off that all runs are brought to, at the mass and density flown.
 */
export function reduceAtEqualSpeed(
  run: EqualSpeedRun,
  reduced: ReducedDistance,
  conditions: RollConditions,
  usualSpeedMps: number,
  propeller: string,
  configuration: string,
): ReducedRun {
  const airspeedMps = run.groundSpeedMps.value + conditions.headwind.value;
  const factor = (usualSpeedMps / airspeedMps) ** 2;
  const { shiftsM, valueM } = reduced;
  const sigmaOf = (shifts: Readonly<Record<string, number>>): number => Math.hypot(0, ...Object.values(shifts));
  // Relative shift of the factor for one standard deviation: 2 dV_usual/V_usual - 2 dV/V, V_usual going with sqrt(mass / density).
  const ofFactor: Record<string, number> = {
    headwind: (-2 * sigmaOf(conditions.headwind.shifts)) / airspeedMps,
    mass: sigmaOf(conditions.mass.shifts) / conditions.mass.value,
    density: -sigmaOf(conditions.densityRatio.shifts) / conditions.densityRatio.value,
  };
  const joined = Object.fromEntries(
    Object.entries(shiftsM).map(([source, shift]) => [source, factor * (shift + (ofFactor[source] ?? 0) * valueM)]),
  );
  const { ownSigma: _, ...rest } = distanceRun(
    { ...reduced, valueM: valueM * factor, shiftsM: joined },
    conditions,
    propeller,
    configuration,
  );
  const change: AppliedCorrection = {
    name: 'energy',
    factor,
    relativeSigma: (2 * Math.hypot(run.groundSpeedMps.sigma, sigmaOf(conditions.headwind.shifts))) / airspeedMps,
    ...(Math.abs(factor - 1) > 0.1
      ? { warning: 'The lift-off speed was more than 5 % off the usual one for this weight.' }
      : {}),
  };
  return {
    ...rest,
    ownSigma: ownSigma(run, airspeedMps) * valueM * factor,
    corrections: [...rest.corrections, change],
  };
}

/** Relative error of S / V^2 of the recording alone. What the instant of lift-off does to both is taken together; the rest of each by itself. */
function ownSigma({ distanceM, groundSpeedMps, liftoffSigmaS }: EqualSpeedRun, airspeedMps: number): number {
  const speed = groundSpeedMps.value;
  const meanMps2 = speed ** 2 / (2 * distanceM.value);
  const finalMps2 = finalAcceleration.value * meanMps2;
  // The instant cannot explain more than the errors stated for distance and speed.
  const instantS = Math.min(liftoffSigmaS, distanceM.sigma / speed, groundSpeedMps.sigma / finalMps2);
  const distanceRest = Math.sqrt(Math.max(0, distanceM.sigma ** 2 - (speed * instantS) ** 2)) / distanceM.value;
  const speedRest = (2 * Math.sqrt(Math.max(0, groundSpeedMps.sigma ** 2 - (finalMps2 * instantS) ** 2))) / airspeedMps;
  const together =
    ((speed * instantS) / distanceM.value) * Math.hypot(1 - finalAcceleration.value, finalAcceleration.sigma);
  return Math.hypot(distanceRest, speedRest, together);
}
