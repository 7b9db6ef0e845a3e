import type { Velocity } from './wind-triangle.ts';

/** Wind (where the air goes) and true airspeed. */
export interface WindAndAirspeed {
  readonly air: Velocity;
  readonly trueAirspeedMps: number;
}

/**
 * Wind and true airspeed from exactly three ground velocities flown at one true airspeed in one wind: the circle through their tips, centre =
 * wind, radius = airspeed. No compass needed; any three directions.
 *
 * Source: flight-test reference handbook (SFTE, 2013) ch. 4, "GPS methods"; a note of 1998, "Using GPS to accurately establish true airspeed".
 * `undefined` when the tips lie on one line (fewer than three different velocities).
 */
export function windFromThreeVelocities(
  first: Velocity,
  second: Velocity,
  third: Velocity,
): WindAndAirspeed | undefined {
  const square = ({ eastMps, northMps }: Velocity): number => eastMps ** 2 + northMps ** 2;
  const a = 2 * (second.eastMps - first.eastMps);
  const b = 2 * (second.northMps - first.northMps);
  const c = 2 * (third.eastMps - first.eastMps);
  const d = 2 * (third.northMps - first.northMps);
  const determinant = a * d - b * c;
  if (!(Math.abs(determinant) > 1e-9 * (a * a + b * b + c * c + d * d))) return undefined;
  const p = square(second) - square(first);
  const q = square(third) - square(first);
  const air = { eastMps: (p * d - b * q) / determinant, northMps: (a * q - p * c) / determinant };
  return {
    air,
    trueAirspeedMps: Math.hypot(first.eastMps - air.eastMps, first.northMps - air.northMps),
  };
}
