/**
 * Share of sea-level full-throttle power left at a density ratio, for a normally aspirated engine:
 * `1.1324 sigma - 0.1324`. Source: flight-test reference handbook (SFTE, 2013) ch. 10.
 *
 * A turbocharged engine keeps its power up to its critical altitude: pass that density ratio, and the fall starts there.
 */
export function powerShare(densityRatio: number, criticalDensityRatio?: number): number {
  const fall = (ratio: number) => 1.1324 * ratio - 0.1324;
  if (criticalDensityRatio === undefined) return Math.max(0, fall(densityRatio));
  return densityRatio >= criticalDensityRatio ? 1 : Math.max(0, fall(densityRatio / criticalDensityRatio));
}

/** Rate of climb from excess power, m/s: `(thrust power - required power) / weight`. FAA-H-8083-25C ch. 11. */
export function rateOfClimbMps(thrustPowerW: number, requiredPowerW: number, massKg: number): number {
  return (thrustPowerW - requiredPowerW) / (massKg * STANDARD_GRAVITY);
}

/** m/s2, by definition. */
export const STANDARD_GRAVITY = 9.80665;
