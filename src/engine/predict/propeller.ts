/**
 * Thrust of a propeller from momentum theory (actuator disc): what power, diameter, density and speed allow.
 *
 * Sources: flight-test reference handbook (SFTE, 2013) ch. 11; Froude's momentum theory as in any propeller text.
 */

/** Area of a propeller disc, m2. */
export function discAreaM2(diameterM: number): number {
  return (Math.PI / 4) * diameterM ** 2;
}

/** Ideal static thrust, N: `(2 rho A P^2)^(1/3)`. A real propeller gives `FM^(2/3)` of it, figure of merit 0.6 to 0.8. */
export function idealStaticThrustN(powerW: number, diameterM: number, densityKgM3: number): number {
  return Math.cbrt(2 * densityKgM3 * discAreaM2(diameterM) * powerW ** 2);
}

/**
 * Thrust at a forward speed, N, of a disc into which `usefulShare` of the shaft power goes: solves
 * `usefulShare P = T (V + v)`, `T = 2 rho A (V + v) v` for the induced speed `v`.
 *
 * @param usefulShare what is left after profile and tip losses, 0 to 1 (1 is the ideal propeller)
 * @throws RangeError when power, diameter or density is not positive
 */
export function thrustN(
  powerW: number,
  diameterM: number,
  densityKgM3: number,
  trueAirspeedMps: number,
  usefulShare = 1,
): number {
  if (!(powerW > 0 && diameterM > 0 && densityKgM3 > 0)) {
    throw new RangeError('power, diameter and density must be positive');
  }
  const inducedMps = inducedSpeedMps(usefulShare * powerW, diameterM, densityKgM3, trueAirspeedMps);
  return (usefulShare * powerW) / (trueAirspeedMps + inducedMps);
}

/** Efficiency of the ideal propeller at a speed: `V / (V + v)`, 0 to 1. */
export function froudeEfficiency(
  powerW: number,
  diameterM: number,
  densityKgM3: number,
  trueAirspeedMps: number,
): number {
  const inducedMps = inducedSpeedMps(powerW, diameterM, densityKgM3, trueAirspeedMps);
  return trueAirspeedMps / (trueAirspeedMps + inducedMps);
}

/** Root of `2 rho A (V + v)^2 v = P`: the left side rises with v, so Newton from above cannot miss. */
function inducedSpeedMps(powerW: number, diameterM: number, densityKgM3: number, speedMps: number): number {
  const twoRhoA = 2 * densityKgM3 * discAreaM2(diameterM);
  let induced = Math.cbrt(powerW / twoRhoA);
  for (let step = 0; step < 60; step += 1) {
    const through = speedMps + induced;
    const excess = twoRhoA * through ** 2 * induced - powerW;
    const next = induced - excess / (twoRhoA * through * (through + 2 * induced));
    if (Math.abs(next - induced) <= 1e-14 * induced) return next;
    induced = next;
  }
  return induced;
}
