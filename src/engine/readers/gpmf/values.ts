import type { KlvItem } from './klv.ts';
import { complexType } from './klv.ts';

/** Bytes of one value of each type (GPMF introduction, "Type"). */
const typeBytes: Readonly<Record<string, number>> = {
  b: 1,
  B: 1,
  c: 1,
  d: 8,
  f: 4,
  F: 4,
  G: 16,
  j: 8,
  J: 8,
  l: 4,
  L: 4,
  q: 4,
  Q: 8,
  s: 2,
  S: 2,
  U: 16,
};

/** One value; text and identifiers give NaN. */
function valueAt(view: DataView, type: string, at: number): number {
  switch (type) {
    case 'b':
      return view.getInt8(at);
    case 'B':
      return view.getUint8(at);
    case 's':
      return view.getInt16(at);
    case 'S':
      return view.getUint16(at);
    case 'l':
      return view.getInt32(at);
    case 'L':
      return view.getUint32(at);
    case 'f':
      return view.getFloat32(at);
    case 'd':
      return view.getFloat64(at);
    case 'j':
      return Number(view.getBigInt64(at));
    case 'J':
      return Number(view.getBigUint64(at));
    case 'q':
      return view.getInt32(at) / 2 ** 16;
    case 'Q':
      return Number(view.getBigInt64(at)) / 2 ** 32;
    default:
      return Number.NaN;
  }
}

/** `lllSS` and `f[8]L` written out, one character a value; empty when it makes no sense. */
export function expandTypes(text: string): string {
  let expanded = '';
  for (const [, type, times] of text.matchAll(/([A-Za-z])(?:\[(\d{1,3})\])?/g)) {
    const repeat = times === undefined ? 1 : Number(times);
    if (!(type in typeBytes) || expanded.length + repeat > 255) return '';
    expanded += type.repeat(repeat);
  }
  return expanded;
}

export interface Rows {
  readonly columns: number;
  readonly rows: number;
  /** Row by row. */
  readonly values: Float64Array;
}

/**
 * The numbers of an item, divided by the scale: one divisor for all, or one for each element of a structure. A divisor
 * of 0 divides nothing. `undefined` when type and structure size do not fit together.
 */
export function rowsOf(view: DataView, item: KlvItem, typeText: string, scale: readonly number[]): Rows | undefined {
  const types = item.type === complexType ? expandTypes(typeText) : '';
  const single = String.fromCharCode(item.type);
  if (types === '' && !(single in typeBytes)) return undefined;
  const offsets: number[] = [];
  const names: string[] = [];
  let at = 0;
  while (types === '' ? at + typeBytes[single] <= item.structBytes : names.length < types.length) {
    const type = types === '' ? single : types[names.length];
    offsets.push(at);
    names.push(type);
    at += typeBytes[type];
  }
  if (names.length === 0 || at > item.structBytes) return undefined;
  const divisors = names.map((_, k) => (scale.length === 1 ? scale[0] : scale[k]) || 1);
  const values = new Float64Array(item.structs * names.length);
  let out = 0;
  for (let row = 0; row < item.structs; row++) {
    const start = item.from + row * item.structBytes;
    for (let k = 0; k < names.length; k++) values[out++] = valueAt(view, names[k], start + offsets[k]) / divisors[k];
  }
  return { columns: names.length, rows: item.structs, values };
}

/** The first number of an item without scale. */
export function numberOf(view: DataView, item: KlvItem): number {
  return rowsOf(view, item, '', [1])?.values[0] ?? Number.NaN;
}

/** `yymmddhhmmss.sss` as Unix time; NaN when it is not a time. Years 80 to 99 are of the last century. */
export function utcOf(text: string): number {
  const parts = /^(\d\d)(\d\d)(\d\d)(\d\d)(\d\d)(\d\d(?:\.\d+)?)$/.exec(text);
  if (!parts) return Number.NaN;
  const [year, month, day, hour, minute] = parts.slice(1, 6).map(Number);
  const second = Number(parts[6]);
  if (month < 1 || month > 12 || day < 1 || day > 31 || hour > 23 || minute > 59 || second >= 61) return Number.NaN;
  const date = Date.UTC(year + (year < 80 ? 2000 : 1900), month - 1, day, hour, minute);
  if (new Date(date).getUTCDate() !== day) return Number.NaN;
  return date / 1000 + second;
}
