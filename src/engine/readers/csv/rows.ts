import { factorOf, type StoreValue, valueStore } from '../columns/value-store.ts';
import type { ProblemList } from '../problem-list.ts';
import { GrowingColumn, SampleTable } from '../samples/sample-table.ts';
import { decimalNumber } from '../text/decimal.ts';
import { angleCell } from './angle.ts';
import type { ChosenColumn } from './columns.ts';
import type { Layout } from './layout.ts';
import type { RowTimes } from './row-times.ts';

/** What recorders write where they have no value. */
const missingWords = new Set([
  '',
  'null',
  'nan',
  'na',
  'n/a',
  'none',
  '-',
  '--',
  '---',
  '----',
  'inf',
  '-inf',
  'undefined',
  '*',
  '?',
]);

/** Numbers that stand for "no value" whatever the quantity. */
const missingNumbers = new Set([-9999, -99_999, -999_999]);

/** Helper columns that are turned into others when all rows are read. */
export type Auxiliary =
  | 'velocityNorth'
  | 'velocityEast'
  | 'velocityDown'
  | 'velocityUp'
  | 'barometricAltitude'
  | 'altimeterSetting'
  | 'staticPressure'
  | 'magneticVariation';

const auxiliaries: ReadonlySet<string> = new Set<Auxiliary>([
  'velocityNorth',
  'velocityEast',
  'velocityDown',
  'velocityUp',
  'barometricAltitude',
  'altimeterSetting',
  'staticPressure',
  'magneticVariation',
]);

interface NumberColumn {
  readonly index: number;
  readonly store: StoreValue;
}

/** Takes the rows of a table into samples. Values are in SI except ground speed and position, which are settled later. */
export class TableRows {
  readonly table = new SampleTable();
  readonly auxiliary = new Map<Auxiliary, GrowingColumn>();
  readonly #layout: Layout;
  readonly #times: RowTimes;
  readonly #problems: ProblemList;
  readonly #numbers: readonly NumberColumn[];
  readonly #latitude: ChosenColumn | undefined;
  readonly #longitude: ChosenColumn | undefined;
  readonly #northSouth: ChosenColumn | undefined;
  readonly #eastWest: ChosenColumn | undefined;
  readonly #fix: ChosenColumn | undefined;
  readonly #width: number;

  constructor(layout: Layout, columns: readonly ChosenColumn[], times: RowTimes, problems: ProblemList) {
    const find = (meaning: string): ChosenColumn | undefined => columns.find((column) => column.meaning === meaning);
    this.#layout = layout;
    this.#times = times;
    this.#problems = problems;
    this.#latitude = find('latitude');
    this.#longitude = find('longitude');
    this.#northSouth = find('northSouth');
    this.#eastWest = find('eastWest');
    this.#fix = find('fix');
    this.#numbers = columns.flatMap((column) => this.#numberColumn(column));
    this.#width = 1 + Math.max(this.#latitude?.index ?? 0, this.#longitude?.index ?? 0, times.time?.index ?? 0);
  }

  add(row: readonly string[], line: number): void {
    const { rowKind } = this.#layout;
    if (row.length === 1 && row[0].trim() === '') return;
    if (rowKind !== undefined && row[0] !== `$${rowKind}`) return;
    if (row[0].startsWith('#')) return;
    const cells = rowKind === undefined ? row : row.slice(1);
    if (cells.length < this.#width) {
      this.#problems.warning('csv-short-row', 'A row ends before its position or time and was not used.', { line });
      return;
    }
    const mark = this.#layout.decimalMark;
    if (this.#isHeading(cells)) {
      this.table.breakHere();
      return;
    }
    const latitude = this.#angle(cells, this.#latitude, this.#northSouth, line);
    const longitude = this.#angle(cells, this.#longitude, this.#eastWest, line);
    const at = this.table.rows;
    this.table.add(this.#times.read(cells, at), latitude, longitude);
    for (const { index, store } of this.#numbers) {
      const cell = cells[index] ?? '';
      const value = decimalNumber(cell, mark);
      if (Number.isNaN(value)) {
        if (!missingWords.has(cell.trim().toLowerCase())) {
          this.#problems.info('csv-bad-number', `"${cell.trim().slice(0, 40)}" is no number; taken as missing.`, {
            line,
          });
        }
      } else if (!missingNumbers.has(value)) store(at, value);
    }
    if (this.#fix) this.#applyFix(cells[this.#fix.index] ?? '', at, line);
  }

  /** A log that is begun anew writes its headings again. */
  #isHeading(cells: readonly string[]): boolean {
    return this.#latitude !== undefined && cells[this.#latitude.index].trim() === this.#latitude.heading;
  }

  #angle(
    cells: readonly string[],
    column: ChosenColumn | undefined,
    hemisphere: ChosenColumn | undefined,
    line: number,
  ): number {
    if (!column) return Number.NaN;
    const cell = cells[column.index] ?? '';
    const value = angleCell(cell, this.#layout.decimalMark);
    if (Number.isNaN(value) && !missingWords.has(cell.trim().toLowerCase())) {
      this.#problems.warning('csv-bad-position', `"${cell.trim().slice(0, 40)}" is no latitude or longitude.`, {
        line,
      });
    }
    const side = hemisphere ? (cells[hemisphere.index] ?? '').trim().toUpperCase() : '';
    return side === 'S' || side === 'W' ? -Math.abs(value) : value;
  }

  #applyFix(cell: string, row: number, line: number): void {
    const text = cell.trim().toLowerCase();
    const lost = text === '0' || text === 'v' || /^no|invalid|none/.test(text);
    if (!lost && !text.startsWith('2d')) return;
    for (const kind of ['msl', 'ellipsoid', 'unknown'] as const) {
      this.table.columns.get(`altitude-${kind}`)?.set(row, Number.NaN);
    }
    if (!lost) return;
    this.table.latDeg.set(row, Number.NaN);
    this.table.lonDeg.set(row, Number.NaN);
    this.#problems.info('csv-no-fix', 'Positions of rows marked as without fix were left out.', { line });
  }

  #numberColumn(column: ChosenColumn): NumberColumn[] {
    const { index, meaning, unit } = column;
    if (auxiliaries.has(meaning)) {
      const values = new GrowingColumn();
      const factor = factorOf(meaning, unit);
      this.auxiliary.set(meaning as Auxiliary, values);
      return [{ index, store: (row, value) => values.set(row, value * factor) }];
    }
    const store = valueStore(this.table, meaning, unit);
    return store ? [{ index, store }] : [];
  }
}
