import { lapseRateKPerM, pressureExponent, seaLevelDensityKgM3, seaLevelTemperatureK } from './constants.ts';
import { type AmbientAir, densityKgM3 } from './density.ts';
import { requireTroposphere } from './standard-atmosphere.ts';

/**
 * Density altitude of a density, metres: the height at which the standard atmosphere is as dense.
 * Exact inversion, 44,330.77 m x (1 - sigma^0.234969).
 * @throws RangeError for a density that is not positive or beyond the troposphere.
 */
export function densityAltitudeOfDensityM(densityKgM3: number): number {
  if (!(densityKgM3 > 0)) throw new RangeError(`Density ${densityKgM3} kg/m3 is not a density.`);
  const exponent = 1 / (pressureExponent - 1);
  const heightM = (seaLevelTemperatureK / lapseRateKPerM) * (1 - (densityKgM3 / seaLevelDensityKgM3) ** exponent);
  requireTroposphere(heightM);
  return heightM;
}

/**
 * Density altitude, metres, of dry air or, where the dew point is known, of moist air (virtual temperature).
 *
 * The closed form of the US National Weather Service is 14 to 20 ft higher everywhere (see `density-altitude-nws.ts`) and the rule
 * of 120 ft a degree about 100 ft higher: neither is used. It says nothing of the power an engine loses to humidity.
 * @throws RangeError as {@link densityKgM3}.
 * @example densityAltitudeM({ pressurePa: 84_307, temperatureK: 298.24 }) // PA 5,000 ft, ISA+20: 7,272 ft
 */
export function densityAltitudeM(air: AmbientAir): number {
  return densityAltitudeOfDensityM(densityKgM3(air));
}
