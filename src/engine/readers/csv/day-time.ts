import type { Unit } from '../../../../shared/units.ts';
import { daysSince1970, fullYear, utcOffsetS } from '../text/date-time.ts';

/** What a cell with a time says. `dateText` is left for later, since only the whole file may tell the order of its parts. */
export interface TimeCell {
  readonly dateText: string;
  /** Seconds of the day, or Unix time (then `absolute`), or seconds since some start. */
  readonly timeS: number;
  readonly kind: 'time-of-day' | 'absolute' | 'elapsed';
  /** Offset from UTC that the cell states, seconds east. */
  readonly zoneS?: number;
}

const clock = /^(\d{1,2}):(\d\d)(?::(\d\d(?:[.,]\d*)?))?\s*([AaPp])?\.?(?:[Mm]\.?)?$/;
const zone = /\s*(?:(Z|UTC|GMT)|([+-]\d\d:?(?:\d\d)?))$/i;

/** Reads a cell of a time column, whose heading may state the `unit` of plain numbers; `undefined` when it is none. */
export function readTimeCell(cell: string, unit?: Unit): TimeCell | undefined {
  const text = cell.trim();
  if (/^[-+]?\d+(?:[.,]\d+)?$/.test(text))
    return unit?.dimension === 'time' ? countedTime(text, unit) : numericTime(text);
  const zoned = zone.exec(text);
  // "2026-03-31" ends like an offset: a zone stands only behind a clock time.
  const hasZone = zoned !== null && text.slice(0, zoned.index).includes(':');
  const zoneS = hasZone ? (zoned[1] === undefined ? utcOffsetS(zoned[2]) : 0) : undefined;
  const rest = (hasZone ? text.slice(0, zoned.index) : text).trim();
  const split = /^(\S.*?\d)(?:[T\s]+)(\d{1,2}:\S.*)$/i.exec(rest);
  const timeS = timeOfDayS(split ? split[2] : rest);
  if (Number.isNaN(timeS) || Number.isNaN(zoneS)) return undefined;
  return { dateText: split ? split[1].trim() : '', timeS, kind: 'time-of-day', zoneS };
}

/** A number in a stated unit: never a time of day written without colons. Unix time is told by its size all the same. */
function countedTime(text: string, unit: Unit): TimeCell {
  const plain = numericTime(text);
  if (plain.kind === 'absolute' && unit.factor === 1) return plain;
  const timeS = Number(text.replace(',', '.')) * unit.factor;
  return { dateText: '', timeS, kind: Math.abs(timeS) >= 1e8 ? 'absolute' : 'elapsed' };
}

/** Unix time by its magnitude (seconds, milli-, micro-, nanoseconds), `hhmmss`, or seconds since some start. */
function numericTime(text: string): TimeCell {
  const value = Number(text.replace(',', '.'));
  const magnitude = Math.abs(value);
  const unit = magnitude >= 1e17 ? 1e9 : magnitude >= 1e14 ? 1e6 : magnitude >= 1e11 ? 1e3 : 1;
  if (magnitude >= 1e8) return { dateText: '', timeS: value / unit, kind: 'absolute' };
  const digits = /^(\d\d)(\d\d)(\d\d(?:[.,]\d+)?)$/.exec(text);
  if (digits && Number(digits[1]) < 24 && Number(digits[2]) < 60 && Number(digits[3].replace(',', '.')) < 61) {
    const timeS = Number(digits[1]) * 3600 + Number(digits[2]) * 60 + Number(digits[3].replace(',', '.'));
    return { dateText: '', timeS, kind: 'time-of-day' };
  }
  return { dateText: '', timeS: value, kind: 'elapsed' };
}

function timeOfDayS(text: string): number {
  const match = clock.exec(text);
  if (!match) return Number.NaN;
  let hour = Number(match[1]);
  const minute = Number(match[2]);
  const second = Number((match[3] ?? '0').replace(',', '.'));
  const half = match[4]?.toLowerCase();
  if (half !== undefined) {
    if (hour < 1 || hour > 12) return Number.NaN;
    hour = (hour % 12) + (half === 'p' ? 12 : 0);
  }
  return hour < 24 && minute < 60 && second < 61 ? hour * 3600 + minute * 60 + second : Number.NaN;
}

export type DateOrder = 'day-month' | 'month-day';

const monthNames = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];

/** Days since 1970 of a written date; with `order` where day and month could be exchanged. `NaN` if it is none. */
export function dateDays(text: string, order: DateOrder): number {
  const parts = dateParts(text);
  if (!parts) return Number.NaN;
  if (!parts.open) return daysSince1970(parts.year, parts.month, parts.day);
  return order === 'day-month'
    ? daysSince1970(parts.year, parts.month, parts.day)
    : daysSince1970(parts.year, parts.day, parts.month);
}

export interface DateParts {
  readonly year: number;
  /** As in day-month order where `open`. */
  readonly month: number;
  readonly day: number;
  /** The order of day and month is not told by the form of the date. */
  readonly open: boolean;
}

/**
 * Takes a date apart. Year-first forms and names of months are unmistakable, and so are points: where dates are written
 * with points the day comes first (common practice; all locales of the Unicode CLDR that use them do so).
 */
export function dateParts(text: string): DateParts | undefined {
  const clean = text.trim();
  const named = /^(?:(\d{1,2})[\s-]+([A-Za-z]{3})[a-z]*[\s,-]+|([A-Za-z]{3})[a-z]*\s+(\d{1,2}),?\s+)(\d{4}|\d\d)$/.exec(
    clean,
  );
  if (named) {
    const month = monthNames.indexOf((named[2] ?? named[3]).toLowerCase()) + 1;
    return month === 0 ? undefined : parts(named[5], String(month), named[1] ?? named[4], false);
  }
  const yearFirst = /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})$/.exec(clean) ?? /^(\d{4})(\d\d)(\d\d)$/.exec(clean);
  if (yearFirst) return parts(yearFirst[1], yearFirst[2], yearFirst[3], false);
  const yearLast = /^(\d{1,2})([-/.])(\d{1,2})\2(\d{4}|\d\d)$/.exec(clean);
  if (yearLast) return parts(yearLast[4], yearLast[3], yearLast[1], yearLast[2] !== '.');
  const packed = /^(\d\d)(\d\d)(\d\d)$/.exec(clean);
  return packed ? parts(packed[3], packed[2], packed[1], true) : undefined;
}

function parts(year: string, month: string, day: string, open: boolean): DateParts {
  const given = Number(year);
  return { year: year.length === 2 ? fullYear(given) : given, month: Number(month), day: Number(day), open };
}

/**
 * The order of the open dates of a file: told by a number above 12, else by a date in the file's name that fits only one
 * order. `undefined` where it stays open; no open dates at all give 'day-month', which then does not matter.
 */
export function orderOfDates(dates: Iterable<string>, fileName: string): DateOrder | undefined {
  const open = [...dates].map(dateParts).filter((date) => date?.open === true) as DateParts[];
  if (open.every((date) => date.day === date.month)) return 'day-month';
  const monthFirst = open.some((date) => date.month > 12);
  const dayFirst = open.some((date) => date.day > 12);
  if (monthFirst !== dayFirst) return monthFirst ? 'month-day' : 'day-month';
  if (monthFirst) return undefined;
  const inName = /(\d{4})[-_.]?(\d\d)[-_.]?(\d\d)/.exec(fileName);
  if (!inName) return undefined;
  const [first] = open;
  const [year, month, day] = [Number(inName[1]), Number(inName[2]), Number(inName[3])];
  if (first.year === year && first.month === month && first.day === day) return 'day-month';
  return first.year === year && first.month === day && first.day === month ? 'month-day' : undefined;
}

/** The order that a heading or a unit such as "mm/dd/yyyy" states. */
export function statedOrder(...texts: readonly (string | undefined)[]): DateOrder | undefined {
  for (const text of texts) {
    if (/\bm{1,2}[-/. ]d{1,2}[-/. ]y{2,4}\b/i.test(text ?? '')) return 'month-day';
    if (/\bd{1,2}[-/. ]m{1,2}[-/. ]y{2,4}\b/i.test(text ?? '')) return 'day-month';
  }
  return undefined;
}
