import geomagnetism from 'geomagnetism';

export interface MagneticVariation {
  /** East positive, radians: true direction = magnetic direction + variation. */
  readonly variationRad: number;
  /** One standard deviation, radians: sqrt(0.26^2 + (5417 nT / H)^2) degrees, the error model published with WMM2025 (from memory). */
  readonly sigmaRad: number;
}

/** Either the variation or why there is none. */
export type VariationAnswer = { readonly found: MagneticVariation } | { readonly refused: string };

const degree = Math.PI / 180;

/**
 * Magnetic variation (declination) by the World Magnetic Model of the date: WMM2015, 2020 or 2025 (NOAA / British Geological Survey), from
 * 2014-12-15 to 2029-11-13. Needed only to bring magnetic runway numbers and spoken winds to true directions; winds of written reports are true.
 *
 * Refuses a date without a model, places near the magnetic poles (horizontal field under 2,000 nT, the blackout zone of the model), and
 * heights outside -1 to 850 km.
 * @param timeS Unix time, seconds: the date of the flight, never of the evaluation.
 * @param altitudeM Above the ellipsoid; default 0 (100 m change it by less than 0.001 degrees).
 */
export function magneticVariation(latDeg: number, lonDeg: number, timeS: number, altitudeM = 0): VariationAnswer {
  if (!(Math.abs(latDeg) <= 90 && Number.isFinite(lonDeg) && Number.isFinite(timeS))) {
    return { refused: 'There is no place or date for the magnetic variation.' };
  }
  if (!(altitudeM >= -1000 && altitudeM <= 850_000)) {
    return { refused: `The magnetic model does not hold at a height of ${altitudeM} m.` };
  }
  const date = new Date(timeS * 1000);
  let point: { readonly decl: number; readonly h: number };
  try {
    point = geomagnetism.model(date).point([latDeg, lonDeg, altitudeM / 1000]);
  } catch {
    const day = Number.isNaN(date.getTime()) ? 'that date' : date.toISOString().slice(0, 10);
    return {
      refused: `No magnetic model for ${day}: the models here hold from 2014-12-15 to 2029-11-13. Give true directions.`,
    };
  }
  if (!(point.h >= 2000))
    return { refused: 'So near a magnetic pole the variation is not usable. Give true directions.' };
  return {
    found: { variationRad: point.decl * degree, sigmaRad: Math.hypot(0.26, 5417 / point.h) * degree },
  };
}
