import { mapColumns } from '../track/columns.ts';
import type { AltitudeColumn, Track } from '../track/track.ts';
import { median } from '../stats/sample.ts';

/** The height at the beginning of a recording is the median of so many seconds. */
const beginningS = 30;

/**
 * The track with its heights above the place where the recording begins, each column from its own; a pressure altitude is
 * left out where there is another height, as it would no longer be one. Density altitude cannot be worked out any more.
 */
export function withRelativeHeights(track: Track): Track {
  const geometric = track.altitudes.filter(({ kind }) => kind !== 'pressure');
  const kept = geometric.length > 0 ? geometric.slice(0, 1) : track.altitudes.slice(0, 1);
  const altitudes = kept.map((column): AltitudeColumn => {
    const firstRow = column.valuesM.findIndex((value) => Number.isFinite(value));
    const beginning = column.valuesM.filter(
      (value, row) => Number.isFinite(value) && track.timeS[row] <= track.timeS[firstRow] + beginningS,
    );
    const baseM = beginning.length === 0 ? 0 : median(beginning);
    return { ...column, kind: 'unknown', valuesM: column.valuesM.map((value) => value - baseM) };
  });
  return { ...track, altitudes };
}

/**
 * The track with one height of each sort: two geometric ones differ by the height of the geoid, which tells the region.
 */
export function withOneGeometricHeight(track: Track): Track {
  const [first] = track.altitudes.filter(({ kind }) => kind !== 'pressure');
  return { ...track, altitudes: track.altitudes.filter((column) => column === first || column.kind === 'pressure') };
}

const dayS = 86_400;
/** 2010-01-01: late enough that no reader takes it for the date of an old receiver. */
const hiddenDayS = 1_262_304_000;

/** Seconds, whole days, that bring the earliest of the tracks to 1 January 2010; days between them and times of day stay. */
export function daysToHide(tracks: readonly Track[]): number {
  const starts = tracks.map(({ timeS }) => timeS[0]).filter((startS) => Number.isFinite(startS));
  return starts.length === 0 ? 0 : hiddenDayS - Math.floor(Math.min(...starts) / dayS) * dayS;
}

export function shiftedInTime(track: Track, byS: number): Track {
  return { ...track, ...mapColumns(track, (values) => values), timeS: track.timeS.map((timeS) => timeS + byS) };
}
