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
  /** Unix time of the last position in it; where it is not told, the film is taken to go on. */
  readonly endS?: number;
  /** How well `startS` is known on the clock of the recording, one sigma: of a film of another recorder. */
  readonly startSigmaS?: number;
}

/** A film goes on for a moment after the last position in it (common practice, no source: one position a second at least). */
const afterLastPositionS = 2;

/** Where in a film to look for an event; seconds after the first picture. */
export interface FilmMoment {
  readonly atS: number;
  /** The 95 % interval of the event, and how late a camera's positions are. */
  readonly fromS: number;
  readonly toS: number;
  /** Which file, where there are several. */
  readonly name?: string;
}

/** The part of a film that shows an instant (Unix time), and the seconds into it; `undefined` where none does. */
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
  if (part === undefined || (part.endS !== undefined && unixS > part.endS + afterLastPositionS)) return undefined;
  return { part, intoS: unixS - part.startS };
}

/** Where to look for an event; `undefined` for a recording that is no film, and where no picture of it was taken. */
export function filmMoment(films: readonly FilmPart[] | undefined, instant: Instant): FilmMoment | undefined {
  const found = intoFilm(films, instant.timeS);
  if (found === undefined) return undefined;
  const { part, intoS } = found;
  const half = 1.96 * Math.hypot(instant.sigmaS, part.startSigmaS ?? 0);
  // An instant that the pilot gave is his, with what he says of it; only what was found in positions comes late.
  const late = instant.origin === 'pilot' ? 0 : 1;
  return {
    atS: intoS,
    fromS: Math.max(0, intoS - half - late * pictureBeforeS),
    toS: intoS + half + late * pictureAfterS,
    ...(part.name === undefined ? {} : { name: part.name }),
  };
}

/** A time into a film as a person writes it. */
export interface WrittenFilmTime {
  readonly intoS: number;
  /** Which file, where it is told. */
  readonly name?: string;
}

/** "film 3:05.2", or "film part2.mp4 0:41.3" of a film in several files; `undefined` for anything else. */
export function parseFilmMoment(text: string): WrittenFilmTime | undefined {
  const match = /^(?:film|video)\s+(?:(\S.*?)\s+)?([\d:.]+)$/i.exec(text.trim());
  const intoS = match === null ? undefined : parseFilmTime(match[2]);
  if (match === null || intoS === undefined) return undefined;
  return match[1] === undefined ? { intoS } : { intoS, name: match[1].replace(/^(["'])(.*)\1$/, '$2') };
}

function lastName(path: string): string {
  return path.replace(/\\/g, '/').split('/').pop() ?? path;
}

/** The part of a film that a written time means, or a sentence that says why it is not clear. */
export function meantFilm(films: readonly FilmPart[] | undefined, { name }: WrittenFilmTime): FilmPart | string {
  if (films === undefined || films.length === 0) return 'This is a time into a film, but the recording is none';
  if (name === undefined) {
    if (films.length === 1) return films[0];
    return `The film is in ${films.length} files: name the one that you looked at, such as "film ${lastName(films[films.length - 1].name ?? '')} 0:41.3"`;
  }
  const plain = name.replace(/\\/g, '/').toLowerCase();
  const named = (match: (film: string) => boolean): FilmPart[] =>
    films.filter((film) => film.name !== undefined && match(film.name.replace(/\\/g, '/').toLowerCase()));
  const whole = named((film) => film === plain);
  // The same file may be written from another folder.
  const found = whole.length > 0 ? whole : named((film) => lastName(film) === lastName(plain));
  if (found.length === 1) return found[0];
  if (found.length > 1) return `"${name}" is the name of several of the films: write its folder as well`;
  const known = films.flatMap((film) => film.name ?? []);
  return known.length === 0
    ? `The film has no other name than that of the recording: leave "${name}" out`
    : `No film of this flight is named "${name}": ${known.map((one) => `"${lastName(one)}"`).join(', ')}`;
}

/** What an override keeps of the film that it was read off. */
export function filmOf(film: FilmPart | undefined): { readonly film?: string; readonly filmStartSigmaS?: number } {
  return {
    ...(film?.name === undefined ? {} : { film: film.name }),
    ...(film?.startSigmaS === undefined ? {} : { filmStartSigmaS: film.startSigmaS }),
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
