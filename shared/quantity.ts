import { type Dimension, findUnit, siUnitOf, type Unit, unitsOf } from './units.ts';

/** A quantity written by a person, in SI, with the standard deviation if one was written (`720 kg +- 10 kg`). */
export interface Quantity {
  readonly value: number;
  /** One standard deviation, SI. Absent when not written. */
  readonly sigma?: number;
  /** The unit it was written in. */
  readonly unit: Unit;
}

export type QuantityFault =
  | 'not-a-number'
  | 'no-unit'
  | 'unknown-unit'
  | 'wrong-dimension'
  | 'ambiguous-unit'
  | 'bad-uncertainty';

export type QuantityResult =
  | { readonly ok: true; readonly quantity: Quantity }
  | { readonly ok: false; readonly fault: QuantityFault; readonly message: string };

const numberPattern = String.raw`[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?`;
const wholePattern = new RegExp(`^(${numberPattern})\\s*(.*)$`, 's');
const longestQuantity = 100;

const dimensionWords: Readonly<Record<Dimension, string>> = {
  length: 'a length',
  speed: 'a speed',
  mass: 'a weight (mass)',
  volume: 'a volume',
  temperature: 'a temperature',
  'temperature-difference': 'a temperature difference',
  pressure: 'a pressure',
  angle: 'an angle',
  ratio: 'a percentage',
  power: 'a power',
  'fuel-flow': 'a fuel flow',
  time: 'a time span',
  density: 'a density',
  area: 'an area',
  'engine-speed': 'an engine speed',
};

/** "a weight (mass): kg, lb": for messages and documentation. */
export function describeDimension(dimension: Dimension): string {
  return `${dimensionWords[dimension]}: ${unitsOf(dimension)
    .map((unit) => unit.symbol)
    .join(', ')}`;
}

function refuse(fault: QuantityFault, message: string): QuantityResult {
  return { ok: false, fault, message };
}

/** "1,056" and "12,5" are refused with advice: a comma can mean two things. */
function notANumber(text: string, dimension: Dimension): QuantityResult {
  if (/^[+-]?\d{1,3}(?:[,'\u2019 ]\d{3})+(?![\d,])/.test(text)) {
    return refuse('not-a-number', `"${text}" has a thousands separator: write the digits without one.`);
  }
  if (/^[+-]?\d+,\d/.test(text)) return refuse('not-a-number', `"${text}" has a comma: write a decimal point.`);
  return refuse(
    'not-a-number',
    `"${text}" is no quantity: expected a number and a unit, ${describeDimension(dimension)}.`,
  );
}

function readUnit(written: string, dimension: Dimension, whole: string): Unit | QuantityResult {
  const unit = findUnit(written, dimension);
  if (unit !== undefined) return unit;
  const choices = describeDimension(dimension);
  if (written === '') return refuse('no-unit', `"${whole}" has no unit: expected ${choices}.`);
  if (/^gal(?:lons?)?(?:\/hr?)?$|^gph$/i.test(written)) {
    return refuse('ambiguous-unit', `"${written}" may be US or imperial, 20 % apart: write "US gal" or "imp gal".`);
  }
  const elsewhere = findUnit(written);
  if (elsewhere !== undefined) {
    return refuse(
      'wrong-dimension',
      `"${written}" is the unit of ${dimensionWords[elsewhere.dimension]}: expected ${choices}.`,
    );
  }
  return refuse('unknown-unit', `"${written}" is no unit known here: expected ${choices}.`);
}

/**
 * Reads a quantity with its unit, and an uncertainty if one is stated after `+-` or `±`. The uncertainty is one standard
 * deviation: "right about two times in three" (the first of the forms in JCGM 100:2008, 7.2.2), the more careful of the
 * two usual readings of that sign. It may be a percentage of the value (`720 kg +- 1.5 %`), except of a temperature. The
 * unit may be written once, at the end (`720 +- 10 kg`). Numbers have a decimal point and no thousands separator.
 */
export function parseQuantity(text: string, dimension: Dimension): QuantityResult {
  const whole = text
    .replace(/\u2212/g, '-')
    .replace(/\s+/g, ' ')
    .trim();
  if (whole.length > longestQuantity) return refuse('not-a-number', 'This is too long to be a quantity.');
  const parts = whole.split(/\s*(?:±|\+\/-|\+-)\s*/);
  if (parts.length > 2) return refuse('bad-uncertainty', `"${whole}" has more than one uncertainty.`);
  const main = wholePattern.exec(parts[0]);
  if (main === null || /^[,'\u2019]/.test(main[2])) return notANumber(parts[0], dimension);
  const number = Number(main[1]);
  if (!Number.isFinite(number)) return refuse('not-a-number', `"${main[1]}" is too large to be a number.`);
  if (parts.length === 1) {
    const unit = readUnit(main[2].trim(), dimension, whole);
    if ('ok' in unit) return unit;
    return { ok: true, quantity: { value: number * unit.factor + (unit.offset ?? 0), unit } };
  }
  const spread = wholePattern.exec(parts[1]);
  if (spread === null || Number(spread[1]) < 0 || !Number.isFinite(Number(spread[1]))) {
    return refuse('bad-uncertainty', `"${parts[1]}" is no uncertainty: expected a positive number and a unit.`);
  }
  const spreadUnitText = spread[2].trim();
  const unitText = main[2].trim() === '' ? spreadUnitText : main[2].trim();
  const unit = readUnit(unitText, dimension, whole);
  if ('ok' in unit) return unit;
  const value = number * unit.factor + (unit.offset ?? 0);
  const width = Number(spread[1]);
  if (main[2].trim() !== '' && spreadUnitText === '%' && dimension !== 'ratio') {
    if (unit.dimension === 'temperature') {
      return refuse('bad-uncertainty', 'A percentage of a temperature has no meaning: write degC or degF.');
    }
    return { ok: true, quantity: { value, sigma: Math.abs(value) * width * 0.01, unit } };
  }
  const spreadUnit = readUnit(
    spreadUnitText,
    dimension === 'temperature' ? 'temperature-difference' : dimension,
    whole,
  );
  if ('ok' in spreadUnit) {
    return refuse('bad-uncertainty', `The uncertainty in "${whole}": ${spreadUnit.ok ? '' : spreadUnit.message}`);
  }
  return { ok: true, quantity: { value, sigma: width * spreadUnit.factor, unit } };
}

/** SI unit symbol of a dimension. */
export function siSymbol(dimension: Dimension): string {
  return siUnitOf[dimension];
}
