import { channelWords } from '../../track/channel-words.ts';
import type { ChosenColumn } from './columns.ts';

/** What had to be taken for granted about the units of the columns. */
export function unitAssumptions(columns: readonly ChosenColumn[]): string[] {
  const assumptions: string[] = [];
  const gallons = columns.some(({ heading, unit }) => unit?.symbol.startsWith('US gal') && !/us/i.test(heading));
  if (gallons) assumptions.push('Gallons were taken as US gallons.');
  const wind = columns.find(({ meaning }) => meaning === 'windFromRad');
  if (wind && !wind.words.includes('true')) {
    assumptions.push('The file does not say whether its wind directions are true or magnetic; taken as true.');
  }
  return assumptions;
}

/** So many headings are named in a message. */
const mostNamed = 12;

/** What to write for columns that are not understood, with the file's own headings, and where. */
export function howToName(headings: readonly string[], wanted: string): string {
  const filled = headings.map((heading) => heading.trim()).filter((heading) => heading !== '');
  const example = filled[0] ?? 'heading';
  const named = filled.slice(0, mostNamed).map((heading) => `"${heading}"`);
  const more = filled.length > mostNamed ? ` and ${filled.length - mostNamed} more` : '';
  const there = named.length === 0 ? '' : ` Headings not understood: ${named.join(', ')}${more}.`;
  return `Name it in a comparison, beside \`track:\`, by its heading: \`csv: { columns: { "${example}": ${wanted} } }\`.${there}`;
}

/** How a column was understood, for the user. */
export function description(column: ChosenColumn): string {
  if (column.meaning === 'surroundingPressure') {
    return `column "${column.heading}": air pressure where the recorder lies; not used as a pressure altitude, since vents, doors and speed shift it in a cabin`;
  }
  return `column "${column.heading}": ${names[column.meaning] ?? column.meaning}${column.unit ? `, ${column.unit.symbol}` : ''}`;
}

const names: Readonly<Partial<Record<ChosenColumn['meaning'], string>>> = {
  ...channelWords,
  utcOffset: 'offset from UTC',
  northSouth: 'north or south',
  eastWest: 'east or west',
  'altitude-msl': 'altitude above mean sea level',
  'altitude-ellipsoid': 'altitude above the ellipsoid',
  'altitude-unknown': 'altitude, datum not stated',
  'altitude-pressure': 'pressure altitude',
  barometricAltitude: 'indicated barometric altitude',
  altimeterSetting: 'altimeter setting',
  staticPressure: 'static pressure',
  groundSpeedMps: 'ground speed',
  trackRad: 'track over the ground',
  verticalSpeedMps: 'vertical speed',
  velocityNorth: 'velocity north',
  velocityEast: 'velocity east',
  velocityDown: 'velocity down',
  velocityUp: 'velocity up',
  horizontalSigmaM: 'horizontal accuracy',
  verticalSigmaM: 'vertical accuracy',
  speedSigmaMps: 'speed accuracy',
  magneticVariation: 'magnetic variation',
};
