import { gasConstantJPerKgK, seaLevelDensityKgM3, waterToAirMolarMass } from './constants.ts';
import { vapourPressurePa } from './vapour-pressure.ts';

/** Ambient air: static pressure (not QNH), shaded ambient temperature, and the dew point where it is known. */
export interface AmbientAir {
  readonly pressurePa: number;
  readonly temperatureK: number;
  /** Absent: computed dry, which hides 300 to 400 ft of density altitude on a hot damp day. */
  readonly dewPointK?: number;
}

/**
 * Virtual temperature, K: the temperature at which dry air would have the density of this moist air,
 * T / (1 - (1 - 0.622) e/p).
 * Source: ideal-gas mixture; the form of the US National Weather Service density-altitude sheet.
 */
export function virtualTemperatureK(temperatureK: number, vapourPressurePa: number, pressurePa: number): number {
  return temperatureK / (1 - ((1 - waterToAirMolarMass) * vapourPressurePa) / pressurePa);
}

/**
 * Density of ambient air, kg/m3: p / (R Tv), dry when no dew point is given.
 * @throws RangeError when pressure or temperature is not positive, or the dew point is more than 1 K above the air.
 */
export function densityKgM3(air: AmbientAir): number {
  const { pressurePa, temperatureK, dewPointK } = air;
  if (!(pressurePa > 0)) throw new RangeError(`Pressure ${pressurePa} Pa is not a pressure.`);
  if (!(temperatureK > 150 && temperatureK < 350)) {
    throw new RangeError(`Air temperature ${temperatureK} K is not between -123 and 77 degrees Celsius: wrong unit?`);
  }
  if (dewPointK === undefined) return pressurePa / (gasConstantJPerKgK * temperatureK);
  if (!(dewPointK > 150 && dewPointK <= temperatureK + 1)) {
    throw new RangeError(`Dew point ${dewPointK} K does not belong to air of ${temperatureK} K: it cannot be warmer.`);
  }
  const vapourPa = vapourPressurePa(dewPointK);
  return pressurePa / (gasConstantJPerKgK * virtualTemperatureK(temperatureK, vapourPa, pressurePa));
}

/** Density over that of the standard atmosphere at sea level: sigma. */
export function densityRatio(air: AmbientAir): number {
  return densityKgM3(air) / seaLevelDensityKgM3;
}
