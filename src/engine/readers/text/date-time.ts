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

const dateTime =
  /^\s*(\d{4})-(\d\d)-(\d\d)[Tt ](\d\d):(\d\d):(\d\d)(?:[.,](\d+))?\s*(?:[Zz]|([+-]\d\d:?(?:\d\d)?))?\s*$/;

/**
 * Unix time in seconds of an ISO 8601 date and time `YYYY-MM-DDThh:mm:ss[.f…][Z|±hh[:]mm]` (a blank may stand for the T, a
 * comma for the point; blanks around and before the zone are ignored). Without a zone it is taken as UTC: ask `hasZone`.
 * 24:00:00 is the next midnight, second 60 is a leap second and counts as the next minute. `NaN` if malformed.
 */
export function isoTimeS(text: string): number {
  const match = dateTime.exec(text);
  if (!match) return Number.NaN;
  const [year, month, day, hour, minute, second] = match.slice(1, 7).map(Number);
  const fraction = match[7] === undefined ? 0 : Number(`0.${match[7]}`);
  const zoneS = match[8] === undefined ? 0 : utcOffsetS(match[8]);
  const inDay = hour * 3600 + minute * 60 + second;
  if (hour > 24 || minute > 59 || second > 60 || (hour === 24 && inDay + fraction > 86_400)) return Number.NaN;
  return daysSince1970(year, month, day) * 86_400 + inDay - zoneS + fraction;
}

/** Whether a date and time that `isoTimeS` could read names its zone. */
export function hasZone(text: string): boolean {
  return /(?:[Zz]|[+-]\d\d:?(?:\d\d)?)\s*$/.test(text.slice(17));
}

/** `±hh`, `±hhmm` or `±hh:mm` to seconds east of UTC; `NaN` if malformed or beyond 14 hours (the largest zone in use). */
export function utcOffsetS(text: string): number {
  const match = /^([+-])(\d\d):?(\d\d)?$/.exec(text.trim());
  if (!match) return Number.NaN;
  const offset = Number(match[2]) * 3600 + Number(match[3] ?? 0) * 60;
  if (offset > 14 * 3600 || Number(match[3] ?? 0) > 59) return Number.NaN;
  return match[1] === '-' ? -offset : offset;
}
