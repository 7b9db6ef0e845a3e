import type { FilmPart } from '../../../shared/film-time.ts';
import type { Interval } from '../../../shared/measured.ts';
import type { Problem } from '../../../shared/problem.ts';
import type { RecordingPart, RecordingRole } from '../../../shared/recording-part.ts';
import { type Chapter, joinChapters } from '../track/join-chapters.ts';
import { type GivenOffset, joinRecordings } from '../track/join-recordings.ts';
import type { Track } from '../track/track.ts';

/** One file that was read. */
export interface ReadFile {
  readonly file: string;
  readonly format?: string;
  /** Absent when it holds no usable track. */
  readonly track?: Track;
  /** Why it is not there, where it has no track. */
  readonly why?: string;
}

/** The files of one recorder: the one that is named, and those in which it went on. */
export interface Recorder {
  readonly named: ReadFile;
  readonly continued: readonly ReadFile[];
  /** Of another recorder than the first, where the pilot gives it. */
  readonly clockOffsetS?: GivenOffset;
}

export interface JoinedFlight {
  /** Absent when the file that is named first has no track: nothing else can take its place. */
  readonly track?: Track;
  /** In the order named. */
  readonly parts: readonly RecordingPart[];
  readonly problems: readonly Problem[];
}

/** Lags of two recorders differ by a few tenths of a second, which an offset by their motion cannot tell: one sigma, own judgement. */
const lagSigmaS = 0.25;

/**
 * One track of all recordings of a flight. The first recorder gives times, positions and speeds; its parts are put in line;
 * of each other recorder come the channels that are still missing, brought to the clock of the first. A file that cannot
 * be joined is left out, with the reason in its part and as a problem; the flight is used without it.
 */
export function joinFlight(first: Recorder, others: readonly Recorder[]): JoinedFlight {
  const problems: Problem[] = [];
  const whole = inLine(first, ['first', 'continuation'], problems);
  if (whole.track === undefined) {
    return { parts: [...whole.parts, ...others.flatMap((other) => unreadParts(other))], problems };
  }
  let track: Track = whole.track;
  let films = filmsOf(whole);
  const parts = [...whole.parts];
  for (const other of others) {
    const second = inLine(other, ['second-recorder', 'second-continuation'], problems);
    if (second.track === undefined) {
      parts.push(...second.parts);
      continue;
    }
    const joined = joinRecordings(track, second.track, other.clockOffsetS);
    if (joined.track === undefined || joined.clockOffsetS === undefined) {
      const why = joined.remarks.join(' ');
      problems.push({
        code: 'recording-not-joined',
        severity: 'warning',
        message: `"${other.named.file}" was not joined to "${first.named.file}", which is used without it. ${why}`,
        at: { file: other.named.file },
      });
      parts.push(
        ...second.parts.map((part) => ({ ...part, joined: false, remarks: [...part.remarks, ...joined.remarks] })),
      );
      continue;
    }
    track = joined.track;
    const { clockOffsetS, by, brings } = joined;
    const toldHere = joined.remarks.slice(1);
    if (toldHere.length > 0) {
      problems.push({
        code: 'recording-clock',
        severity: toldHere.some((remark) => /is the written one right/.test(remark)) ? 'warning' : 'info',
        message: `"${other.named.file}": ${toldHere.join(' ')}`,
        at: { file: other.named.file },
      });
    }
    parts.push(
      ...second.parts.map((part, index) => ({
        ...moved(part, clockOffsetS.value),
        ...(index === 0
          ? { clockOffsetS, clockOffsetBy: by, brings, remarks: [...part.remarks, ...joined.remarks] }
          : {}),
      })),
    );
    if (films.length === 0) films = filmsOf(second, clockOffsetS);
  }
  // A film in one file is the recording itself, and needs no name.
  const itself = films.length === 1 && films[0].name === first.named.file;
  return {
    track: { ...track, parts, ...(films.length === 0 || itself ? {} : { films }) },
    parts,
    problems,
  };
}

interface InLine {
  readonly track?: Track;
  readonly parts: readonly RecordingPart[];
  /** Of the files that were put in line. */
  readonly films: readonly FilmPart[];
}

/** The files of one recorder as one track: a file that does not fit is left out, and said. */
function inLine(recorder: Recorder, roles: readonly [RecordingRole, RecordingRole], problems: Problem[]): InLine {
  const { named, continued } = recorder;
  const files = [named, ...continued];
  const roleOf = (file: ReadFile): Pick<RecordingPart, 'role' | 'continues'> =>
    file === named ? { role: roles[0] } : { role: roles[1], continues: named.file };
  if (named.track === undefined) {
    for (const file of files) problems.push(...unread(file, roles[0] === 'first'));
    return { parts: files.map((file) => partOf(file, roleOf(file), false)), films: [] };
  }
  const accepted: (Chapter & { readonly file: ReadFile })[] = [{ name: named.file, track: named.track, file: named }];
  const refused = new Map<ReadFile, string>();
  const byTime = continued
    .filter(({ track }) => track !== undefined && track.timeS.length > 0)
    .sort((a, b) => (a.track?.timeS[0] ?? 0) - (b.track?.timeS[0] ?? 0));
  for (const file of byTime) {
    const chapter = { name: file.file, track: file.track as Track, file };
    const trial = joinChapters([...accepted, chapter]);
    const fault = trial.problems.find(({ severity }) => severity === 'error');
    if (fault === undefined) accepted.push(chapter);
    else {
      refused.set(file, fault.message);
      problems.push({
        ...fault,
        severity: 'warning',
        message: `${fault.message} The flight is used without it.`,
        at: { file: file.file },
      });
    }
  }
  const joined = joinChapters(accepted);
  problems.push(...joined.problems);
  for (const file of continued) if (file.track === undefined) problems.push(...unread(file, false));
  const films = joined.chapters.flatMap(({ name, videoStartS, endS }) =>
    videoStartS === undefined ? [] : [{ startS: videoStartS, endS, name }],
  );
  const parts = files.map((file) => {
    const why = refused.get(file);
    const seams = joined.problems.filter(({ at }) => at?.file === file.file).map(({ message }) => message);
    const joins = accepted.some((one) => one.file === file);
    return partOf(file, roleOf(file), joins, [...(why === undefined ? [] : [why]), ...seams]);
  });
  return { ...(joined.track === undefined ? {} : { track: joined.track }), parts, films };
}

function unread({ file, why }: ReadFile, isFirst: boolean): Problem[] {
  // That the first cannot be used is told by whoever reads it: then there is no flight.
  if (isFirst) return [];
  return [
    {
      code: 'recording-not-joined',
      severity: 'error',
      message: `"${file}" was not joined; the flight is used without it. ${why ?? 'It holds no usable track.'}`,
      at: { file },
    },
  ];
}

function unreadParts({ named, continued }: Recorder): RecordingPart[] {
  return [
    partOf(named, { role: 'second-recorder' }, false),
    ...continued.map((file) => partOf(file, { role: 'second-continuation', continues: named.file }, false)),
  ];
}

function partOf(
  { file, format, track, why }: ReadFile,
  role: Pick<RecordingPart, 'role' | 'continues'>,
  joined: boolean,
  remarks: readonly string[] = [],
): RecordingPart {
  const span =
    track === undefined || track.timeS.length === 0
      ? {}
      : { startS: track.timeS[0], endS: track.timeS[track.timeS.length - 1] };
  return {
    file,
    ...role,
    ...(format === undefined ? {} : { format }),
    ...span,
    joined,
    remarks: why === undefined ? remarks : [...remarks, why],
  };
}

function moved(part: RecordingPart, byS: number): RecordingPart {
  const { startS, endS } = part;
  return startS === undefined || endS === undefined || !part.joined
    ? part
    : { ...part, startS: startS + byS, endS: endS + byS };
}

/** Films of one recorder on the clock of the first. */
function filmsOf({ films }: InLine, offsetS?: Interval): readonly FilmPart[] {
  if (offsetS === undefined) return films;
  const startSigmaS = Math.hypot((offsetS.high - offsetS.low) / (2 * 1.96), lagSigmaS);
  return films.map((film) => ({
    ...film,
    startS: film.startS + offsetS.value,
    ...(film.endS === undefined ? {} : { endS: film.endS + offsetS.value }),
    startSigmaS,
  }));
}
