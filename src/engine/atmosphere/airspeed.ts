import {
  gasConstantJPerKgK,
  heatCapacityRatio,
  seaLevelDensityKgM3,
  seaLevelPressurePa,
  seaLevelTemperatureK,
} from './constants.ts';

/**
 * Airspeeds of subsonic flow. Indicated airspeed is not among them: it becomes calibrated airspeed only with the flight manual's
 * table of position error, which these functions do not know.
 * Source: flight-test reference handbook (SFTE, 2013) ch. 4.
 */
const soundAtSeaLevelMps = Math.sqrt(heatCapacityRatio * gasConstantJPerKgK * seaLevelTemperatureK);

/** Speed of sound, m/s. */
export function speedOfSoundMps(temperatureK: number): number {
  return Math.sqrt(heatCapacityRatio * gasConstantJPerKgK * temperatureK);
}

/** Impact pressure of a calibrated airspeed, Pa. */
export function impactPressurePa(calibratedAirspeedMps: number): number {
  return seaLevelPressurePa * ((1 + 0.2 * (calibratedAirspeedMps / soundAtSeaLevelMps) ** 2) ** 3.5 - 1);
}

/** True airspeed, m/s, from calibrated airspeed, static pressure and ambient temperature, with compressibility. */
export function trueFromCalibratedMps(calibratedAirspeedMps: number, pressurePa: number, temperatureK: number): number {
  const impactPa = impactPressurePa(calibratedAirspeedMps);
  const mach = Math.sqrt(5 * ((impactPa / pressurePa + 1) ** (2 / 7) - 1));
  return mach * speedOfSoundMps(temperatureK);
}

/** Calibrated airspeed, m/s: the inverse of {@link trueFromCalibratedMps}. */
export function calibratedFromTrueMps(trueAirspeedMps: number, pressurePa: number, temperatureK: number): number {
  const mach = trueAirspeedMps / speedOfSoundMps(temperatureK);
  const impactPa = pressurePa * ((1 + 0.2 * mach * mach) ** 3.5 - 1);
  return soundAtSeaLevelMps * Math.sqrt(5 * ((impactPa / seaLevelPressurePa + 1) ** (2 / 7) - 1));
}

/** Equivalent airspeed, m/s: TAS x sqrt(sigma). */
export function equivalentFromTrueMps(trueAirspeedMps: number, densityKgM3: number): number {
  return trueAirspeedMps * Math.sqrt(densityKgM3 / seaLevelDensityKgM3);
}

/** True airspeed, m/s: EAS / sqrt(sigma). */
export function trueFromEquivalentMps(equivalentAirspeedMps: number, densityKgM3: number): number {
  return equivalentAirspeedMps / Math.sqrt(densityKgM3 / seaLevelDensityKgM3);
}
