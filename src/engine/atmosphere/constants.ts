/**
 * Constants of the standard atmosphere, SI. ICAO standard atmosphere / US Standard Atmosphere 1976, as printed in the
 * flight-test reference handbook (SFTE, 2013) ch. 3 and FAA-H-8083-25C fig. 11-2.
 */
export const seaLevelPressurePa = 101_325;
export const seaLevelTemperatureK = 288.15;
export const seaLevelDensityKgM3 = 1.225;
/** Fall of temperature with geopotential height in the troposphere, K/m. */
export const lapseRateKPerM = 0.0065;
export const gravityMps2 = 9.80665;
/** Specific gas constant of dry air, J/(kg K). */
export const gasConstantJPerKgK = 287.05287;
/** Ratio of specific heats of air. */
export const heatCapacityRatio = 1.4;
/** Exponent of pressure, g0/(R L) = 5.25588. */
export const pressureExponent = gravityMps2 / (gasConstantJPerKgK * lapseRateKPerM);
/** Molar mass of water over that of dry air: 18.015 / 28.964. */
export const waterToAirMolarMass = 0.622;
/** Top of the troposphere, geopotential: 36,089 ft. */
export const tropopauseM = 11_000;
/** Lower end of the ICAO tables. */
export const lowestM = -5_000;
