import { descendants, type SkeletonElement, child } from '../xml/skeleton.ts';
import type { KmlSamples } from './samples.ts';

/** A stretch of one of the sample columns. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

export interface KmlArray {
  readonly name: string;
  /** What the schema calls it, with its unit if the author gave one. */
  readonly title: string;
  readonly values: Stretch;
}

/** One `gx:Track`: its samples are paired by their order. */
export interface KmlTrack {
  readonly name: string;
  readonly altitudeMode: string;
  readonly times: Stretch;
  readonly coordinates: Stretch;
  readonly arrays: readonly KmlArray[];
  /** Tracks of the same placemark are segments of one recording. */
  readonly placemark: number;
}

/** A placemark with a point and a time: some trackers write one for every fix. */
export interface KmlPoint {
  readonly time: number;
  readonly point: number;
  readonly altitudeMode: string;
}

type Kind = 'times' | 'coordinates' | 'values' | 'points';

/** Every `gx:Track`, alone or in a `gx:MultiTrack`, in the order of the file. */
export function tracksOf(roots: readonly SkeletonElement[], samples: KmlSamples): KmlTrack[] {
  const titles = new Map(
    descendants(roots, 'SimpleArrayField').map((field) => [
      field.attributes.name ?? '',
      child(field, 'displayName')?.text.trim() ?? '',
    ]),
  );
  return descendants(roots, 'Placemark').flatMap((placemark, number) =>
    descendants([placemark], 'Track').map((track) => ({
      name: child(placemark, 'name')?.text.trim() ?? '',
      altitudeMode: modeOf(track) || modeOf(child(placemark, 'MultiTrack')),
      times: stretchOf(track, samples, 'times'),
      coordinates: stretchOf(track, samples, 'coordinates'),
      arrays: descendants([track], 'SimpleArrayData').map((array) => ({
        name: array.attributes.name ?? '',
        title: titles.get(array.attributes.name ?? '') ?? '',
        values: stretchOf(array, samples, 'values'),
      })),
      placemark: number,
    })),
  );
}

function modeOf(element: SkeletonElement | undefined): string {
  return element ? (child(element, 'altitudeMode')?.text.trim() ?? '') : '';
}

export function pointsOf(roots: readonly SkeletonElement[], samples: KmlSamples): KmlPoint[] {
  return descendants(roots, 'Placemark').flatMap((placemark) => {
    const stamp = child(placemark, 'TimeStamp');
    const point = child(placemark, 'Point');
    if (!stamp || !point) return [];
    const time = stretchOf(stamp, samples, 'times');
    const place = stretchOf(point, samples, 'points');
    if (time.from === time.to || place.from === place.to) return [];
    return [{ time: time.from, point: place.from, altitudeMode: modeOf(point) }];
  });
}

/** All samples of a kind among the children of an element; they follow each other in the columns. */
function stretchOf(element: SkeletonElement, samples: KmlSamples, kind: Kind): Stretch {
  const runs = element.children.flatMap((part) => (part.run === undefined ? [] : [samples.run(part.run)]));
  const filled = runs.filter((run) => run.to[kind] > run.from[kind]);
  if (filled.length === 0) return { from: 0, to: 0 };
  return { from: filled[0].from[kind], to: filled[filled.length - 1].to[kind] };
}
