import type { Problem } from '../../../shared/problem.ts';
import { formatDuration } from '../../../shared/format.ts';
import { localPlane } from '../geo/local-plane.ts';
import { keepRows, motionColumnNames } from './columns.ts';
import type { AltitudeColumn, AltitudeKind, ChannelName, Track } from './track.ts';

/** One file of a recording that the recorder split. */
export interface Chapter {
  readonly name: string;
  readonly track: Track;
}

/** Where one file lies in the joined recording. */
export interface JoinedChapter {
  readonly name: string;
  readonly startS: number;
  readonly endS: number;
  /** Unix time of the file's first picture, for films. */
  readonly videoStartS?: number;
}

export interface JoinedChapters {
  /** Absent when the files are not parts of one recording. */
  readonly track?: Track;
  /** In the order of time. */
  readonly chapters: readonly JoinedChapter[];
  readonly problems: readonly Problem[];
}

/** Clocks fitted a file at a time may disagree by this much where files meet; more is no continuation. */
const mostOverlapS = 3;

/** Files of one recording follow each other at once; a longer pause is told. */
const usualPauseS = 5;

/** Longer than a light aeroplane flies without landing (own judgement): what begins later is another flight. */
const longestPauseS = 6 * 3600;

/** No aeroplane of this kind is faster between the end of one file and the start of the next. */
const fastestMps = 150;

/**
 * One track of several files that a recorder split (cameras begin a new file every few minutes). They are put in the
 * order of time, whatever their names. Refused, with the reason among the problems, when two of them overlap in time.
 */
export function joinChapters(given: readonly Chapter[]): JoinedChapters {
  const parts = given.filter(({ track }) => track.timeS.length > 0);
  parts.sort((a, b) => a.track.timeS[0] - b.track.timeS[0]);
  const chapters = parts.map(({ name, track }) => ({
    name,
    startS: track.timeS[0],
    endS: track.timeS[track.timeS.length - 1],
    ...(track.videoStartS === undefined ? {} : { videoStartS: track.videoStartS }),
  }));
  const problems: Problem[] = [];
  for (let i = 1; i < parts.length; i++) problems.push(...seamProblems(parts[i - 1], parts[i]));
  if (parts.length === 0 || problems.some(({ severity }) => severity === 'error')) return { chapters, problems };
  const trimmed = parts.map(({ track }, i) => (i === 0 ? track : afterInstant(track, chapters[i - 1].endS)));
  return { track: concatenate(trimmed.filter(({ timeS }) => timeS.length > 0)), chapters, problems };
}

/** The file that shows an instant (Unix time), and the time into it; `undefined` when none does. */
export function chapterAt(
  chapters: readonly JoinedChapter[],
  unixS: number,
): { name: string; intoFilmS: number } | undefined {
  const shown = chapters.filter(({ videoStartS }) => videoStartS !== undefined && videoStartS <= unixS).at(-1);
  if (shown?.videoStartS === undefined) return undefined;
  return { name: shown.name, intoFilmS: unixS - shown.videoStartS };
}

function seamProblems(before: Chapter, after: Chapter): Problem[] {
  const last = before.track.timeS.length - 1;
  const pauseS = after.track.timeS[0] - before.track.timeS[last];
  const at = { file: after.name };
  if (pauseS < -mostOverlapS) {
    return [
      {
        code: 'chapters-overlap',
        severity: 'error',
        message: `${after.name} begins ${(-pauseS).toFixed(1)} s before ${before.name} ends: they are not parts of one recording and were not joined.`,
        at,
      },
    ];
  }
  if (pauseS > longestPauseS) {
    return [
      {
        code: 'chapters-apart',
        severity: 'error',
        message: `${after.name} begins ${(pauseS / 3600).toFixed(0)} h after ${before.name} ends: they are not parts of one recording and were not joined.`,
        at,
      },
    ];
  }
  const problems: Problem[] = [];
  if (pauseS > usualPauseS) {
    problems.push({
      code: 'chapters-apart',
      severity: 'warning',
      message: `Between ${before.name} and ${after.name} ${formatDuration(pauseS)} are missing: a file may have been left out.`,
      at,
    });
  }
  const place = localPlane(before.track.latDeg[last], before.track.lonDeg[last]).toPlane(
    after.track.latDeg[0],
    after.track.lonDeg[0],
  );
  const jumpM = Math.hypot(place.eastM, place.northM);
  // Half a minute of positions that wander may differ by tens of metres even at a standstill.
  if (jumpM > 100 + fastestMps * Math.max(0, pauseS)) {
    problems.push({
      code: 'chapters-jump',
      severity: 'error',
      message: `${after.name} begins ${(jumpM / 1000).toFixed(1)} km from where ${before.name} ends: they are not parts of one recording and were not joined.`,
      at,
    });
  }
  return problems;
}

function afterInstant(track: Track, instantS: number): Track {
  if (track.timeS[0] > instantS) return track;
  const rows: number[] = [];
  for (let row = 0; row < track.timeS.length; row++) if (track.timeS[row] > instantS) rows.push(row);
  return keepRows(track, rows);
}

function concatenate(parts: readonly Track[]): Track {
  const column = (of: (track: Track) => Float64Array | undefined): Float64Array | undefined => {
    if (parts.every((track) => of(track) === undefined)) return undefined;
    const out = new Float64Array(parts.reduce((sum, { timeS }) => sum + timeS.length, 0)).fill(Number.NaN);
    let at = 0;
    for (const track of parts) {
      const values = of(track);
      if (values) out.set(values, at);
      at += track.timeS.length;
    }
    return out;
  };
  const always = (of: (track: Track) => Float64Array): Float64Array => column(of) ?? new Float64Array(0);
  const breaks: number[] = [];
  let at = 0;
  for (const track of parts) {
    // A pause between files is found as a gap by its length; the seam itself interrupts nothing.
    breaks.push(...track.breaks.map((row) => row + at));
    at += track.timeS.length;
  }
  const motion = motionColumnNames.flatMap((name) => {
    const values = column((track) => track[name]);
    return values ? [[name, values] as const] : [];
  });
  const channelNames = new Set(parts.flatMap(({ channels }) => Object.keys(channels) as ChannelName[]));
  const first = parts[0];
  return {
    ...first,
    timeS: always(({ timeS }) => timeS),
    latDeg: always(({ latDeg }) => latDeg),
    lonDeg: always(({ lonDeg }) => lonDeg),
    ...Object.fromEntries(motion),
    altitudes: altitudesOf(parts, column),
    breaks,
    channels: Object.fromEntries([...channelNames].map((name) => [name, column(({ channels }) => channels[name])])),
    assumptions: [...new Set(parts.flatMap(({ assumptions }) => assumptions))],
  };
}

function altitudesOf(
  parts: readonly Track[],
  column: (of: (track: Track) => Float64Array | undefined) => Float64Array | undefined,
): AltitudeColumn[] {
  const kinds: AltitudeKind[] = [...new Set(parts.flatMap(({ altitudes }) => altitudes.map(({ kind }) => kind)))];
  return kinds.map((kind) => {
    const own = (track: Track): AltitudeColumn | undefined =>
      track.altitudes.find((candidate) => candidate.kind === kind);
    const resolutions = parts.flatMap((track) => own(track)?.resolutionM ?? []);
    return {
      kind,
      valuesM: column((track) => own(track)?.valuesM) ?? new Float64Array(0),
      ...(resolutions.length > 0 ? { resolutionM: Math.max(...resolutions) } : {}),
    };
  });
}
