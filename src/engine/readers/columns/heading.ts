import { type Dimension, findUnit, type Unit } from '../../../../shared/units.ts';
import { englishWords } from './other-languages.ts';

/** A column heading taken apart. */
export interface Heading {
  /** Lower-case words, abbreviations written out, e.g. `GndSpd (kt)` gives `ground`, `speed`. */
  readonly words: readonly string[];
  readonly unit?: Unit;
}

/** Abbreviations that recorders use, each for one or more words. */
const wordsOf: Readonly<Record<string, readonly string[]>> = {
  lat: ['latitude'],
  lon: ['longitude'],
  long: ['longitude'],
  lng: ['longitude'],
  lcl: ['local'],
  ofst: ['offset'],
  alt: ['altitude'],
  elev: ['altitude'],
  ele: ['altitude'],
  elevation: ['altitude'],
  height: ['altitude'],
  hgt: ['altitude'],
  amsl: ['msl'],
  hmsl: ['altitude', 'msl'],
  hae: ['altitude', 'ellipsoid'],
  ellipsoidal: ['ellipsoid'],
  wgs: ['ellipsoid'],
  wgs84: ['ellipsoid'],
  baro: ['barometric'],
  barometer: ['barometric'],
  press: ['pressure'],
  pa: ['pressure', 'altitude'],
  gnd: ['ground'],
  spd: ['speed'],
  vel: ['velocity'],
  gs: ['ground', 'speed'],
  sog: ['ground', 'speed'],
  groundspeed: ['ground', 'speed'],
  cog: ['track'],
  trk: ['track'],
  course: ['track'],
  hdg: ['heading'],
  vs: ['vertical', 'speed'],
  vsi: ['vertical', 'speed'],
  vspd: ['vertical', 'speed'],
  roc: ['vertical', 'speed'],
  climb: ['vertical', 'speed'],
  vvel: ['vertical', 'velocity'],
  ias: ['indicated', 'airspeed'],
  tas: ['true', 'airspeed'],
  oat: ['outside', 'air', 'temperature'],
  temp: ['temperature'],
  ambient: ['outside'],
  acc: ['accuracy'],
  hacc: ['horizontal', 'accuracy'],
  vacc: ['vertical', 'accuracy'],
  sacc: ['speed', 'accuracy'],
  wnd: ['wind'],
  dir: ['direction'],
  dr: ['direction'],
  qty: ['quantity'],
  ff: ['fuel', 'flow'],
  fflow: ['fuel', 'flow'],
  fqty: ['fuel', 'quantity'],
  map: ['manifold', 'pressure'],
  mp: ['manifold', 'pressure'],
  man: ['manifold'],
  bank: ['roll'],
  timestamp: ['time'],
  datetime: ['date', 'time'],
  gmt: ['utc'],
  zulu: ['utc'],
  gnss: ['gps'],
  location: ['gps'],
  position: ['gps'],
  magvar: ['magnetic', 'variation'],
  mag: ['magnetic'],
  var: ['variation'],
  declination: ['magnetic', 'variation'],
};

/** Further words that headings are made of, so that a run-together heading can be taken apart at them. */
const plainWords = new Set(
  Object.values(wordsOf)
    .flat()
    .concat(
      'date time utc fix rpm engine flow used since north east down up hdop type static remaining level left right'.split(
        ' ',
      ),
      'epoch unix pitch seconds elapsed normal'.split(' '),
    ),
);

/** Spellings of units that recorders use beside those that people write. */
const spellings: Readonly<Record<string, string>> = {
  gph: 'US gal/h',
  'gal/h': 'US gal/h',
  'gal/hr': 'US gal/h',
  'gals/hr': 'US gal/h',
  gal: 'US gal',
  gals: 'US gal',
  gallons: 'US gal',
  hg: 'inHg',
  'in-hg': 'inHg',
  '"hg': 'inHg',
  inhg: 'inHg',
  'm/sec': 'm/s',
  'meters/sec': 'm/s',
  'metres/sec': 'm/s',
  'km/hr': 'km/h',
  kmph: 'km/h',
  'feet/min': 'ft/min',
  'ft/mn': 'ft/min',
  'deg.': 'deg',
  degs: 'deg',
  radians: 'rad',
  celsius: 'degC',
  degc: 'degC',
  fahrenheit: 'degF',
  degf: 'degF',
  kelvin: 'K',
  mbars: 'mb',
  millibars: 'mb',
  'r/min': 'rpm',
  millis: 'ms',
  millisecond: 'ms',
  milliseconds: 'ms',
  msec: 'ms',
};

/** Dimensions in which a recording's columns are written; the first that knows a spelling has it. */
const recordedDimensions: readonly Dimension[] = [
  'length',
  'speed',
  'angle',
  'temperature',
  'pressure',
  'fuel-flow',
  'volume',
  'time',
  'engine-speed',
];

/** The unit that a heading or a unit row writes so, with the words that stand beside it (`ft msl`). */
export function unitOf(written: string): { readonly unit?: Unit; readonly words: readonly string[] } {
  const bare = written.trim().replace(/^[([{](.*)[)\]}]$/, '$1');
  const text = bare.trim().replace(/\s+/g, ' ');
  if (text === '') return { words: [] };
  const whole = knownUnit(text);
  if (whole) return { unit: whole, words: [] };
  const [first, ...rest] = text.split(' ');
  const unit = rest.length > 0 ? knownUnit(first) : undefined;
  return unit ? { unit, words: wordsIn(rest.join(' ')) } : { words: wordsIn(text) };
}

function knownUnit(text: string): Unit | undefined {
  const spelling = Object.hasOwn(spellings, text.toLowerCase()) ? spellings[text.toLowerCase()] : text;
  for (const dimension of recordedDimensions) {
    const unit = findUnit(spelling, dimension);
    if (unit) return unit;
  }
  return undefined;
}

/** Takes a heading apart; `unitText` is what a separate row of units says about the column. */
export function readHeading(heading: string, unitText = ''): Heading {
  const bracketed = /^(.*?)\s*[([{]([^()[\]{}]*)[)\]}]\s*$/.exec(heading.trim());
  const inRow = unitOf(unitText);
  const inBrackets = unitOf(bracketed?.[2] ?? '');
  const name = bracketed ? bracketed[1] : heading.trim();
  const stated = inRow.unit ?? inBrackets.unit;
  const beside = [...inRow.words, ...inBrackets.words];
  if (stated) return { words: [...wordsIn(name), ...beside], unit: stated };
  const suffixed = /^(.*[^\s_,])[\s_,]+([^\s_]+)$/.exec(name);
  const unit = suffixed ? knownUnit(suffixed[2]) : undefined;
  return suffixed && unit
    ? { words: [...wordsIn(suffixed[1]), ...beside], unit }
    : { words: [...wordsIn(name), ...beside] };
}

/** Words of a unit row that only say how values are written. */
const formatWords = new Set([
  'txt',
  'bool',
  'enum',
  'ident',
  'yyy',
  'yyyy',
  'yy',
  'hh',
  'mm',
  'dd',
  'ss',
  'sss',
  'iso8601',
]);

/** Words of a name: at blanks and signs, then at known words and at capitals where they are run together. */
function wordsIn(name: string): string[] {
  const words = name
    .normalize('NFC')
    .split(/[^\p{L}\d]+/u)
    .filter((part) => part !== '')
    .flatMap((part) => wholeWord(part.toLowerCase()) ?? takenApart(part.toLowerCase()) ?? atCapitals(part))
    .filter((word) => !formatWords.has(word));
  // "FQty": a lone F before quantity or flow is fuel.
  return words.map((word, i) => (word === 'f' && /^(quantity|flow)$/.test(words[i + 1] ?? '') ? 'fuel' : word));
}

function wholeWord(word: string): readonly string[] | undefined {
  return expand(word) ?? englishWords(word);
}

function atCapitals(part: string): readonly string[] {
  return part
    .replace(/([a-z\d])([A-Z])/g, '$1 $2')
    .replace(/([A-Z])([A-Z][a-z])/g, '$1 $2')
    .toLowerCase()
    .split(' ')
    .flatMap((word) => expand(word) ?? takenApart(word) ?? [word]);
}

function expand(word: string): readonly string[] | undefined {
  if (Object.hasOwn(wordsOf, word)) return wordsOf[word];
  return plainWords.has(word) ? [word] : undefined;
}

/** `groundspeed`, `wndspd`: the fewest known words that make it up, if any do. */
function takenApart(part: string): readonly string[] | undefined {
  if (part.length > 40) return undefined;
  const best: (readonly string[] | undefined)[] = [[]];
  for (let end = 1; end <= part.length; end++) {
    for (let start = Math.max(0, end - 12); start <= end - 2; start++) {
      const before = best[start];
      const word = before && expand(part.slice(start, end));
      if (!word) continue;
      const candidate = [...before, ...word];
      const known = best[end];
      if (!known || candidate.length < known.length) best[end] = candidate;
    }
  }
  return best[part.length];
}
