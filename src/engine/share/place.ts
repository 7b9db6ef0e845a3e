import type { Place } from '../track/privacy.ts';

/** "47.123 8.456", "47.123, 8.456", "47.123 N 8.456 E", "12.5 S, 30 W": degrees. The reason as a text where it is no place. */
export function parsePlace(text: string): Place | string {
  const match = /^\s*([-+]?\d+(?:\.\d+)?)\s*°?\s*([NS])?\s*[,;\s]\s*([-+]?\d+(?:\.\d+)?)\s*°?\s*([EW])?\s*$/i.exec(
    text,
  );
  const latDeg = match === null ? Number.NaN : Number(match[1]) * (/s/i.test(match[2] ?? '') ? -1 : 1);
  const lonDeg = match === null ? Number.NaN : Number(match[3]) * (/w/i.test(match[4] ?? '') ? -1 : 1);
  if (Math.abs(latDeg) <= 89 && Math.abs(lonDeg) <= 180) return { latDeg, lonDeg };
  return `"${text}" is no place: expected latitude and longitude in degrees, like "12.345 N 30.123 W" or "12.345 -30.123".`;
}
