/** Fields of one sentence; the first is the address without `$`, e.g. `GPRMC`. */
export type Sentence = readonly string[];

/** `broken`: a checksum that does not match, or none where this file writes them. */
export type Checked = { readonly fields: Sentence; readonly checksum: boolean } | 'broken' | 'other';

/**
 * One `$…*HH` sentence: the checksum is the exclusive or of all characters between `$` and `*` (NMEA 0183). `other` is
 * text that is no sentence of an instrument (proprietary `$P…` ones included).
 */
export function checkSentence(text: string): Checked {
  const star = text.indexOf('*');
  const end = star === -1 ? text.length : star;
  if (end < 6 || text.charCodeAt(0) !== 36 || text.charCodeAt(6) !== 44)
    return text.startsWith('$P') ? 'other' : 'broken';
  let sum = 0;
  for (let at = 1; at < end; at++) sum ^= text.charCodeAt(at);
  if (star !== -1 && Number.parseInt(text.slice(star + 1, star + 3), 16) !== sum) return 'broken';
  return { fields: text.slice(1, end).split(','), checksum: star !== -1 };
}

/** A decimal number; `NaN` for an empty or malformed field, never 0. */
export function numberOf(field: string | undefined): number {
  return field === undefined || field.trim() === '' ? Number.NaN : Number(field);
}

/** `hhmmss[.f…]` to seconds of the day; `NaN` if malformed. */
export function timeOfDayS(field: string | undefined): number {
  const match = /^(\d\d)(\d\d)(\d\d(?:\.\d*)?)$/.exec(field ?? '');
  if (!match) return Number.NaN;
  const seconds = Number(match[1]) * 3600 + Number(match[2]) * 60 + Number(match[3]);
  return Number(match[1]) < 24 && Number(match[2]) < 60 && Number(match[3]) < 61 ? seconds : Number.NaN;
}

/** `ddmm.mmmm` with N, S, E or W to degrees; `NaN` if empty or malformed. */
export function degreesOf(field: string | undefined, hemisphere: string | undefined): number {
  if (!/^\d{3,5}(?:\.\d*)?$/.test(field ?? '')) return Number.NaN;
  const value = Number(field);
  const degrees = Math.floor(value / 100);
  const minutes = value - degrees * 100;
  if (minutes >= 60) return Number.NaN;
  const absolute = degrees + minutes / 60;
  if (hemisphere === 'N' || hemisphere === 'E') return absolute;
  return hemisphere === 'S' || hemisphere === 'W' ? -absolute : Number.NaN;
}
