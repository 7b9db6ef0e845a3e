import * as z from 'zod';
import { formatShort } from '../../../../shared/format.ts';
import { parseQuantity, type Quantity } from '../../../../shared/quantity.ts';
import { type Dimension, findUnit, fromSi, unitsOf } from '../../../../shared/units.ts';
import type { ProblemCode } from '../problem-code.ts';
import type { Noted } from '../types.ts';
import { noted as makeNoted } from '../defaults.ts';
import { type KeyMeta, key } from './key-meta.ts';

/**
 * The kinds of values of the language. A spec is read as text throughout (`14`, `no` and `2024-04-13` stay as written),
 * so that each shape decides for itself and a message can quote what stands in the file.
 */

/** Fails a shape with a message and a stable code. */
export function refuse(context: z.RefinementCtx, code: ProblemCode, message: string): never {
  context.addIssue({ code: 'custom', message, params: { code } });
  return z.NEVER;
}

/** What is physically or legally thinkable, in one unit for the message. */
export interface Limits {
  readonly low: number;
  readonly high: number;
  readonly unit: string;
}

/** Digits enough to recognise what was written. */
function shown(value: number): string {
  return formatShort(value, Math.abs(value) < 100 ? 2 : 0);
}

/** Speeds along the ground are not written in feet a minute, and rates of climb not in knots. */
const horizontal: readonly string[] = ['kt', 'km/h', 'mph'];

function otherDirection(symbol: string, expected: string): boolean {
  return (
    (symbol === 'ft/min' && horizontal.includes(expected)) || (expected === 'ft/min' && horizontal.includes(symbol))
  );
}

function outside(quantity: Quantity, written: string, dimension: Dimension, limits: Limits): string | undefined {
  const within = (valueSi: number): boolean => {
    const value = fromSi(valueSi, limits.unit, dimension);
    return value >= limits.low - 1e-9 && value <= limits.high + 1e-9;
  };
  if (within(quantity.value)) return undefined;
  const number = (quantity.value - (quantity.unit.offset ?? 0)) / quantity.unit.factor;
  const likely = unitsOf(dimension).filter((unit) => !otherDirection(unit.symbol, limits.unit));
  const meant = likely.find((unit) => within(number * unit.factor + (unit.offset ?? 0)));
  const range = `${shown(limits.low)} to ${shown(limits.high)} ${limits.unit}`;
  const hint = meant === undefined ? '' : ` Did you mean "${shown(number)} ${meant.symbol}"?`;
  return `"${written}" cannot be right: expected ${range}.${hint}`;
}

function readQuantity(
  written: string,
  dimension: Dimension,
  limits: Limits | undefined,
  context: z.RefinementCtx,
): Quantity | undefined {
  const result = parseQuantity(written, dimension);
  if (!result.ok) return refuse(context, 'spec-quantity', result.message);
  const impossible = limits && outside(result.quantity, written, dimension, limits);
  if (impossible !== undefined) return refuse(context, 'spec-impossible', impossible);
  return result.quantity;
}

export type QuantityMeta = Omit<KeyMeta, 'dimension'> & { readonly limits?: Limits };

const numberText = String.raw`[-+]?[0-9]*\.?[0-9]+`;

function escapeRegex(text: string): string {
  return text.replace(/[.*+?^${}()|[\]\\/]/g, '\\$&');
}

/** JSON Schema pattern of a quantity, so that any YAML editor marks a missing or wrong unit. */
export function quantityPattern(dimension: Dimension): string {
  const symbols = unitsOf(dimension)
    .flatMap((unit) => [unit.symbol, ...(unit.spellings ?? [])])
    .map(escapeRegex)
    .sort((a, b) => b.length - a.length || (a < b ? -1 : 1));
  return `^\\s*${numberText}.*(${symbols.join('|')})\\s*$`;
}

/** A quantity that is exact by nature (a reference condition, a limit): SI number. */
export function quantity(dimension: Dimension, meta: QuantityMeta) {
  const { limits, ...rest } = meta;
  const shape = z.string().transform((written, context) => {
    const found = readQuantity(written, dimension, limits, context);
    if (found === undefined) return z.NEVER;
    if (found.sigma !== undefined)
      return refuse(context, 'spec-quantity', 'This is a choice, not a measurement: it has no uncertainty.');
    return found.value;
  });
  return key(shape, { ...rest, dimension });
}

/** A quantity that the pilot noted: with a standard deviation, stated or usual. `usual` is SI. */
export function noted(dimension: Dimension, usual: number | ((valueSi: number) => number), meta: QuantityMeta) {
  const { limits, ...rest } = meta;
  const shape = z.string().transform((written, context): Noted => {
    const found = readQuantity(written, dimension, limits, context);
    if (found === undefined) return z.NEVER;
    return makeNoted(found.value, found.sigma, typeof usual === 'number' ? usual : usual(found.value));
  });
  return key(shape, { ...rest, dimension });
}

const longestText = 2000;

/** Free words. */
export function text(meta: KeyMeta) {
  return key(
    z.string().transform((written, context) => {
      const clean = written.trim();
      if (clean.length > longestText)
        return refuse(context, 'spec-text', `This text is longer than ${longestText} characters.`);
      return clean;
    }),
    meta,
  );
}

/** One of a closed list of words. */
export function word<const W extends Readonly<Record<string, string>>>(words: W, meta: Omit<KeyMeta, 'words'>) {
  return key(z.enum(Object.keys(words) as [keyof W & string, ...(keyof W & string)[]]), { ...meta, words });
}

/** Yes or no. */
export function flag(meta: KeyMeta) {
  return key(
    z.string().transform((written, context) => {
      if (/^(?:true|yes)$/i.test(written)) return true;
      if (/^(?:false|no)$/i.test(written)) return false;
      return refuse(context, 'spec-word', `"${written}" is neither "true" nor "false".`);
    }),
    { words: { true: 'yes', false: 'no' }, jsonSchema: { type: 'boolean' }, ...meta },
  );
}

/** Which one, counted from 1. */
export function ordinal(meta: KeyMeta) {
  return key(
    z.string().transform((written, context) => {
      const value = Number(written);
      if (!/^\d{1,4}$/.test(written) || value < 1)
        return refuse(context, 'spec-number', `"${written}" is no count: expected 1, 2, 3 ...`);
      return value;
    }),
    { jsonSchema: { type: 'integer', minimum: 1 }, ...meta },
  );
}

/** True when the calendar has this day. */
export function isDate(written: string): boolean {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(written);
  if (match === null) return false;
  const [year, month, day] = match.slice(1).map(Number);
  const date = new Date(Date.UTC(year, month - 1, day));
  return year >= 1980 && date.getUTCMonth() === month - 1 && date.getUTCDate() === day;
}

/** Direction, true unless it says magnetic: "133 deg", "130 deg magnetic". */
export interface WrittenDirection {
  readonly rad: number;
  readonly magnetic: boolean;
}

export function parseDirection(written: string): WrittenDirection | string {
  const match = /^(.*?)\s*(true|magnetic|mag)?$/i.exec(written.trim());
  const result = parseQuantity(match?.[1] ?? written, 'angle');
  if (!result.ok) return result.message;
  const degrees = fromSi(result.quantity.value, 'deg');
  if (degrees < 0 || degrees > 360) return `"${written}" is no direction: expected 0 to 360 deg.`;
  if (result.quantity.sigma !== undefined) return 'A direction has no uncertainty here.';
  return { rad: result.quantity.value % (2 * Math.PI), magnetic: /^mag/i.test(match?.[2] ?? '') };
}

export function direction(meta: KeyMeta) {
  return key(
    z.string().transform((written, context): WrittenDirection => {
      const found = parseDirection(written);
      return typeof found === 'string' ? refuse(context, 'spec-quantity', found) : found;
    }),
    { ...meta, dimension: 'angle' },
  );
}

/** The symbol of a unit that a person wrote, e.g. for display units. */
export function canonicalUnit(written: string): string {
  return findUnit(written)?.symbol ?? written;
}
