import type { ByteSource } from '../../world.ts';
import { ProblemList } from '../problem-list.ts';
import type { Reader, ReadOptions, ReadResult } from '../reader.ts';
import { buildTrack } from '../samples/build-track.ts';
import { settleSpeed } from '../samples/settle-speed.ts';
import { lineBlocks } from '../text/lines.ts';
import { headText } from '../text/text-pieces.ts';
import { TableClock } from './clock.ts';
import { type ChosenColumn, chooseColumns } from './columns.ts';
import { findLayout, type Layout, parseRows } from './layout.ts';
import { TableRows } from './rows.ts';
import { settleHeading, settlePositions, settlePressureAltitude, settleVelocities } from './settle.ts';

/** Reader of tables of text (CSV, TSV); how headings are understood is in README.md beside. Ask it last. */
export const csvReader: Reader = {
  format: 'csv',
  recognises: (head, fileName) => {
    if (
      head.subarray(0, 4096).some((byte) => byte === 0) &&
      !/^[\uFEFF\t\n\r\x20-\uFFFF]*$/.test(headText(head.subarray(0, 4096)))
    )
      return false;
    if (/\.(?:csv|tsv)$/i.test(fileName)) return true;
    const text = headText(head);
    return findLayout(text.slice(0, 65_536), new Set()) !== undefined;
  },
  read: readCsv,
};

async function readCsv(source: ByteSource, options: ReadOptions): Promise<ReadResult> {
  const problems = new ProblemList(source.name);
  const contents: string[] = [];
  let table: TableReading | undefined;
  for await (const block of lineBlocks(source, options, problems)) {
    table ??= openTable(block.text, options, problems, contents);
    if (!table) return { format: 'csv', problems: problems.toArray(), contents };
    readBlock(table, block.text, block.firstLine, problems);
  }
  if (!table) return { format: 'csv', problems: problems.toArray(), contents };
  const { rows, columns, clock } = table;
  const assumptions: string[] = [];
  const find = (meaning: string): ChosenColumn | undefined => columns.find((column) => column.meaning === meaning);
  const timed = clock.settle(rows.table, options, source.name, problems, assumptions);
  settlePositions(rows.table, find('latitude'), problems, assumptions);
  if (!timed) return { format: 'csv', problems: problems.toArray(), contents };
  settleVelocities(rows.table, rows.auxiliary);
  settleHeading(rows.table, rows.auxiliary, find('headingRad'), assumptions);
  settlePressureAltitude(rows.table, rows.auxiliary, problems, assumptions);
  settleSpeed(rows.table, { stated: statedSpeedUnit(find) }, problems, assumptions);
  const track = buildTrack(
    rows.table,
    { assumptions, variationRad: rows.auxiliary.get('magneticVariation') },
    problems,
  );
  return { format: 'csv', track, problems: problems.toArray(), contents };
}

interface TableReading {
  readonly layout: Layout;
  readonly columns: readonly ChosenColumn[];
  readonly clock: TableClock;
  readonly rows: TableRows;
}

function openTable(
  text: string,
  options: ReadOptions,
  problems: ProblemList,
  contents: string[],
): TableReading | undefined {
  const named = new Set(Object.keys(options.csv?.columns ?? {}).map((heading) => heading.trim()));
  const layout = findLayout(text, named);
  if (!layout) {
    problems.error(
      'csv-no-headings',
      'No row of headings names a latitude and a longitude: name the columns, as `csv: { columns: { "heading": latitude } }`.',
    );
    return undefined;
  }
  const columns = chooseColumns(layout, options.csv, problems, contents);
  for (const column of columns) contents.push(description(column));
  if (problems.hasErrors) return undefined;
  const clock = new TableClock(columns);
  return { layout, columns, clock, rows: new TableRows(layout, columns, clock, problems) };
}

function readBlock(table: TableReading, text: string, firstLine: number, problems: ProblemList): void {
  let { rows, quotesOpen } = parseRows(text, table.layout.delimiter);
  if (quotesOpen) {
    problems.warning(
      'csv-open-quote',
      'A quotation mark is not closed; the rows around it were read as if none had a meaning.',
      { line: firstLine },
    );
    ({ rows } = parseRows(text, table.layout.delimiter, false));
  }
  rows.forEach((row, i) => {
    if (firstLine + i > table.layout.lastHeadLine) table.rows.add(row, firstLine + i);
  });
}

function statedSpeedUnit(find: (meaning: string) => ChosenColumn | undefined): ChosenColumn['unit'] {
  const speed = find('groundSpeedMps');
  return speed ? speed.unit : find('velocityNorth')?.unit;
}

function description(column: ChosenColumn): string {
  if (column.meaning === 'surroundingPressure') {
    return `column "${column.heading}": air pressure where the recorder lies; not used as a pressure altitude, since vents, doors and speed shift it in a cabin`;
  }
  return `column "${column.heading}": ${names[column.meaning] ?? column.meaning}${column.unit ? `, ${column.unit.symbol}` : ''}`;
}

const names: Readonly<Partial<Record<ChosenColumn['meaning'], string>>> = {
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
  indicatedAirspeedMps: 'indicated airspeed',
  trueAirspeedMps: 'true airspeed',
  outsideAirTemperatureK: 'outside air temperature',
  engineSpeedRpm: 'engine speed',
  manifoldPressurePa: 'manifold pressure',
  fuelFlowM3ps: 'fuel flow',
  fuelQuantityM3: 'fuel quantity',
  fuelUsedM3: 'fuel used',
  pitchRad: 'pitch',
  rollRad: 'roll',
  headingRad: 'heading',
  windSpeedMps: 'wind speed',
  windFromRad: 'wind direction',
  magneticVariation: 'magnetic variation',
};
