import * as z from 'zod';
import { parseFilmMoment } from '../../../../../shared/film-time.ts';
import { formatList } from '../../../../../shared/format.ts';
import type { EventOverride } from '../../../analysis.ts';
import { key } from '../key-meta.ts';
import { ordinal, quantity, refuse, text } from '../shapes.ts';
import { conditionKeys } from './conditions.ts';
import { csv } from './csv.ts';
import { furtherKeys } from './further.ts';

/** Names of events as written, and inside. */
export const eventWords = {
  'roll-start': 'start of the take-off roll (brake release)',
  'lift-off': 'the main wheels leave the ground',
  touchdown: 'the wheels touch at the landing',
  stop: 'end of the landing roll',
} as const;

export const eventOfWord: Readonly<Record<keyof typeof eventWords, EventOverride['event']>> = {
  'roll-start': 'roll-start',
  'lift-off': 'liftoff',
  touchdown: 'touchdown',
  stop: 'stop',
};

/** An instant as written: UTC with its date, time of day (UTC) on the day of the recording, or time into the film. */
export type WrittenTime =
  | { readonly of: 'utc'; readonly timeS: number }
  | { readonly of: 'day'; readonly secondOfDay: number }
  /** `film` names the file, where the film is in several. */
  | { readonly of: 'film'; readonly offsetS: number; readonly film?: string };

const timeForms = '"10:42:13.4" (UTC), "2024-04-13T10:42:13.4Z" or "film 3:05.2"';

function clock(hours: string, minutes: string, seconds: string): number | undefined {
  const value = Number(hours) * 3600 + Number(minutes) * 60 + Number(seconds);
  return Number(hours) < 24 && Number(minutes) < 60 && Number(seconds) < 60 ? value : undefined;
}

export function parseTime(written: string): WrittenTime | string {
  const whole = written.trim();
  const inFilm = parseFilmMoment(whole);
  if (inFilm !== undefined) {
    const { intoS: offsetS, name } = inFilm;
    return { of: 'film', offsetS, ...(name === undefined ? {} : { film: name }) };
  }
  const day = /^(\d{1,2}):(\d{2}):(\d{2}(?:\.\d+)?)Z?$/.exec(whole);
  if (day !== null) {
    const secondOfDay = clock(day[1], day[2], day[3]);
    if (secondOfDay !== undefined) return { of: 'day', secondOfDay };
  }
  const full = /^(\d{4})-(\d{2})-(\d{2})[T ](\d{2}):(\d{2}):(\d{2}(?:\.\d+)?)Z$/.exec(whole);
  if (full !== null) {
    const secondOfDay = clock(full[4], full[5], full[6]);
    const [year, month, date] = full.slice(1, 4).map(Number);
    const midnight = new Date(Date.UTC(year, month - 1, date));
    if (secondOfDay !== undefined && midnight.getUTCMonth() === month - 1 && midnight.getUTCDate() === date) {
      return { of: 'utc', timeS: midnight.getTime() / 1000 + secondOfDay };
    }
  }
  return `"${written}" is no time: expected ${timeForms}.`;
}

function time(doc: string) {
  return key(
    z.string().transform((written, context): WrittenTime => {
      const found = parseTime(written);
      return typeof found === 'string' ? refuse(context, 'spec-time', found) : found;
    }),
    { doc, example: '"10:42:13.4"' },
  );
}

export interface WrittenCorrection {
  readonly event: EventOverride['event'];
  readonly number: number;
  readonly time: WrittenTime;
  readonly sigmaS?: number;
  readonly why?: string;
}

function correction() {
  const events = Object.keys(eventWords) as (keyof typeof eventWords)[];
  return key(
    z
      .strictObject({
        'roll-start': time(`Time of ${eventWords['roll-start']}.`).optional(),
        'lift-off': time(`Time at which ${eventWords['lift-off']}.`).optional(),
        touchdown: time(`Time at which ${eventWords.touchdown}.`).optional(),
        stop: time(`Time of the ${eventWords.stop}.`).optional(),
        number: ordinal({
          doc: 'Which take-off or landing of the recording, from 1; 1 if not written.',
          example: '2',
        }).optional(),
        uncertainty: quantity('time', {
          doc: 'How wrong the time may be, one standard deviation; 0.3 s if not written.',
          example: '0.2 s',
          limits: { low: 0.01, high: 60, unit: 's' },
        }).optional(),
        seen: text({
          doc: 'How you know.',
          example: 'in the film, frame by frame',
          alsoCalled: ['because', 'why', 'source'],
        }).optional(),
      })
      .transform((written, context): WrittenCorrection => {
        const given = events.filter((event) => written[event] !== undefined);
        if (given.length !== 1) {
          return refuse(
            context,
            given.length === 0 ? 'spec-missing-key' : 'spec-question',
            `A correction names one event: ${formatList(events, 'or')}.`,
          );
        }
        return {
          event: eventOfWord[given[0]],
          number: written.number ?? 1,
          time: written[given[0]] as WrittenTime,
          ...(written.uncertainty === undefined ? {} : { sigmaS: written.uncertainty }),
          ...(written.seen === undefined ? {} : { why: written.seen }),
        };
      }),
    { doc: 'One event whose time you know better than the recording shows.' },
  );
}

export function flightShape() {
  return z.strictObject({
    track: key(z.string(), {
      doc: 'The recording, relative to this file; a pattern (`before/*.gpx`) or a folder (`before/`) stands for all in it.',
      example: 'tracks/2024-04-13.gpx',
      names: 'tracks',
      alsoCalled: ['file', 'recording', 'tracks', 'path'],
    }),
    configuration: key(z.string(), {
      doc: 'State of the aeroplane, by its name under `configurations`.',
      names: 'configurations',
      alsoCalled: ['config', 'variant', 'state'],
    }),
    day: key(z.string(), {
      doc: 'Local date, and so which entry of `days`; the UTC date of the recording if not written.',
      example: '2024-04-13',
      names: 'days',
      alsoCalled: ['date'],
    }).optional(),
    ...furtherKeys(),
    ...conditionKeys(),
    corrections: key(z.array(correction()), {
      doc: 'Events whose time you know better, e.g. from a film.',
      alsoCalled: ['correction', 'events', 'overrides'],
    }).optional(),
    csv: csv().optional(),
  });
}

const mostFlights = 5000;

export function flights() {
  return key(z.array(flightShape()).max(mostFlights, `More than ${mostFlights} entries.`), {
    doc: 'The recordings, each with its configuration and what you noted.',
    alsoCalled: ['flight', 'recordings', 'runs'],
  });
}
