import { formatShort } from '../../../shared/format.ts';
import type { Track } from '../track/track.ts';
import {
  type Circle,
  firstPlace,
  lastPlace,
  type Place,
  withoutCircles,
  withoutGrid,
  withRelativePlaces,
} from '../track/privacy.ts';
import { daysToHide, shiftedInTime, withOneGeometricHeight, withRelativeHeights } from './heights-and-dates.ts';
import { apartM, endsOf, homesOf, offCentreCircles, togetherPart } from './places.ts';
import { smallestRadiusM } from './radius.ts';
import { onGround } from './on-ground.ts';
import { type CopyFormat, formatFor, leftBehind, textOf } from './copy-text.ts';

/** How the places go out of a recording. */
export type SharedPlaces = 'moved' | 'cut';

export interface ShareOptions {
  /** `moved`: all of it, to one point in an ocean; `cut`: positions stay real, what lies around the fields is left out. */
  readonly places: SharedPlaces;
  /** Of the circles of `cut`, metres. */
  readonly radiusM?: number;
  /** Places to hide; where the recordings begin and end if not given. */
  readonly around?: readonly Place[];
  readonly heights: 'kept' | 'relative';
  readonly dates: 'kept' | 'moved';
  /** By what the recording holds if not given. */
  readonly format?: CopyFormat;
  /** Of all that is left to chance; who knows it can undo a part of the hiding. A whole number of 32 bits. */
  readonly seed: number;
}

/** What a person chose, with what stands where they chose nothing: moved, heights and dates as recorded. */
export function shareChoices(settings: Partial<Omit<ShareOptions, 'seed'>>): Omit<ShareOptions, 'seed'> {
  const { places = 'moved', heights = 'kept', dates = 'kept', radiusM, around, format } = settings;
  return {
    places,
    heights,
    dates,
    ...(radiusM === undefined ? {} : { radiusM }),
    ...(around === undefined ? {} : { around }),
    ...(format === undefined ? {} : { format }),
  };
}

export interface RecordingToShare {
  readonly file: string;
  readonly track: Track;
}

export interface SharedCopy {
  /** The recording, as it was given. */
  readonly of: string;
  /** Name of the copy, which tells nothing of the recording's: `flight-03.gpx`. */
  readonly name: string;
  readonly text: string;
  /** Plain sentences: what the copy lacks, and what it may still tell. */
  readonly remarks: readonly string[];
}

export interface Shared {
  readonly copies: readonly SharedCopy[];
  /** Recordings of which nothing is left, with the reason. */
  readonly refused: readonly { readonly of: string; readonly reason: string }[];
}

/**
 * Copies of recordings without their places. Moved ones keep distances and directions, so that their analysis gives the
 * same; cut ones keep their positions but not what lies around the fields, and so neither take-off nor landing. Names of
 * files, titles, headers and whatever else a file may hold are not carried over, as a copy is written from the samples
 * alone. Throws RangeError for a cut without a radius, or with one under {@link smallestRadiusM}.
 */
export function shareRecordings(recordings: readonly RecordingToShare[], options: ShareOptions): Shared {
  const tracks = recordings.map(({ track }) => track);
  const { places, radiusM } = options;
  if (places === 'cut' && !(radiusM !== undefined && radiusM >= smallestRadiusM))
    throw new RangeError(`Places are cut within a radius of ${smallestRadiusM} m at least.`);
  const homes = homesOf(tracks, options.around ?? []);
  const cutAround = options.around ?? endsOf(tracks, togetherPart * (radiusM ?? 0));
  const circles = radiusM === undefined ? [] : offCentreCircles(cutAround, radiusM, options.seed);
  const byS = options.dates === 'moved' ? daysToHide(tracks) : 0;
  // Numbered in order of time: the order in which they were named may follow the names.
  const order = recordings.map((_, index) => index).sort((a, b) => startOf(tracks[a]) - startOf(tracks[b]) || a - b);
  const width = String(recordings.length).length;
  const copies: SharedCopy[] = [];
  const refused: { of: string; reason: string }[] = [];
  for (const [at, index] of order.entries()) {
    const { file, track } = recordings[index];
    const home = homes[index];
    // Heights first: what they are counted from may be cut out.
    const levelled = options.heights === 'relative' ? withRelativeHeights(track) : withOneGeometricHeight(track);
    const made =
      places === 'cut'
        ? withoutCircles(levelled, circles)
        : home && withRelativePlaces(withoutGrid(levelled, (options.seed + index) | 0), home);
    if (made === undefined) {
      const reason = places === 'cut' ? 'all of it lies in what is cut' : 'it has no position';
      refused.push({ of: file, reason: `Nothing is left of it: ${reason}.` });
      continue;
    }
    const copy = shiftedInTime(made, byS);
    const format = options.format ?? formatFor(copy);
    copies.push({
      of: file,
      name: `flight-${String(at + 1).padStart(width, '0')}.${format}`,
      text: textOf(copy, format, options),
      remarks: [
        ...leftBehind(track, copy, format),
        ...(places === 'cut' ? stillTold(track, made, circles) : coarsely(track)),
      ],
    });
  }
  return { copies, refused };
}

function startOf({ timeS }: Track): number {
  return timeS[0] ?? Number.POSITIVE_INFINITY;
}

/** From this step on what is measured in a copy may differ visibly, metres: a shift of 6 cm moved a start of roll by half a second. */
const coarseStepM = 0.1;

function coarsely({ positionResolutionM }: Track): string[] {
  if (positionResolutionM === undefined || positionResolutionM < coarseStepM) return [];
  const stepM = formatShort(positionResolutionM, positionResolutionM < 1 ? 2 : 1);
  return [
    `Its positions were written in steps of ${stepM} m, which would tell the latitude: they were shaken by half as much, so that what is measured in the copy may differ by some per cent, within its intervals.`,
  ];
}

/** What a cut copy still shows, as far as the recording tells it. */
function stillTold(track: Track, cut: Track, circles: readonly Circle[]): string[] {
  const remarks: string[] = [];
  const outside = (place: Place | undefined): boolean =>
    place !== undefined && circles.every((circle) => apartM(circle, place) > circle.radiusM);
  if (outside(firstPlace(track)))
    remarks.push('It begins outside what is cut: the place where it begins is in the copy.');
  if (outside(lastPlace(track))) remarks.push('It ends outside what is cut: the place where it ends is in the copy.');
  if (onGround(cut)) {
    remarks.push(
      'In the copy it still moves slowly or stands somewhere, as on the ground of another field: name that with --around too.',
    );
  }
  return remarks;
}
