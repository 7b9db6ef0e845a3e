import { gravityMps2 } from '../atmosphere/constants.ts';
import { normallyAspiratedPowerRatio } from '../corrections/engine-power.ts';

/**
 * Share of sea-level full-throttle power left at a density ratio (see {@link normallyAspiratedPowerRatio}).
 *
 * A turbocharged engine keeps its power up to its critical altitude: pass that density ratio, and the fall starts there.
 * @throws RangeError where the line gives no power (a density ratio below 0.117)
 */
export function powerShare(densityRatio: number, criticalDensityRatio?: number): number {
  if (criticalDensityRatio === undefined) return normallyAspiratedPowerRatio(densityRatio);
  return densityRatio >= criticalDensityRatio ? 1 : normallyAspiratedPowerRatio(densityRatio / criticalDensityRatio);
}

/** Rate of climb from excess power, m/s: `(thrust power - required power) / weight`. FAA-H-8083-25C ch. 11. */
export function rateOfClimbMps(thrustPowerW: number, requiredPowerW: number, massKg: number): number {
  return (thrustPowerW - requiredPowerW) / (massKg * gravityMps2);
}
