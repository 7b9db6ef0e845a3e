/**
 * A local east-north plane for distances of a flight: the point is taken to the tangent plane of the WGS-84 ellipsoid at
 * the origin (meridian and prime-vertical radii of curvature), and its distance from the origin is then stretched from
 * chord to arc. Against geodesics: under 1 mm at 70 km from the origin and 1 cm at 200 km; on any short distance 2 parts
 * in 100,000 at 70 km, 2 in 10,000 at 200 km, 4 in 1,000 at 1,000 km. (The common mid-latitude formula is also good from
 * the origin, but wrong by 0.5 % between two points 70 km away at 45 degrees.) Heights are ignored: a strip at 2,500 m is
 * 0.04 % longer than it comes out here.
 */
export interface LocalPlane {
  readonly originLatDeg: number;
  readonly originLonDeg: number;
  /** East and north of the origin, metres. `NaN` in gives `NaN` out. Valid to about 1,500 km, not at the poles. */
  toPlane(latDeg: number, lonDeg: number): { readonly eastM: number; readonly northM: number };
  /** The inverse of `toPlane`, to 0.1 mm within 500 km. */
  toDegrees(eastM: number, northM: number): { readonly latDeg: number; readonly lonDeg: number };
}

/** WGS-84 semi-major axis, metres, and flattening (NIMA TR8350.2). */
const semiMajorM = 6378137;
const flattening = 1 / 298.257223563;
const eccentricitySquared = flattening * (2 - flattening);
const radiansPerDegree = Math.PI / 180;

/** Radius of curvature in the meridian, metres. */
export function meridianRadiusM(latDeg: number): number {
  const sine = Math.sin(latDeg * radiansPerDegree);
  return (semiMajorM * (1 - eccentricitySquared)) / (1 - eccentricitySquared * sine * sine) ** 1.5;
}

/** Radius of curvature in the prime vertical, metres. */
export function primeVerticalRadiusM(latDeg: number): number {
  const sine = Math.sin(latDeg * radiansPerDegree);
  return semiMajorM / Math.sqrt(1 - eccentricitySquared * sine * sine);
}

/** Difference of two longitudes brought into -180..180 degrees, so that a flight may cross the date line. */
function longitudeDifferenceDeg(lonDeg: number, fromDeg: number): number {
  const difference = (lonDeg - fromDeg) % 360;
  if (difference > 180) return difference - 360;
  return difference < -180 ? difference + 360 : difference;
}

/** @param originLatDeg latitude, degrees, -89..89 @param originLonDeg longitude, degrees */
export function localPlane(originLatDeg: number, originLonDeg: number): LocalPlane {
  const sine0 = Math.sin(originLatDeg * radiansPerDegree);
  const cosine0 = Math.cos(originLatDeg * radiansPerDegree);
  const meridian0 = meridianRadiusM(originLatDeg);
  const vertical0 = primeVerticalRadiusM(originLatDeg);
  const outward0 = vertical0 * cosine0;
  const axial0 = vertical0 * (1 - eccentricitySquared) * sine0;

  const toPlane = (latDeg: number, lonDeg: number): { eastM: number; northM: number } => {
    const lat = latDeg * radiansPerDegree;
    const lon = longitudeDifferenceDeg(lonDeg, originLonDeg) * radiansPerDegree;
    const sine = Math.sin(lat);
    const vertical = semiMajorM / Math.sqrt(1 - eccentricitySquared * sine * sine);
    const outward = vertical * Math.cos(lat);
    const east = outward * Math.sin(lon);
    const north =
      cosine0 * (vertical * (1 - eccentricitySquared) * sine - axial0) - sine0 * (outward * Math.cos(lon) - outward0);
    const chord = Math.hypot(east, north);
    if (!(chord > 1)) return { eastM: east, northM: north };
    // Radius in the direction of the point (Euler's theorem), then arc = R asin(chord / R).
    const curvature = (north * north) / meridian0 + (east * east) / vertical0;
    const radius = (chord * chord) / curvature;
    const stretch = (radius * Math.asin(Math.min(1, chord / radius))) / chord;
    return { eastM: east * stretch, northM: north * stretch };
  };

  const toDegrees = (eastM: number, northM: number): { latDeg: number; lonDeg: number } => {
    let latDeg = originLatDeg;
    let lonDeg = originLonDeg;
    // Newton with the local radii; the plane is so nearly isometric that each step gains several digits.
    for (let step = 0; step < 8; step += 1) {
      const here = toPlane(latDeg, lonDeg);
      const turn = longitudeDifferenceDeg(lonDeg, originLonDeg) * radiansPerDegree * sine0;
      const east = eastM - here.eastM;
      const north = northM - here.northM;
      const localNorth = north * Math.cos(turn) - east * Math.sin(turn);
      const localEast = east * Math.cos(turn) + north * Math.sin(turn);
      latDeg += localNorth / meridianRadiusM(latDeg) / radiansPerDegree;
      lonDeg += localEast / (primeVerticalRadiusM(latDeg) * Math.cos(latDeg * radiansPerDegree)) / radiansPerDegree;
      if (Math.abs(localNorth) + Math.abs(localEast) < 1e-6) break;
    }
    return { latDeg, lonDeg: originLonDeg + longitudeDifferenceDeg(lonDeg, originLonDeg) };
  };

  return { originLatDeg, originLonDeg, toPlane, toDegrees };
}
