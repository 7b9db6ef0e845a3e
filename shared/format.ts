import type { DisplayUnits } from './display-units.ts';
import type { Interval } from './measured.ts';
import { type Dimension, fromSi, toSi } from './units.ts';

/**
 * The only place where numbers become text. Nothing here depends on the machine's language: a decimal point, no
 * thousands separator, a plain hyphen as minus, and never "-0".
 */

/** What a number is about; decides the unit it is shown in. */
export type QuantityKind =
  | 'length'
  | 'altitude'
  | 'route-distance'
  | 'speed'
  | 'vertical-speed'
  | 'mass'
  | 'volume'
  | 'fuel-flow'
  | 'temperature'
  | 'pressure'
  | 'angle'
  | 'time'
  | 'ratio'
  | 'power'
  | 'engine-speed';

interface Shown {
  readonly symbol: string;
  readonly dimension: Dimension;
  /** Decimals where no interval says how many are worth giving. */
  readonly decimals: number;
}

const routeUnits: Readonly<Record<DisplayUnits['speed'], string>> = { kt: 'NM', mph: 'SM', 'km/h': 'km', 'm/s': 'km' };

/** Unit, and decimals for a bare value, in which a kind of quantity is shown. */
export function shownUnit(kind: QuantityKind, units: DisplayUnits): Shown {
  return shownUnits[kind](units);
}

const shownUnits: Readonly<Record<QuantityKind, (units: DisplayUnits) => Shown>> = {
  length: (units) => ({ symbol: units.length, dimension: 'length', decimals: 0 }),
  altitude: (units) => ({ symbol: units.altitude, dimension: 'length', decimals: 0 }),
  'route-distance': (units) => ({ symbol: routeUnits[units.speed], dimension: 'length', decimals: 1 }),
  speed: (units) => ({ symbol: units.speed, dimension: 'speed', decimals: 1 }),
  'vertical-speed': ({ verticalSpeed }) => ({
    symbol: verticalSpeed,
    dimension: 'speed',
    decimals: verticalSpeed === 'm/s' ? 2 : 0,
  }),
  mass: (units) => ({ symbol: units.mass, dimension: 'mass', decimals: 0 }),
  volume: (units) => ({ symbol: units.volume, dimension: 'volume', decimals: 1 }),
  'fuel-flow': (units) => ({ symbol: `${units.volume}/h`, dimension: 'fuel-flow', decimals: 1 }),
  temperature: (units) => ({ symbol: units.temperature, dimension: 'temperature', decimals: 0 }),
  pressure: ({ pressure }) => ({ symbol: pressure, dimension: 'pressure', decimals: pressure === 'inHg' ? 2 : 0 }),
  angle: () => ({ symbol: 'deg', dimension: 'angle', decimals: 0 }),
  time: () => ({ symbol: 's', dimension: 'time', decimals: 1 }),
  ratio: () => ({ symbol: '%', dimension: 'ratio', decimals: 1 }),
  power: () => ({ symbol: 'kW', dimension: 'power', decimals: 0 }),
  'engine-speed': () => ({ symbol: 'rpm', dimension: 'engine-speed', decimals: 0 }),
};

/** The number in display units, not yet rounded. */
export function inShownUnit(valueSi: number, kind: QuantityKind, units: DisplayUnits): number {
  const { symbol, dimension } = shownUnit(kind, units);
  return fromSi(valueSi, symbol, dimension);
}

/** From the number as shown back to SI; for axes with round steps. */
export function fromShownUnit(value: number, kind: QuantityKind, units: DisplayUnits): number {
  const { symbol, dimension } = shownUnit(kind, units);
  return toSi(value, symbol, dimension);
}

/** Fixed decimals, no "-0"; "-" for a number that is none. */
export function formatFixed(value: number, decimals: number): string {
  if (!Number.isFinite(value)) return '-';
  const text = value.toFixed(Math.max(0, Math.min(decimals, 20)));
  return /^-0(?:\.0*)?$/.test(text) ? text.slice(1) : text;
}

/** At most so many decimals, without trailing zeros: "100.5", "12". */
export function formatShort(value: number, most: number): string {
  const text = formatFixed(value, most);
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}

/** As {@link formatFixed} with an explicit plus. */
export function formatSigned(value: number, decimals: number): string {
  const text = formatFixed(value, decimals);
  return /^[\d.]*$/.test(text) && /[1-9]/.test(text) ? `+${text}` : text;
}

/**
 * Decimals that a value with this half-width of its interval deserves: two digits of the uncertainty where it begins
 * with 1 or 2, else one (at most two, JCGM 100:2008, 7.2.6); never more than `most`, never tens.
 */
export function decimalsFor(halfWidth: number, most = 3): number {
  if (!Number.isFinite(halfWidth) || halfWidth <= 0) return Math.min(most, 1);
  const exponent = Math.floor(Math.log10(halfWidth));
  const leading = halfWidth / 10 ** exponent;
  return Math.max(0, Math.min(most, leading < 3 ? 1 - exponent : -exponent));
}

function halfWidth(interval: Interval): number {
  return Math.abs(interval.high - interval.low) / 2;
}

/**
 * Altitudes that are known to thousands of feet are not told to a foot: tens or hundreds, so that two digits of the
 * uncertainty stay (JCGM 100:2008, 7.2.6). Lengths stay whole: a roll is measured out in metres and feet.
 */
function altitudeStep(half: number): number {
  return half >= 100 ? 10 ** (Math.floor(Math.log10(half)) - 1) : 1;
}

export interface FormattedInterval {
  readonly value: string;
  readonly low: string;
  readonly high: string;
  readonly unit: string;
}

/** Value and limits with the same decimals, in display units. `signed` writes a plus before what is above zero. */
export function formatIntervalParts(
  interval: Interval,
  kind: QuantityKind,
  units: DisplayUnits,
  signed = false,
): FormattedInterval {
  const { symbol } = shownUnit(kind, units);
  const shift = kind === 'temperature' ? 0 : inShownUnit(0, kind, units);
  const scale = (value: number): number => inShownUnit(value, kind, units) - shift;
  const half = halfWidth({ value: 0, low: scale(interval.low), high: scale(interval.high) });
  const decimals = decimalsFor(half);
  const step = kind === 'altitude' ? altitudeStep(half) : 1;
  const write = (value: number): string =>
    (signed ? formatSigned : formatFixed)(step > 1 ? step * Math.round(value / step) : value, decimals);
  return {
    value: write(scale(interval.value)),
    low: write(scale(interval.low)),
    high: write(scale(interval.high)),
    unit: symbol,
  };
}

/** "1130 ft (1085 to 1176)". */
export function formatInterval(interval: Interval, kind: QuantityKind, units: DisplayUnits, signed = false): string {
  const parts = formatIntervalParts(interval, kind, units, signed);
  return `${parts.value} ${parts.unit} (${parts.low} to ${parts.high})`;
}

/** "1130 ft": a value without an interval, with the usual decimals of its kind or those asked for. */
export function formatValue(valueSi: number, kind: QuantityKind, units: DisplayUnits, decimals?: number): string {
  const shown = shownUnit(kind, units);
  if (!Number.isFinite(valueSi)) return '-';
  return `${formatFixed(inShownUnit(valueSi, kind, units), decimals ?? shown.decimals)} ${shown.symbol}`;
}

/** True when rounding to so many decimals would make a number that is not zero look like zero. */
function vanishes(value: number, decimals: number): boolean {
  return value !== 0 && !/[1-9]/.test(formatFixed(value, decimals));
}

/** Decimals for an interval in per cent: as many as it deserves, and enough to see on which side of zero its ends lie. */
export function percentDecimals(percent: Interval): number {
  const deserved = Math.min(1, decimalsFor(halfWidth(percent)));
  return vanishes(percent.low, deserved) || vanishes(percent.high, deserved) ? Math.min(2, deserved + 1) : deserved;
}

/** Percent, already in percent: "+3.2 % (-0.4 to +6.8)". */
export function formatPercentInterval(percent: Interval): string {
  const decimals = percentDecimals(percent);
  return `${formatSigned(percent.value, decimals)} % (${formatSigned(percent.low, decimals)} to ${formatSigned(percent.high, decimals)})`;
}

/** "+3.2 %" from a number in percent. */
export function formatPercent(percent: number, decimals = 1): string {
  return `${formatSigned(percent, decimals)} %`;
}

/** Direction as spoken: three digits, 001 to 360. */
export function formatDirection(rad: number): string {
  const turn = Math.round((rad * 180) / Math.PI) % 360;
  const degrees = turn <= 0 ? turn + 360 : turn;
  return `${String(degrees).padStart(3, '0')} deg`;
}

/** ISO 8601, UTC, milliseconds: "2026-05-03T10:42:13.400Z". */
export function formatTime(timeS: number): string {
  const milliseconds = Math.round(timeS * 1000);
  return Number.isFinite(milliseconds) && Math.abs(milliseconds) <= 8.64e15
    ? new Date(milliseconds).toISOString()
    : '-';
}

/** "2026-05-03" in UTC. */
export function formatDate(timeS: number): string {
  return formatTime(timeS).slice(0, 10);
}

/** "10:42:13" in UTC, with the decimals asked for. */
export function formatClock(timeS: number, decimals = 0): string {
  const scale = 10 ** decimals;
  const rounded = Math.round(timeS * scale) / scale;
  const text = formatTime(rounded);
  return text === '-' ? text : text.slice(11, decimals === 0 ? 19 : 20 + decimals);
}

/** Time into a film as a player shows it: "3:05.2", "1:03:05.2"; with the decimals asked for. */
export function formatFilmTime(intoFilmS: number, decimals = 1, round: (value: number) => number = Math.round): string {
  if (!Number.isFinite(intoFilmS)) return '-';
  const scale = 10 ** decimals;
  // A whole number of parts that is one but for the last bits is that number.
  const parts = Math.max(0, round(Number((intoFilmS * scale).toFixed(6))));
  const minutes = Math.floor(parts / (60 * scale));
  const seconds = formatFixed((parts % (60 * scale)) / scale, decimals).padStart(
    decimals === 0 ? 2 : decimals + 3,
    '0',
  );
  return minutes < 60 ? `${minutes}:${seconds}` : `${Math.floor(minutes / 60)}:${two(minutes % 60)}:${seconds}`;
}

/** "3:04.6 to 3:06.0": where in a film to look, rounded outwards. */
export function formatFilmSpan(span: { readonly fromS: number; readonly toS: number }): string {
  return `${formatFilmTime(span.fromS, 1, Math.floor)} to ${formatFilmTime(span.toS, 1, Math.ceil)}`;
}

function two(value: number): string {
  return String(value).padStart(2, '0');
}

/** "1 h 05 min", "12 min 30 s", "14 s". */
export function formatDuration(spanS: number): string {
  if (!Number.isFinite(spanS)) return '-';
  const whole = Math.round(Math.abs(spanS));
  const hours = Math.floor(whole / 3600);
  const minutes = Math.floor((whole % 3600) / 60);
  const seconds = whole % 60;
  if (hours > 0) return `${hours} h ${two(minutes)} min`;
  if (minutes > 0) return `${minutes} min ${two(seconds)} s`;
  return `${seconds} s`;
}

/** "1 run", "3 runs". */
export function formatCount(count: number, singular: string, plural = `${singular}s`): string {
  return `${count} ${count === 1 ? singular : plural}`;
}

/** "a", "a and b", "a, b and c". */
export function formatList(items: readonly string[], joint = 'and'): string {
  if (items.length < 2) return items[0] ?? '';
  return `${items.slice(0, -1).join(', ')} ${joint} ${items[items.length - 1]}`;
}

/** Bytes for people: "3.7 MB". */
export function formatBytes(bytes: number): string {
  if (bytes < 1000) return `${bytes} B`;
  if (bytes < 1e6) return `${formatFixed(bytes / 1e3, 1)} kB`;
  return `${formatFixed(bytes / 1e6, 1)} MB`;
}
