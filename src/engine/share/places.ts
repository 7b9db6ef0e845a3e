import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { geodesicFrom } from '../geo/geodesic.ts';
import { localPlane } from '../geo/local-plane.ts';
import { type Circle, firstPlace, lastPlace, type Place } from '../track/privacy.ts';
import type { Track } from '../track/track.ts';

/** Metres between two places; good to a part in ten thousand within 200 km. */
export function apartM(a: Place, b: Place): number {
  const { eastM, northM } = localPlane(a.latDeg, a.lonDeg).toPlane(b.latDeg, b.lonDeg);
  return Math.hypot(eastM, northM);
}

/** Where each recording begins and ends, places within a distance of one found before left out; in the order of tracks. */
export function endsOf(tracks: readonly Track[], togetherM: number): Place[] {
  const places: Place[] = [];
  for (const track of tracks) {
    for (const place of [firstPlace(track), lastPlace(track)]) {
      if (place !== undefined && places.every((known) => apartM(known, place) > togetherM)) places.push(place);
    }
  }
  return places;
}

/** Fields further apart than this are moved by shifts of their own, so that nothing tells how they lie to each other. */
const sameHomeM = 100_000;

/** For each track the place that is moved to the common point: the first start of the tracks that begin near it. */
export function homesOf(tracks: readonly Track[], around: readonly Place[]): (Place | undefined)[] {
  const homes: Place[] = [...around];
  return tracks.map((track) => {
    const start = firstPlace(track);
    if (start === undefined) return undefined;
    const known = homes.find((home) => apartM(home, start) <= sameHomeM);
    if (known === undefined) homes.push(start);
    return known ?? start;
  });
}

/** The centre of a circle lies off the place that it hides by up to this part of its radius. */
export const offCentrePart = 0.5;
/** Ends of recordings this part of the radius apart are hidden by one circle; with the former less than a whole radius. */
export const togetherPart = 0.25;

/**
 * A circle of the radius around each place, its centre off the place by chance: anywhere within half the radius is equally
 * likely. The same places, radius and seed give the same circles, so that a later copy does not narrow them down.
 */
export function offCentreCircles(places: readonly Place[], radiusM: number, seed: number): Circle[] {
  const random = xoroshiro128plus(seed);
  return places.map((place) => {
    const distanceM = offCentrePart * radiusM * Math.sqrt(uniformFloat64(random));
    const centre = geodesicFrom(place.latDeg, place.lonDeg, 2 * Math.PI * uniformFloat64(random), distanceM);
    return { latDeg: centre.latDeg, lonDeg: centre.lonDeg, radiusM };
  });
}
