/**
 * Registrations as they are painted on aeroplanes: a letter or two, a hyphen and letters or four digits ("X-ABCD", "XY-ABC",
 * "X-1234"), or N with digits (ICAO Annex 7, chapter 3: the nationality mark precedes the registration mark, separated by
 * a hyphen where the latter begins with a letter). Engines ("O-360") have three digits and stay, and so do parts of longer
 * names such as "FAA-H-8083-25C".
 */
const registrations =
  /(?<![-\w])(?:[A-Z]-[A-Z]{4}|[A-Z0-9]{1,2}-[A-Z]{3}|[A-Z]{1,2}-\d{4}|N\d{2,5}[A-Z]{0,2})(?![-\w])/g;

/** A text without registrations of aircraft. */
export function withoutRegistrations(text: string): string {
  return text.replace(registrations, 'the aeroplane');
}

/** The last part of a path. */
export function lastPart(path: string): string {
  return path.split(/[\\/]/).pop() ?? path;
}

/** Every text in a value of plain data through one function; keys, numbers and the rest stay. */
export function mapTexts(value: unknown, map: (text: string) => string): unknown {
  if (typeof value === 'string') return map(value);
  if (Array.isArray(value)) return value.map((item) => mapTexts(item, map));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, mapTexts(item, map)]));
}
