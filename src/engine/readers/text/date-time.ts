/** Days from 1970-01-01 to a date of the proleptic Gregorian calendar; `NaN` for a date that does not exist. */
export function daysSince1970(year: number, month: number, day: number): number {
  if (!(month >= 1 && month <= 12 && day >= 1 && day <= daysInMonth(year, month))) return Number.NaN;
  return Date.UTC(year, month - 1, day) / 86_400_000;
}

function daysInMonth(year: number, month: number): number {
  if (month === 2) return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0 ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}

/** A year of two digits as recorders write it: 80 to 99 are the 20th century (the GPS epoch is 1980), the rest the 21st. */
export function fullYear(twoDigits: number): number {
  return twoDigits >= 80 ? 1900 + twoDigits : 2000 + twoDigits;
}

/** `YYYY-MM-DD` to days since 1970; `NaN` if it is not that or no such day exists. */
export function isoDateDays(text: string): number {
  const match = /^(\d{4})-(\d\d)-(\d\d)$/.exec(text.trim());
  return match ? daysSince1970(Number(match[1]), Number(match[2]), Number(match[3])) : Number.NaN;
}

function digits(text: string, at: number, count: number): number {
  let value = 0;
  for (let i = at; i < at + count; i++) {
    const digit = text.charCodeAt(i) - 48;
    if (!(digit >= 0 && digit <= 9)) return Number.NaN;
    value = value * 10 + digit;
  }
  return value;
}

/** The minute of the time read last: recordings write thousands of times with the same one. */
let lastMinute = '';
let lastMinuteS = Number.NaN;

/** `YYYY-MM-DDThh:mm:` to Unix seconds of the minute; `NaN` if malformed. */
function minuteS(text: string): number {
  if (!/^\d{4}-\d\d-\d\d[Tt ]\d\d:\d\d:$/.test(text)) return Number.NaN;
  const days = daysSince1970(digits(text, 0, 4), digits(text, 5, 2), digits(text, 8, 2));
  const hour = digits(text, 11, 2);
  const minute = digits(text, 14, 2);
  return hour <= 24 && minute <= 59 ? days * 86_400 + hour * 3600 + minute * 60 : Number.NaN;
}

/**
 * Unix time in seconds of an ISO 8601 date and time `YYYY-MM-DDThh:mm:ss[.f…][Z|±hh[:]mm]` in `text` from `start` to
 * `end` (a blank may stand for the T; a comma for the point; blanks around and before the zone are ignored). Without a
 * zone it is taken as UTC: ask `hasZone`. 24:00:00 is the next midnight, second 60 is a leap second and counts as the
 * next minute. `NaN` if malformed.
 */
export function isoTimeS(text: string, start = 0, end: number = text.length): number {
  let from = start;
  let to = end;
  while (from < to && text.charCodeAt(from) <= 32) from++;
  while (to > from && text.charCodeAt(to - 1) <= 32) to--;
  if (to - from < 19 || text.charCodeAt(from + 4) !== 45 || text.charCodeAt(from + 16) !== 58) return Number.NaN;
  const minute = text.slice(from, from + 17);
  if (minute !== lastMinute) {
    lastMinute = minute;
    lastMinuteS = minuteS(minute);
  }
  const second = digits(text, from + 17, 2);
  if (!(second <= 60)) return Number.NaN;
  let at = from + 19;
  let fraction = 0;
  if (text.charCodeAt(at) === 46 || text.charCodeAt(at) === 44) {
    let scale = 1;
    for (at++; at < to; at++) {
      const digit = text.charCodeAt(at) - 48;
      if (!(digit >= 0 && digit <= 9)) break;
      if (scale < 1e15) {
        fraction = fraction * 10 + digit;
        scale *= 10;
      }
    }
    if (scale === 1) return Number.NaN;
    fraction /= scale;
  }
  const timeS = lastMinuteS + second - zoneS(text, at, to) + fraction;
  const endOfDay = text.charCodeAt(from + 11) === 50 && text.charCodeAt(from + 12) === 52;
  return endOfDay && (!minute.endsWith('00:') || second + fraction > 0) ? Number.NaN : timeS;
}

/** Whether a date and time that `isoTimeS` could read names its zone. */
export function hasZone(text: string): boolean {
  return /(?:[Zz]|[+-]\d\d:?(?:\d\d)?)\s*$/.test(text.slice(17));
}

/** Offset from UTC in seconds, positive east; 0 for Z and for nothing; `NaN` if malformed. */
function zoneS(text: string, start: number, end: number): number {
  let at = start;
  while (at < end && text.charCodeAt(at) === 32) at++;
  if (at === end) return 0;
  const sign = text.charCodeAt(at);
  if (sign === 90 || sign === 122) return at + 1 === end ? 0 : Number.NaN;
  if (sign !== 43 && sign !== 45) return Number.NaN;
  return utcOffsetS(text.slice(at, end));
}

/** `±hh`, `±hhmm` or `±hh:mm` to seconds east of UTC; `NaN` if malformed or beyond 14 hours (the largest zone in use). */
export function utcOffsetS(text: string): number {
  const match = /^([+-])(\d\d):?(\d\d)?$/.exec(text.trim());
  if (!match) return Number.NaN;
  const offset = Number(match[2]) * 3600 + Number(match[3] ?? 0) * 60;
  if (offset > 14 * 3600 || Number(match[3] ?? 0) > 59) return Number.NaN;
  return match[1] === '-' ? -offset : offset;
}
