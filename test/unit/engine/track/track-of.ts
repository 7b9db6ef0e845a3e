import { localPlane } from '../../../../src/engine/geo/local-plane.ts';
import type { Track } from '../../../../src/engine/track/track.ts';

/** A track in the middle of an ocean from plane coordinates, for tests. */
export function trackOf(
  rows: readonly { t: number; east: number; north?: number; up?: number; speed?: number }[],
  more: Partial<Track> = {},
): Track {
  const plane = localPlane(46.5, -14.75);
  const places = rows.map((row) => plane.toDegrees(row.east, row.north ?? 0));
  return {
    timeS: Float64Array.from(rows, (row) => 1_700_000_000 + row.t),
    latDeg: Float64Array.from(places, (place) => place.latDeg),
    lonDeg: Float64Array.from(places, (place) => place.lonDeg),
    altitudes: rows.some((row) => row.up !== undefined)
      ? [{ kind: 'msl', valuesM: Float64Array.from(rows, (row) => row.up ?? Number.NaN) }]
      : [],
    ...(rows.some((row) => row.speed !== undefined)
      ? { groundSpeedMps: Float64Array.from(rows, (row) => row.speed ?? Number.NaN) }
      : {}),
    breaks: [],
    channels: {},
    assumptions: [],
    ...more,
  };
}
