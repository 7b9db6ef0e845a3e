import type { Unknowns } from './unknowns.ts';

/** What of a fixed-pitch propeller and its engine decides where the two meet. */
export interface FixedPitchMatch {
  readonly ratedPowerW: number;
  readonly propellerDiameterM: number;
  /** Geometric pitch, as stamped on the hub; absent where it is not known. */
  readonly propellerPitchM?: number;
}

/** A changed engine or fixed-pitch propeller against what was there, rolling and climbing at full throttle. */
export interface FixedPitchChange {
  /** Ratio of the shaft power taken up, from the engine speed reached. */
  readonly powerRolling: number;
  readonly powerClimbing: number;
  /** Ratio of the thrust if the thrust coefficient stays. */
  readonly thrustRolling: number;
  readonly thrustClimbing: number;
}

/**
 * Where engine and fixed-pitch propeller meet after a change of either.
 *
 * The torque of the engine hardly depends on its speed, so at full throttle `C_P n^2 D^5` goes with rated power, and standing
 * still `C_P` goes with pitch over diameter to a power near one. With the pitch known before and after, that gives the engine
 * speed. Without it the propeller may be the old one or one matched to the old engine speed, or anything between.
 *
 * Thrust by the coefficient: `C_T n^2 D^4`, where `C_T` hardly grows with pitch once the blades are stalled and grows with it
 * while they are not; in the climb it also grows as the advance ratio falls. A figure of merit that stays says something else
 * (thrust with two thirds of power and of diameter); the truth lies between: `fixedPitchLaw`.
 *
 * Sources: coefficients and advance ratio as in the flight-test reference handbook (SFTE, 2013) ch. 11; exponents from memory of
 * full-scale propeller tests, wide on purpose.
 */
export function fixedPitchChange(
  before: FixedPitchMatch,
  after: FixedPitchMatch,
  unknowns: Unknowns,
): FixedPitchChange {
  const power = after.ratedPowerW / before.ratedPowerW;
  const diameter = after.propellerDiameterM / before.propellerDiameterM;
  const asPitched = (pitchOverDiameter: number): number =>
    Math.sqrt(power / (pitchOverDiameter ** unknowns.powerWithPitch * diameter ** 5));
  const known = before.propellerPitchM !== undefined && after.propellerPitchM !== undefined;
  const kept = known && before.propellerPitchM === after.propellerPitchM && diameter === 1;
  const speed = known
    ? asPitched((after.propellerPitchM ?? 1) / (before.propellerPitchM ?? 1) / diameter)
    : asPitched(1 / diameter) ** unknowns.fixedPitchSettling;
  const rolling = speed * Math.exp(kept ? 0 : unknowns.fixedPitchSpeedError);
  // The pitch that goes with that engine speed, over the old one.
  const pitchOverDiameter = (power / (rolling ** 2 * diameter ** 5)) ** (1 / unknowns.powerWithPitch);
  const pitch = pitchOverDiameter * diameter;
  return {
    powerRolling: power * rolling,
    powerClimbing: power * rolling,
    thrustRolling: rolling ** 2 * diameter ** 4 * pitchOverDiameter ** unknowns.thrustWithPitch,
    thrustClimbing: rolling ** 2 * diameter ** 4 * (rolling * pitch) ** unknowns.climbThrustWithPitch,
  };
}
