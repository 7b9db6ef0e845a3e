/** Metres of one degree of latitude: 60 nautical miles. Exact to 0.5 %, enough to check speeds and directions. */
export const metresPerDegree = 60 * 1852;

/** North and east of one position from another, metres. */
export function northEastM(fromLat: number, fromLon: number, toLat: number, toLon: number): readonly [number, number] {
  const across = Math.cos((toLat * Math.PI) / 180);
  return [(toLat - fromLat) * metresPerDegree, (toLon - fromLon) * metresPerDegree * across];
}

export function distanceM(fromLat: number, fromLon: number, toLat: number, toLon: number): number {
  return Math.hypot(...northEastM(fromLat, fromLon, toLat, toLon));
}
