import { decimalNumber } from '../text/decimal.ts';

/** `55.62`, `N55.62`, `55°37'12.5" N`, `55 37.208 N`, as degrees; plain numbers come back as they are; `NaN` if neither. */
export function angleCell(cell: string, mark: '.' | ','): number {
  const plain = decimalNumber(cell, mark);
  if (!Number.isNaN(plain)) return plain;
  const match =
    /^\s*([NSEW])?\s*([-+]?\d+(?:[.,]\d+)?)\s*[°\s]?\s*(?:(\d+(?:[.,]\d+)?)\s*['′’\s]?\s*(?:(\d+(?:[.,]\d+)?)\s*(?:"|″|”|'')?)?)?\s*([NSEW])?\s*$/i.exec(
      cell,
    );
  if (!match) return Number.NaN;
  const [degrees, minutes, seconds] = [match[2], match[3] ?? '0', match[4] ?? '0'].map((part) =>
    Number(part.replace(',', '.')),
  );
  if (minutes >= 60 || seconds >= 60) return Number.NaN;
  const hemisphere = (match[1] ?? match[5] ?? '').toUpperCase();
  const size = Math.abs(degrees) + minutes / 60 + seconds / 3600;
  return hemisphere === 'S' || hemisphere === 'W' || match[2].startsWith('-') ? -size : size;
}

export type AngleForm = 'degrees' | 'radians' | 'degrees x 1e6' | 'degrees x 1e7' | 'degrees and minutes';

/** The form in which plain numbers give latitude and longitude, from their size throughout the file. */
export function angleForm(latitude: Float64Array, longitude: Float64Array): AngleForm {
  const largestLatitude = largest(latitude);
  const largestLongitude = largest(longitude);
  if (largestLatitude > 9e7 || largestLongitude > 1.8e8) return 'degrees x 1e7';
  if (largestLatitude > 9100 || largestLongitude > 18_100) return 'degrees x 1e6';
  if ((largestLatitude > 90 || largestLongitude > 180) && minutesBelow60(latitude) && minutesBelow60(longitude)) {
    return 'degrees and minutes';
  }
  const small = largestLatitude > 0 && largestLatitude <= Math.PI / 2 && largestLongitude <= Math.PI;
  return small ? 'radians' : 'degrees';
}

function largest(values: Float64Array): number {
  let most = 0;
  for (const value of values) if (Math.abs(value) > most) most = Math.abs(value);
  return most;
}

function minutesBelow60(values: Float64Array): boolean {
  return values.every((value) => Number.isNaN(value) || Math.abs(value) % 100 < 60);
}

/** A plain number in one of the forms, as degrees. */
export function toDegrees(value: number, form: AngleForm): number {
  if (form === 'radians') return (value * 180) / Math.PI;
  if (form === 'degrees x 1e6') return value / 1e6;
  if (form === 'degrees x 1e7') return value / 1e7;
  if (form === 'degrees') return value;
  const whole = Math.floor(Math.abs(value) / 100);
  return Math.sign(value) * (whole + (Math.abs(value) - whole * 100) / 60);
}
