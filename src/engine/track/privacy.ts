import { localPlane } from '../geo/local-plane.ts';
import { keepRows } from './columns.ts';
import type { Track } from './track.ts';

export interface Place {
  readonly latDeg: number;
  readonly lonDeg: number;
}

/** Where moved tracks lie: on the equator, in the middle of an ocean, so that nobody takes it for a real field. */
export const hiddenHome: Place = { latDeg: 0, lonDeg: -30 };

/**
 * The track moved so that `home` (by default its first position) comes to {@link hiddenHome}: distances and directions stay
 * (to 2 parts in 100,000 within 70 km), the place is gone. Times and heights stay too: with a date and a runway direction a
 * determined reader may still find the field, so what is left is for helpers, not for strangers.
 */
export function withRelativePlaces(track: Track, home: Place = firstPlace(track)): Track {
  const from = localPlane(home.latDeg, home.lonDeg);
  const to = localPlane(hiddenHome.latDeg, hiddenHome.lonDeg);
  const latDeg = new Float64Array(track.latDeg.length);
  const lonDeg = new Float64Array(track.lonDeg.length);
  for (let row = 0; row < latDeg.length; row++) {
    const { eastM, northM } = from.toPlane(track.latDeg[row], track.lonDeg[row]);
    const moved = to.toDegrees(eastM, northM);
    latDeg[row] = moved.latDeg;
    lonDeg[row] = moved.lonDeg;
  }
  const assumption = 'Positions were moved to hide the field: they lie relative to a point in the ocean.';
  return { ...track, latDeg, lonDeg, assumptions: [...track.assumptions, assumption] };
}

/**
 * The track without what lies within a radius of `home` (by default its first position); breaks mark where it was cut.
 * `undefined` when nothing is left. Take-off and landing go with it. From several tracks cut at the same circle its
 * centre can be worked out: give a `home` that is some way off the real one, and a radius that still covers it.
 */
export function withoutSurroundings(track: Track, radiusM: number, home: Place = firstPlace(track)): Track | undefined {
  const plane = localPlane(home.latDeg, home.lonDeg);
  const rows: number[] = [];
  for (let row = 0; row < track.timeS.length; row++) {
    const { eastM, northM } = plane.toPlane(track.latDeg[row], track.lonDeg[row]);
    if (Math.hypot(eastM, northM) > radiusM) rows.push(row);
  }
  return rows.length > 0 ? keepRows(track, rows) : undefined;
}

function firstPlace(track: Track): Place {
  const row = track.latDeg.findIndex((value) => !Number.isNaN(value));
  return { latDeg: track.latDeg[row], lonDeg: track.lonDeg[row] };
}
