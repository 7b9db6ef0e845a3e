/**
 * Units as they are written by people, and their exact relation to SI. Values from definitions: the international foot,
 * inch, mile and pound (1959 agreement), the nautical mile of 1852 m, the US gallon of 231 cubic inches, the imperial
 * gallon of 4.54609 L, the mechanical horsepower of 550 ft lbf/s, the conventional inch of mercury
 * (NIST Special Publication 811, appendix B.8).
 */
export type Dimension =
  | 'length'
  | 'speed'
  | 'mass'
  | 'volume'
  | 'temperature'
  | 'temperature-difference'
  | 'pressure'
  | 'angle'
  | 'ratio'
  | 'power'
  | 'fuel-flow'
  | 'time'
  | 'density'
  | 'area'
  | 'engine-speed';

/** SI unit of each dimension, as it stands in the names of fields. A ratio is a plain number; rpm stays rpm. */
export const siUnitOf: Readonly<Record<Dimension, string>> = {
  length: 'm',
  speed: 'm/s',
  mass: 'kg',
  volume: 'm3',
  temperature: 'K',
  'temperature-difference': 'K',
  pressure: 'Pa',
  angle: 'rad',
  ratio: '1',
  power: 'W',
  'fuel-flow': 'm3/s',
  time: 's',
  density: 'kg/m3',
  area: 'm2',
  'engine-speed': 'rpm',
};

export interface Unit {
  /** How we write it. */
  readonly symbol: string;
  readonly dimension: Dimension;
  /** SI = written x factor + offset. */
  readonly factor: number;
  readonly offset?: number;
  /** Other spellings that are understood, compared without regard to case unless they differ from `symbol` only by it. */
  readonly spellings?: readonly string[];
}

const foot = 0.3048;
const inch = foot / 12;
const nauticalMile = 1852;
const statuteMile = 1609.344;
const pound = 0.45359237;
const standardGravity = 9.80665;
const usGallon = 231 * inch ** 3;
const imperialGallon = 4.54609e-3;
const hour = 3600;

export const units: readonly Unit[] = [
  { symbol: 'm', dimension: 'length', factor: 1, spellings: ['metre', 'metres', 'meter', 'meters'] },
  { symbol: 'ft', dimension: 'length', factor: foot, spellings: ['foot', 'feet'] },
  { symbol: 'km', dimension: 'length', factor: 1000 },
  { symbol: 'NM', dimension: 'length', factor: nauticalMile, spellings: ['nmi', 'nm'] },
  { symbol: 'SM', dimension: 'length', factor: statuteMile, spellings: ['mi', 'mile', 'miles'] },
  { symbol: 'in', dimension: 'length', factor: inch, spellings: ['inch', 'inches'] },
  { symbol: 'cm', dimension: 'length', factor: 0.01 },
  { symbol: 'mm', dimension: 'length', factor: 0.001 },

  { symbol: 'm/s', dimension: 'speed', factor: 1, spellings: ['mps'] },
  { symbol: 'kt', dimension: 'speed', factor: nauticalMile / hour, spellings: ['kts', 'kn', 'knot', 'knots'] },
  { symbol: 'mph', dimension: 'speed', factor: statuteMile / hour },
  { symbol: 'km/h', dimension: 'speed', factor: 1000 / hour, spellings: ['kmh', 'kph'] },
  { symbol: 'ft/min', dimension: 'speed', factor: foot / 60, spellings: ['fpm'] },
  { symbol: 'ft/s', dimension: 'speed', factor: foot },

  { symbol: 'kg', dimension: 'mass', factor: 1 },
  { symbol: 'lb', dimension: 'mass', factor: pound, spellings: ['lbs', 'pound', 'pounds'] },

  { symbol: 'L', dimension: 'volume', factor: 1e-3, spellings: ['litre', 'litres', 'liter', 'liters'] },
  { symbol: 'US gal', dimension: 'volume', factor: usGallon, spellings: ['USgal', 'USG', 'gal US'] },
  { symbol: 'imp gal', dimension: 'volume', factor: imperialGallon, spellings: ['UK gal', 'gal imp'] },
  { symbol: 'm3', dimension: 'volume', factor: 1, spellings: ['m³'] },

  { symbol: 'degC', dimension: 'temperature', factor: 1, offset: 273.15, spellings: ['°C', 'C', 'deg C'] },
  {
    symbol: 'degF',
    dimension: 'temperature',
    factor: 5 / 9,
    offset: 459.67 * (5 / 9),
    spellings: ['°F', 'F', 'deg F'],
  },
  { symbol: 'K', dimension: 'temperature', factor: 1 },
  { symbol: 'degC', dimension: 'temperature-difference', factor: 1, spellings: ['°C', 'C', 'deg C'] },
  { symbol: 'degF', dimension: 'temperature-difference', factor: 5 / 9, spellings: ['°F', 'F', 'deg F'] },
  { symbol: 'K', dimension: 'temperature-difference', factor: 1 },

  { symbol: 'Pa', dimension: 'pressure', factor: 1 },
  { symbol: 'hPa', dimension: 'pressure', factor: 100 },
  { symbol: 'kPa', dimension: 'pressure', factor: 1000 },
  { symbol: 'mb', dimension: 'pressure', factor: 100, spellings: ['mbar'] },
  { symbol: 'inHg', dimension: 'pressure', factor: 3386.389, spellings: ['in Hg'] },

  { symbol: 'deg', dimension: 'angle', factor: Math.PI / 180, spellings: ['°', 'degree', 'degrees'] },
  { symbol: 'rad', dimension: 'angle', factor: 1 },

  { symbol: '%', dimension: 'ratio', factor: 0.01, spellings: ['percent'] },

  { symbol: 'hp', dimension: 'power', factor: 550 * foot * pound * standardGravity, spellings: ['bhp'] },
  { symbol: 'kW', dimension: 'power', factor: 1000 },
  { symbol: 'W', dimension: 'power', factor: 1 },

  { symbol: 'L/h', dimension: 'fuel-flow', factor: 1e-3 / hour, spellings: ['lph', 'L/hr'] },
  { symbol: 'US gal/h', dimension: 'fuel-flow', factor: usGallon / hour, spellings: ['US gal/hr', 'USgal/h', 'USG/h'] },
  { symbol: 'imp gal/h', dimension: 'fuel-flow', factor: imperialGallon / hour, spellings: ['imp gal/hr', 'UK gal/h'] },
  { symbol: 'm3/s', dimension: 'fuel-flow', factor: 1 },

  { symbol: 's', dimension: 'time', factor: 1, spellings: ['sec', 'second', 'seconds'] },
  { symbol: 'ms', dimension: 'time', factor: 0.001 },
  { symbol: 'min', dimension: 'time', factor: 60, spellings: ['minute', 'minutes'] },
  { symbol: 'h', dimension: 'time', factor: hour, spellings: ['hr', 'hour', 'hours'] },

  { symbol: 'kg/m3', dimension: 'density', factor: 1, spellings: ['kg/m³'] },
  { symbol: 'kg/L', dimension: 'density', factor: 1000 },
  { symbol: 'lb/US gal', dimension: 'density', factor: pound / usGallon },
  { symbol: 'lb/imp gal', dimension: 'density', factor: pound / imperialGallon },

  { symbol: 'm2', dimension: 'area', factor: 1, spellings: ['m²', 'sq m'] },
  { symbol: 'ft2', dimension: 'area', factor: foot * foot, spellings: ['ft²', 'sq ft'] },

  { symbol: 'rpm', dimension: 'engine-speed', factor: 1, spellings: ['1/min'] },
];

/** Units in which a quantity of this dimension may be written, the usual ones first. */
export function unitsOf(dimension: Dimension): readonly Unit[] {
  return units.filter((unit) => unit.dimension === dimension);
}

function plain(text: string): string {
  return text.replace(/\s+/g, ' ').trim();
}

/** The unit of `dimension` that is written so, or undefined. Exact spelling first, then without regard to case. */
export function findUnit(written: string, dimension?: Dimension): Unit | undefined {
  const wanted = plain(written);
  const candidates = dimension === undefined ? units : unitsOf(dimension);
  const exact = candidates.find((unit) => unit.symbol === wanted || unit.spellings?.includes(wanted));
  if (exact !== undefined) return exact;
  const folded = wanted.toLowerCase();
  return candidates.find(
    (unit) =>
      unit.symbol.toLowerCase() === folded || unit.spellings?.some((spelling) => spelling.toLowerCase() === folded),
  );
}

function requireUnit(symbol: string, dimension?: Dimension): Unit {
  const unit = findUnit(symbol, dimension);
  if (unit === undefined) throw new RangeError(`No unit "${symbol}"${dimension ? ` of ${dimension}` : ''}`);
  return unit;
}

/** From a unit to SI, e.g. `toSi(6, 'kt')` is 3.0867 (m/s). Throws RangeError for an unknown unit. */
export function toSi(value: number, symbol: string, dimension?: Dimension): number {
  const unit = requireUnit(symbol, dimension);
  return value * unit.factor + (unit.offset ?? 0);
}

/** From SI to a unit, e.g. `fromSi(15.24, 'ft')` is 50. Throws RangeError for an unknown unit. */
export function fromSi(valueSi: number, symbol: string, dimension?: Dimension): number {
  const unit = requireUnit(symbol, dimension);
  return (valueSi - (unit.offset ?? 0)) / unit.factor;
}
