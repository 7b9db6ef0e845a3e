import { gravityMps2 } from '../atmosphere/constants.ts';
import type { Unknowns } from './unknowns.ts';

/** A take-off before and after: masses, and the factors of drag, lift coefficient and friction as they truly turn out. */
export interface TakeoffChange {
  readonly before: { readonly massKg: number; readonly spanM: number };
  readonly after: { readonly massKg: number; readonly spanM: number };
  readonly drag: number;
  readonly lift: number;
  readonly friction: number;
  readonly unknowns: Unknowns;
}

/** Thrust after over before at true airspeeds of each, m/s. */
export interface RollThrust {
  readonly ratio: (speedBeforeMps: number, speedAfterMps: number) => number;
}

/** The mean force of a roll is that near 0.7 of lift-off speed (half of its square): FAA-H-8083-25C ch. 11, 70/50 rule. */
const MEAN_ROLL_SPEED = Math.SQRT1_2;

/** Lift-off speed after over before: `sqrt(mass / lift coefficient)`. FAA-H-8083-25C ch. 11. */
function speedRatio({ before, after, lift }: TakeoffChange): number {
  return Math.sqrt(after.massKg / before.massKg / lift);
}

/**
 * Ground roll after, m: `S = W V^2 / (2 g F)` with the mean excess force `F` of the measured roll; thrust is `F` and the
 * resistance together, and is scaled at 0.7 of lift-off speed. Sources: SFTE handbook ch. 12; NACA TN-557 (abstract) for what
 * matters being thrust near 0.7 V rather than static thrust.
 *
 * @param idealN thrust that the ideal disc could give at a speed, N: more than that was not there
 * @returns 'contradiction' where the set of unknowns contradicts the measured roll, undefined where it leaves no acceleration
 */
export function groundRollM(
  change: TakeoffChange,
  measured: { readonly groundRollM: number; readonly liftoffTasMps: number },
  thrust: RollThrust,
  idealN: (speedMps: number) => number,
): number | undefined | 'contradiction' {
  const { before, after, unknowns } = change;
  const faster = speedRatio(change);
  const mass = after.massKg / before.massKg;
  const speed = measured.liftoffTasMps;
  const weightN = before.massKg * gravityMps2;
  const acceleratingM = measured.groundRollM * (1 - unknowns.unscaledRoll);
  const excessN = (before.massKg * speed ** 2) / (2 * acceleratingM);
  const frictionN = unknowns.friction * unknowns.wheelLoad * weightN;
  const dragN = unknowns.rollDrag * weightN;
  const thrustN = excessN + frictionN + dragN;
  const meanSpeed = MEAN_ROLL_SPEED * speed;
  // An ideal disc of this power and diameter cannot pull more: then the roll, the power or the speed is misstated.
  if (thrustN > idealN(meanSpeed)) return 'contradiction';
  const { rollInducedShare: induced } = unknowns;
  // On the wheels the attitude sets the lift coefficient, so the part that comes from lift goes with speed squared as well.
  const dragFactor = ((1 - induced) * change.drag + induced * (before.spanM / after.spanM) ** 2) * faster ** 2;
  const thrustAfterN = thrustN * thrust.ratio(meanSpeed, meanSpeed * faster);
  const excessAfterN = thrustAfterN - frictionN * mass * change.friction - dragN * dragFactor;
  if (!(excessAfterN > 0)) return undefined;
  const accelerating = (after.massKg * (faster * speed) ** 2) / (2 * excessAfterN);
  const unscaled = measured.groundRollM * unknowns.unscaledRoll * faster;
  return accelerating * mass ** unknowns.rollMassExponent + unscaled;
}

/**
 * Distance over which a mean excess of thrust over drag gains the speed and the height of the screen, m:
 * `S = m [(V_screen^2 - V_liftoff^2) / 2 + g h] / F`. Source: SFTE handbook ch. 12.
 */
export function airDistanceOfExcessM(
  massKg: number,
  excessN: number,
  liftoffMps: number,
  screenMps: number,
  screenHeightM: number,
): number {
  return (massKg * ((screenMps ** 2 - liftoffMps ** 2) / 2 + gravityMps2 * screenHeightM)) / excessN;
}

export interface AirDistance {
  /** From lift-off to the screen, m. */
  readonly measuredM: number;
  readonly screenHeightM: number;
}

/**
 * Air distance after, m: `S = W / (T - D) x [(V_screen^2 - V_liftoff^2) / 2g + h]`, with the excess force from the measured
 * distance, the drag assumed and the thrust from both. Source: SFTE handbook ch. 12.
 *
 * @returns undefined where nothing is left to climb with
 */
export function airDistanceM(
  change: TakeoffChange,
  liftoffTasMps: number,
  air: AirDistance,
  thrust: RollThrust,
): number | undefined {
  if (!(air.measuredM > 0)) return undefined;
  const { before, after, unknowns } = change;
  const faster = speedRatio(change);
  const mass = after.massKg / before.massKg;
  const ofExcess = (massKg: number, liftoffMps: number): number =>
    airDistanceOfExcessM(massKg, 1, liftoffMps, unknowns.screenSpeed * liftoffMps, air.screenHeightM);
  const excessN = ofExcess(before.massKg, liftoffTasMps) / air.measuredM;
  const dragN = unknowns.airDrag * before.massKg * gravityMps2;
  const meanSpeed = ((1 + unknowns.screenSpeed) / 2) * liftoffTasMps;
  const { airInducedShare: induced } = unknowns;
  const dragFactor =
    (induced * mass ** 2 * (before.spanM / after.spanM) ** 2) / faster ** 2 + (1 - induced) * change.drag * faster ** 2;
  const excessAfterN = (excessN + dragN) * thrust.ratio(meanSpeed, meanSpeed * faster) - dragN * dragFactor;
  if (!(excessAfterN > 0)) return undefined;
  return (ofExcess(after.massKg, liftoffTasMps * faster) / excessAfterN) * mass ** unknowns.airMassExponent;
}
