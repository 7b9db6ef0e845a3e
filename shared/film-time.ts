import type { Instant } from './measured.ts';

/**
 * How instants of a recording stand in the film that it was taken from, so that a person can look at the frame.
 *
 * A camera writes a position into its film 0.2 to 1 s after the picture of that moment (common practice, no source). The
 * instants of events are true times for positions that come 0.25 s late (`src/engine/events/recorder-lags.ts`), so the
 * picture of an event lies between 0.75 s before its film time and 0.05 s after it.
 */
/** How late a position may stand behind its picture in the film. */
export const mostLateS = 1;
const leastLateS = 0.2;
const takenOffS = 0.25;

/** The picture of an event lies this much before its film time at most, and this much after it. */
export const pictureBeforeS = mostLateS - takenOffS;
export const pictureAfterS = takenOffS - leastLateS;

/**
 * How wrong an instant is that a person read off the film, beside what the person says: one sigma, seconds. It is the root
 * mean square of an error that is equally likely anywhere between those two limits.
 */
export const filmClockSigmaS = Math.sqrt(
  (pictureBeforeS ** 2 - pictureBeforeS * pictureAfterS + pictureAfterS ** 2) / 3,
);

/** A film, or one file of a film that the camera split. */
export interface FilmPart {
  /** Unix time of its time 0, from which a player counts: that of the first picture. */
  readonly startS: number;
  /** Which file, where there are several. */
  readonly name?: string;
}

/** Where in a film to look for an event; seconds after the first picture. */
export interface FilmMoment {
  readonly atS: number;
  /** The 95 % interval of the event, and how late a camera's positions are. */
  readonly fromS: number;
  readonly toS: number;
  /** Which file, where there are several. */
  readonly name?: string;
}

/** The part of a film that shows an instant (Unix time), and the seconds into it; `undefined` before the first picture. */
export function intoFilm(
  films: readonly FilmPart[] | undefined,
  unixS: number,
): { readonly part: FilmPart; readonly intoS: number } | undefined {
  const part = (films ?? [])
    .filter(({ startS }) => startS <= unixS)
    .reduce<FilmPart | undefined>(
      (last, one) => (last === undefined || one.startS > last.startS ? one : last),
      undefined,
    );
  return part === undefined ? undefined : { part, intoS: unixS - part.startS };
}

/** Where to look for an event; `undefined` for a recording that is no film, and before the first picture. */
export function filmMoment(films: readonly FilmPart[] | undefined, instant: Instant): FilmMoment | undefined {
  const found = intoFilm(films, instant.timeS);
  if (found === undefined) return undefined;
  const { part, intoS } = found;
  const half = 1.96 * instant.sigmaS;
  // An instant that the pilot gave is his, with what he says of it; only what was found in positions comes late.
  const late = instant.origin === 'pilot' ? 0 : 1;
  return {
    atS: intoS,
    fromS: Math.max(0, intoS - half - late * pictureBeforeS),
    toS: intoS + half + late * pictureAfterS,
    ...(part.name === undefined ? {} : { name: part.name }),
  };
}

/** Seconds of "3:05.2" or "1:03:05.2", with or without the word "film" before it; `undefined` for anything else. */
export function parseFilmTime(text: string): number | undefined {
  const match = /^(?:(?:film|video)\s+)?(?:(\d{1,2}):(?=\d{2}:))?(\d{1,3}):(\d{2}(?:\.\d+)?)$/i.exec(text.trim());
  if (match === null) return undefined;
  const [hours, minutes, seconds] = [Number(match[1] ?? 0), Number(match[2]), Number(match[3])];
  if (seconds >= 60 || (match[1] !== undefined && minutes >= 60)) return undefined;
  return hours * 3600 + minutes * 60 + seconds;
}
