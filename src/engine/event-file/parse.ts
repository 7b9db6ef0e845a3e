import { isMap, isScalar, isSeq, LineCounter, parseDocument, type YAMLMap } from 'yaml';
import type { EventOverride } from '../../../shared/analysis.ts';
import { type FilmPart, filmOf, meantFilm, parseFilmMoment } from '../../../shared/film-time.ts';
import { formatClock } from '../../../shared/format.ts';
import type { Problem, Severity } from '../../../shared/problem.ts';
import { parseQuantity } from '../../../shared/quantity.ts';
import { furtherKeyNames } from './further.ts';

/**
 * The event file: a small YAML file beside a recording, in which the pilot corrects what was found in it. It is named
 * after the recording (`flight.gpx` has `flight.gpx.events.yaml`), so that a move or a copy takes it along, every
 * comparison that uses the recording sees the same correction, and the recording itself is never touched. Entries are
 * written as the `corrections` of a flight in a comparison spec, with whole times.
 *
 * ```yaml
 * corrections:
 *   - lift-off: 2026-05-03T10:42:13.40Z   # roll-start, lift-off, touchdown or stop; of a film also "film 3:05.2"
 *     number: 1                           # which take-off or landing of the recording; 1 if not written
 *     uncertainty: 0.3 s                  # optional: one standard deviation
 *     seen: in the film
 * ```
 *
 * It may also name further recordings of the flight; see `further.ts`.
 */
export interface EventFile {
  readonly overrides: readonly EventOverride[];
  readonly problems: readonly Problem[];
}

/** As written in a spec, and inside. */
export const eventOfWord: Readonly<Record<string, EventOverride['event']>> = {
  'roll-start': 'roll-start',
  'lift-off': 'liftoff',
  touchdown: 'touchdown',
  stop: 'stop',
};

const eventWords = Object.keys(eventOfWord);
const otherKeys = ['number', 'uncertainty', 'seen'];
const timePattern = /^(\d{4})-(\d{2})-(\d{2})[T ](\d{2}):(\d{2}):(\d{2}(?:\.\d+)?)Z$/;

/** Strict ISO 8601 in UTC to Unix seconds; undefined for anything else, also for days that do not exist. */
export function parseUtcTime(text: string): number | undefined {
  const match = timePattern.exec(text);
  if (match === null) return undefined;
  const [year, month, day, hour, minute] = match.slice(1, 6).map(Number);
  const second = Number(match[6]);
  if (hour > 23 || minute > 59 || second >= 61) return undefined;
  const milliseconds = Date.UTC(year, month - 1, day, hour, minute);
  const back = new Date(milliseconds);
  if (back.getUTCMonth() !== month - 1 || back.getUTCDate() !== day) return undefined;
  return milliseconds / 1000 + second;
}

/** What is known of the recording beside which an event file lies. Unix times. */
export interface RecordedSpan {
  readonly startS: number;
  readonly endS: number;
  /** Of a film: when its first picture was taken. */
  readonly films?: readonly FilmPart[];
  /** The recording beside which the event file lies: a time into a film in several files means this one, if it names none. */
  readonly file?: string;
}

/** A time may lie this far outside the recording, for a recorder that was switched on late. */
const slackS = 120;

/**
 * Reads an event file. Faulty entries are left out and reported with their line; the others count. `recorded` is what its
 * times are held against; without it a time into a film has no meaning and is reported.
 */
export function parseEventFile(text: string, fileName: string, recorded?: RecordedSpan): EventFile {
  const lines = new LineCounter();
  const document = parseDocument(text, { lineCounter: lines });
  const problems: Problem[] = [];
  const report = (code: string, message: string, offset: number | undefined, severity: Severity = 'error'): void => {
    const at = offset === undefined ? undefined : lines.linePos(offset);
    problems.push({
      code,
      severity,
      message,
      at: { file: fileName, ...(at ? { line: at.line, column: at.col } : {}) },
    });
  };
  for (const error of document.errors) report('event-file-yaml', error.message.split('\n')[0], error.pos[0]);
  if (document.errors.length > 0) return { overrides: [], problems };
  const root: unknown = document.contents;
  if (root === null) return { overrides: [], problems };
  if (!isMap(root)) {
    report('event-file-shape', 'Expected "corrections:" with a list of events.', 0);
    return { overrides: [], problems };
  }
  for (const { key } of root.items) {
    const name = String(isScalar(key) ? key.value : key);
    if (name === 'corrections' || furtherKeyNames.includes(name)) continue;
    const known = ['corrections', ...furtherKeyNames].join(', ');
    const offset = isScalar(key) ? key.range?.[0] : 0;
    report('event-file-unknown-key', `"${name}" is not known here: expected ${known}.`, offset, 'warning');
  }
  const list = root.get('corrections', true);
  if (list === undefined || (isScalar(list) && list.value === null)) return { overrides: [], problems };
  if (!isSeq(list)) {
    report('event-file-shape', 'Expected a list under "corrections:", each entry beginning with "-".', list.range?.[0]);
    return { overrides: [], problems };
  }
  const overrides: EventOverride[] = [];
  for (const item of list.items) {
    const offset = (item as { range?: [number, number, number] | null }).range?.[0];
    if (!isMap(item)) {
      report('event-file-shape', 'Expected an entry such as "lift-off: 2026-05-03T10:42:13.4Z".', offset);
      continue;
    }
    const override = readEntry(item, offset, recorded, report);
    if (override === undefined) continue;
    if (overrides.some((one) => one.event === override.event && one.number === override.number)) {
      report('event-file-twice', `${override.event} ${override.number} is corrected twice; the first counts.`, offset);
    } else overrides.push(override);
  }
  return { overrides, problems };
}

function readEntry(
  item: YAMLMap,
  offset: number | undefined,
  recorded: RecordedSpan | undefined,
  report: (code: string, message: string, offset: number | undefined, severity?: Severity) => void,
): EventOverride | undefined {
  const place = (key: string): number | undefined => {
    const node = item.get(key, true) as { range?: [number, number, number] | null } | undefined;
    return node?.range?.[0] ?? offset;
  };
  const text = (key: string): string | undefined => {
    const value: unknown = item.get(key);
    return typeof value === 'string' || typeof value === 'number' ? String(value) : undefined;
  };
  const known = [...eventWords, ...otherKeys];
  for (const { key } of item.items) {
    const name = String(isScalar(key) ? key.value : key);
    if (!known.includes(name)) {
      report('event-file-unknown-key', `"${name}" is not known here: expected ${known.join(', ')}.`, offset, 'warning');
    }
  }
  const words = eventWords.filter((word) => item.has(word));
  if (words.length !== 1) {
    report('event-file-event', `An entry names one event: ${eventWords.join(', ')}.`, offset);
    return undefined;
  }
  const [word] = words;
  const event = eventOfWord[word];
  const number = text('number') === undefined ? 1 : Number(text('number'));
  if (!Number.isInteger(number) || number < 1) {
    report('event-file-number', 'Expected which take-off or landing, counted from 1.', place('number'));
    return undefined;
  }
  const when = text(word) ?? '';
  const inFilm = parseFilmMoment(when);
  const intoFilmS = inFilm?.intoS;
  const itself = recorded?.films?.find((film) => film.name !== undefined && film.name === recorded.file);
  const film =
    inFilm === undefined
      ? undefined
      : inFilm.name === undefined && itself !== undefined
        ? itself
        : meantFilm(recorded?.films, inFilm);
  if (typeof film === 'string') {
    report('event-file-time', `${film}.`, place(word));
    return undefined;
  }
  const timeS = film === undefined || intoFilmS === undefined ? parseUtcTime(when) : film.startS + intoFilmS;
  if (timeS === undefined) {
    const expected = 'Expected a time in UTC such as 2026-05-03T10:42:13.4Z, or into a film such as "film 3:05.2".';
    report('event-file-time', expected, place(word));
    return undefined;
  }
  if (recorded !== undefined && (timeS < recorded.startS - slackS || timeS > recorded.endS + slackS)) {
    const span = `${formatClock(recorded.startS)} to ${formatClock(recorded.endS)} UTC`;
    report(
      'correction-outside',
      `This time is outside the recording, ${span}. The correction is not used.`,
      place(word),
    );
    return undefined;
  }
  const sigmaText = text('uncertainty');
  let sigmaS: number | undefined;
  if (sigmaText !== undefined) {
    const parsed = parseQuantity(sigmaText, 'time');
    if (parsed.ok && parsed.quantity.value > 0) sigmaS = parsed.quantity.value;
    else {
      const why = parsed.ok ? 'Expected a positive time, e.g. 0.3 s.' : parsed.message;
      report('event-file-sigma', why, place('uncertainty'));
      return undefined;
    }
  }
  const why = text('seen');
  return {
    event,
    number,
    timeS,
    ...(sigmaS === undefined ? {} : { sigmaS }),
    ...(why === undefined ? {} : { why }),
    ...(intoFilmS === undefined ? {} : { intoFilmS }),
    ...filmOf(film),
  };
}
