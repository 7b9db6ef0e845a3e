import geodesicLibrary from 'geographiclib-geodesic';

/**
 * Geodesics on the WGS-84 ellipsoid by GeographicLib (Karney, "Algorithms for geodesics", J. Geodesy 87, 2013): good to nanometres, at
 * any distance. For many points around one runway use `local-plane.ts`.
 */
export interface Geodesic {
  readonly distanceM: number;
  /** True direction at the start towards the end, and at the end away from the start, radians 0..2 pi. */
  readonly fromAzimuthRad: number;
  readonly toAzimuthRad: number;
}

const wgs84 = geodesicLibrary.Geodesic.WGS84;
const degree = Math.PI / 180;

function positive(azimuthDeg: number): number {
  return (azimuthDeg < 0 ? azimuthDeg + 360 : azimuthDeg) * degree;
}

/** Shortest line between two points. `NaN` in gives `NaN` out; two equal points give distance 0. */
export function geodesicBetween(fromLatDeg: number, fromLonDeg: number, toLatDeg: number, toLonDeg: number): Geodesic {
  const line = wgs84.Inverse(fromLatDeg, fromLonDeg, toLatDeg, toLonDeg);
  return {
    distanceM: line.s12 ?? Number.NaN,
    fromAzimuthRad: positive(line.azi1 ?? Number.NaN),
    toAzimuthRad: positive(line.azi2 ?? Number.NaN),
  };
}

/** The point at a distance in a true direction, with the direction there. */
export function geodesicFrom(
  latDeg: number,
  lonDeg: number,
  azimuthRad: number,
  distanceM: number,
): { readonly latDeg: number; readonly lonDeg: number; readonly azimuthRad: number } {
  const line = wgs84.Direct(latDeg, lonDeg, azimuthRad / degree, distanceM);
  return {
    latDeg: line.lat2 ?? Number.NaN,
    lonDeg: line.lon2 ?? Number.NaN,
    azimuthRad: positive(line.azi2 ?? Number.NaN),
  };
}
