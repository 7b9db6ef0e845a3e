import { lapseRateKPerM, pressureExponent, seaLevelPressurePa, seaLevelTemperatureK } from './constants.ts';
import { requireTroposphere, standardAtmosphere } from './standard-atmosphere.ts';

/** The range that weather has ever given, with room: beyond it the number is in another unit or mistyped. */
export const plausibleAltimeterSettingPa = { low: 85_000, high: 110_000 } as const;

const scaleM = seaLevelTemperatureK / lapseRateKPerM;

/**
 * Pressure altitude of a static pressure, metres: 44,330.77 m x (1 - (p/p0)^0.190263).
 * Source: FAA-H-8083-25C fig. 11-3 (values), flight-test reference handbook (SFTE, 2013) ch. 3 (formula).
 * @throws RangeError for a pressure that is not positive or beyond the troposphere.
 */
export function pressureAltitudeOfPressureM(pressurePa: number): number {
  if (!(pressurePa > 0)) throw new RangeError(`Pressure ${pressurePa} Pa is not a pressure.`);
  const heightM = scaleM * (1 - (pressurePa / seaLevelPressurePa) ** (1 / pressureExponent));
  requireTroposphere(heightM);
  return heightM;
}

/**
 * Pressure altitude at a field from its elevation and the altimeter setting (QNH), metres. An altimeter set to QNH reads
 * the elevation at the field, so the setting moves the scale by a constant: exact for an altimeter, at any elevation.
 *
 * Not for QFE (use elevation 0) and not for a sea-level pressure reduced with the real temperature (SLP).
 * @param elevationM Elevation of the field above mean sea level, metres.
 * @param altimeterSettingPa QNH, Pa.
 * @throws RangeError for a setting outside 850 to 1100 hPa (an inHg or hPa number that was not converted).
 * @example pressureAltitudeM(1793.1, 101_929) // 5,883 ft, 30.10 inHg: 1,743 m = 5,718 ft
 */
export function pressureAltitudeM(elevationM: number, altimeterSettingPa: number): number {
  const { low, high } = plausibleAltimeterSettingPa;
  if (!(altimeterSettingPa >= low && altimeterSettingPa <= high)) {
    throw new RangeError(
      `Altimeter setting ${altimeterSettingPa} Pa is not between ${low / 100} and ${high / 100} hPa (25.1 and 32.5 inHg): wrong unit?`,
    );
  }
  return elevationM + pressureAltitudeOfPressureM(altimeterSettingPa);
}

/** Static pressure at a pressure altitude, Pa. The inverse of {@link pressureAltitudeOfPressureM}. */
export function pressureAtPressureAltitudePa(pressureAltitudeM: number): number {
  return standardAtmosphere(pressureAltitudeM).pressurePa;
}
