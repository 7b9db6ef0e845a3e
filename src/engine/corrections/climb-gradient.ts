/**
 * Gradient of a climb, dimensionless (0.09216 is 9.216 % or 560 ft per nautical mile): rate over speed. Ground speed gives the gradient over the ground, for
 * obstacles; true airspeed that of the aeroplane itself.
 * @throws RangeError for a speed that is not positive.
 */
export function climbGradient(rateMps: number, speedMps: number): number {
  if (!(speedMps > 0)) throw new RangeError(`A gradient needs a speed, not ${speedMps} m/s.`);
  return rateMps / speedMps;
}

/** Rate that a gradient asks for at a ground speed, m/s. */
export function rateForGradientMps(gradient: number, groundSpeedMps: number): number {
  return gradient * groundSpeedMps;
}

/** Angle of a gradient, radians. */
export function climbAngleRad(gradient: number): number {
  return Math.atan(gradient);
}
