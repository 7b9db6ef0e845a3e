import type { ByteSource } from '../../world.ts';
import { ProblemList } from '../problem-list.ts';
import type { Reader, ReadOptions, ReadResult } from '../reader.ts';
import { buildTrack } from '../samples/build-track.ts';
import { settleSpeed } from '../samples/settle-speed.ts';
import { lineBlocks } from '../text/lines.ts';
import { headText } from '../text/text-pieces.ts';
import { type ChosenColumn, chooseColumns } from './columns.ts';
import { type DateOrder, statedOrder } from './day-time.ts';
import { howToName, unitAssumptions } from './describe.ts';
import { findLayout, type Layout, likelyHeadings, parseRows } from './layout.ts';
import { RowTimes } from './row-times.ts';
import { TableRows } from './rows.ts';
import { settleHeading, settlePositions, settlePressureAltitude, settleVelocities } from './settle.ts';
import { settleTimes } from './settle-times.ts';

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
  const { rows, columns, times } = table;
  const assumptions = unitAssumptions(columns);
  const find = (meaning: string): ChosenColumn | undefined => columns.find((column) => column.meaning === meaning);
  const stated = orderInHead(table);
  const unused = table.layout.headings.filter((_, index) => !columns.some((column) => column.index === index));
  const context = { options, fileName: source.name, unused, stated, problems, assumptions };
  const timed = settleTimes(rows.table, times, context);
  if (!timed) return { format: 'csv', problems: problems.toArray(), contents };
  const placed = find('latitude') !== undefined;
  if (placed) settlePositions(rows.table, find('latitude'), problems, assumptions);
  else standStill(rows.table);
  settleVelocities(rows.table, rows.auxiliary);
  settleHeading(rows.table, rows.auxiliary, find('headingRad'), assumptions);
  settlePressureAltitude(rows.table, rows.auxiliary, problems, assumptions);
  if (placed) settleSpeed(rows.table, { stated: statedSpeedUnit(find) }, problems, assumptions);
  const track = buildTrack(
    rows.table,
    { assumptions, variationRad: rows.auxiliary.get('magneticVariation') },
    problems,
  );
  if (track !== undefined && !placed) {
    track.latDeg.fill(Number.NaN);
    track.lonDeg.fill(Number.NaN);
  }
  return { format: 'csv', track, problems: problems.toArray(), contents };
}

/** A table without positions stands at one place while its rows are put in order; the place is taken out afterwards. */
function standStill(table: TableRows['table']): void {
  table.latDeg.view(table.rows).fill(1);
  table.lonDeg.view(table.rows).fill(1);
}

interface TableReading {
  readonly layout: Layout;
  readonly columns: readonly ChosenColumn[];
  readonly times: RowTimes;
  readonly rows: TableRows;
}

function orderInHead({ layout, times }: TableReading): DateOrder | undefined {
  const column = times.date ?? times.time;
  return column && statedOrder(layout.unitCells[column.index], column.heading);
}

function openTable(
  text: string,
  options: ReadOptions,
  problems: ProblemList,
  contents: string[],
): TableReading | undefined {
  const named = new Set(Object.keys(options.csv?.columns ?? {}).map((heading) => heading.trim()));
  const layout = findLayout(text, named, options.withoutPositions);
  if (!layout) {
    problems.error(
      'csv-no-headings',
      `No row of headings names a latitude and a longitude. ${howToName(likelyHeadings(text), 'latitude')}`,
    );
    return undefined;
  }
  const columns = chooseColumns(layout, options.csv, problems, contents);
  if (problems.hasErrors) return undefined;
  const times = new RowTimes(columns);
  return { layout, columns, times, rows: new TableRows(layout, columns, times, problems) };
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
