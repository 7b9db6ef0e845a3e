/** UTC date and time of day of a Unix time, in plain arithmetic (days from civil, proleptic Gregorian). */
export interface CivilTime {
  readonly year: number;
  readonly month: number;
  readonly day: number;
  readonly hour: number;
  readonly minute: number;
  /** With its fraction. */
  readonly second: number;
}

/** `decimals` to which the second is rounded (so that 59.9996 does not become 60). */
export function civilTime(unixS: number, decimals: number): CivilTime {
  const scale = 10 ** decimals;
  const ticks = Math.round(unixS * scale);
  const daySeconds = 86_400 * scale;
  const days = Math.floor(ticks / daySeconds);
  const inDay = ticks - days * daySeconds;
  // Shift the epoch to 0000-03-01; a year then ends with February.
  const shifted = days + 719_468;
  const era = Math.floor(shifted / 146_097);
  const dayOfEra = shifted - era * 146_097;
  const yearOfEra = Math.floor(
    (dayOfEra - Math.floor(dayOfEra / 1460) + Math.floor(dayOfEra / 36_524) - Math.floor(dayOfEra / 146_096)) / 365,
  );
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const monthShifted = Math.floor((5 * dayOfYear + 2) / 153);
  const month = monthShifted < 10 ? monthShifted + 3 : monthShifted - 9;
  return {
    year: yearOfEra + era * 400 + (month <= 2 ? 1 : 0),
    month,
    day: dayOfYear - Math.floor((153 * monthShifted + 2) / 5) + 1,
    hour: Math.floor(inDay / (3600 * scale)),
    minute: Math.floor(inDay / (60 * scale)) % 60,
    second: (inDay % (60 * scale)) / scale,
  };
}

export function padded(value: number, width: number): string {
  return String(value).padStart(width, '0');
}

export function isoTime(unixS: number, decimals: number): string {
  const t = civilTime(unixS, decimals);
  const second = t.second.toFixed(decimals).padStart(decimals > 0 ? decimals + 3 : 2, '0');
  return `${isoDate(t)}T${padded(t.hour, 2)}:${padded(t.minute, 2)}:${second}Z`;
}

export function isoDate(t: CivilTime): string {
  return `${padded(t.year, 4)}-${padded(t.month, 2)}-${padded(t.day, 2)}`;
}
