import type { ProblemList } from '../problem-list.ts';
import type { ReadOptions } from '../reader.ts';
import { GrowingColumn, type SampleTable } from '../samples/sample-table.ts';
import { hasZone, isoDateDays, isoTimeS, utcOffsetS } from '../text/date-time.ts';
import type { ChosenColumn } from './columns.ts';
import { type DateOrder, dateDays, orderOfDates, readTimeCell } from './day-time.ts';

const dayS = 86_400;

/** A file whose dates change more often than this is no recording. */
const mostDates = 10_000;

/** Reads the time of each row of a table; dates whose order only the whole file tells are settled at the end. */
export class TableClock {
  readonly #time: ChosenColumn | undefined;
  readonly #date: ChosenColumn | undefined;
  readonly #offset: ChosenColumn | undefined;
  readonly #dates = new Map<string, number>();
  /** Number of the date of each row whose date is settled at the end. */
  readonly #dateOfRow = new GrowingColumn();
  #local = false;
  #zoneless = 0;
  #elapsed = 0;
  #timesOfDay = 0;
  #undated = 0;
  #lastDate = '';
  #lastTimeOfDayS = Number.NaN;
  #midnights = 0;
  #offsetText = '';
  #offsetS = Number.NaN;

  constructor(columns: readonly ChosenColumn[]) {
    this.#time = bestTime(columns);
    this.#date = columns.find((column) => column.meaning === 'date');
    this.#offset = columns.find((column) => column.meaning === 'utcOffset');
    this.#local = [this.#time, this.#date].some((column) => column?.words.includes('local'));
  }

  get column(): ChosenColumn | undefined {
    return this.#time;
  }

  /** Time of a row as far as it is known; `NaN` where the cell is none. */
  timeS(cells: readonly string[], row: number): number {
    const cell = this.#time ? (cells[this.#time.index] ?? '') : '';
    const isoS = isoTimeS(cell);
    if (!Number.isNaN(isoS)) return hasZone(cell) ? isoS : isoS - this.#zoneOf(cells);
    const read = readTimeCell(cell);
    if (!read) return Number.NaN;
    if (read.kind === 'absolute') return read.timeS;
    if (read.kind === 'elapsed') {
      this.#elapsed++;
      return read.timeS;
    }
    this.#timesOfDay++;
    const written = read.dateText !== '' ? read.dateText : this.#date ? (cells[this.#date.index] ?? '').trim() : '';
    if (written !== this.#lastDate) {
      this.#midnights = 0;
      this.#lastDate = written;
    } else if (read.timeS < this.#lastTimeOfDayS - dayS / 2) this.#midnights++;
    this.#lastTimeOfDayS = read.timeS;
    if (written === '') this.#undated++;
    else this.#dateOfRow.set(row, this.#numberOf(written));
    return read.timeS + this.#midnights * dayS - (read.zoneS ?? this.#zoneOf(cells));
  }

  #numberOf(date: string): number {
    let number = this.#dates.get(date);
    if (number === undefined) {
      number = this.#dates.size;
      if (number < mostDates) this.#dates.set(date, number);
    }
    return number;
  }

  #zoneOf(cells: readonly string[]): number {
    const text = this.#offset ? (cells[this.#offset.index] ?? '').trim() : '';
    if (text !== this.#offsetText) {
      this.#offsetText = text;
      this.#offsetS = utcOffsetS(text);
    }
    if (!Number.isNaN(this.#offsetS)) return this.#offsetS;
    this.#zoneless++;
    return 0;
  }

  /** Adds what the rows left open: date, and zone from the options. False when the times cannot be made whole. */
  settle(
    table: SampleTable,
    options: ReadOptions,
    fileName: string,
    problems: ProblemList,
    assumptions: string[],
  ): boolean {
    if (!this.#time) {
      problems.error(
        'csv-no-time',
        'No column holds a time, so nothing can be measured: name it, as `csv: { columns: { "heading": time } }`.',
      );
      return false;
    }
    if (!this.#addDates(table, options, fileName, problems, assumptions)) return false;
    if (this.#zoneless > 0) this.#addZone(table, options, problems, assumptions);
    return true;
  }

  #addDates(
    table: SampleTable,
    options: ReadOptions,
    fileName: string,
    problems: ProblemList,
    assumptions: string[],
  ): boolean {
    if (this.#elapsed > 0 && this.#timesOfDay > 0) {
      problems.warning(
        'csv-mixed-times',
        'The time column holds times of day and plain seconds: rows of the rarer kind were left out.',
      );
    }
    if (this.#elapsed + this.#undated > 0 && this.#dates.size === 0) {
      const day = isoDateDays(options.date ?? '');
      if (Number.isNaN(day)) {
        problems.error(
          'date-missing',
          'The table states no date: write the date of its first row, as `date: YYYY-MM-DD`.',
        );
        return false;
      }
      for (let row = 0; row < table.rows; row++) table.timeS.set(row, table.timeS.get(row) + day * dayS);
      const counted = this.#elapsed > 0 ? ', and its seconds are counted from midnight' : '';
      assumptions.push(`The recording states no date; ${options.date} was given for its first row${counted}.`);
      return true;
    }
    if (this.#dates.size === 0) return true;
    const stated = options.csv?.dateOrder;
    const order = stated ?? orderOfDates(this.#dates.keys(), fileName);
    if (order === undefined) {
      const [example] = this.#dates.keys();
      problems.error(
        'csv-date-ambiguous',
        `"${example}" can be read with the day or the month first: state which, as \`csv: { date-order: day-month }\` or \`month-day\`.`,
      );
      return false;
    }
    this.#applyDates(table, order, problems);
    return true;
  }

  #applyDates(table: SampleTable, order: DateOrder, problems: ProblemList): void {
    const days = [...this.#dates.keys()].map((date) => dateDays(date, order));
    const bad = [...this.#dates.keys()].find((_, i) => Number.isNaN(days[i]));
    if (bad !== undefined) problems.warning('csv-bad-date', `"${bad.slice(0, 40)}" is no date.`);
    for (let row = 0; row < table.rows; row++) {
      const number = this.#dateOfRow.get(row);
      if (!Number.isNaN(number)) table.timeS.set(row, table.timeS.get(row) + (days[number] ?? Number.NaN) * dayS);
    }
  }

  #addZone(table: SampleTable, options: ReadOptions, problems: ProblemList, assumptions: string[]): void {
    const givenS = utcOffsetS(options.csv?.utcOffset ?? '');
    if (!Number.isNaN(givenS)) {
      for (let row = 0; row < table.rows; row++) table.timeS.set(row, table.timeS.get(row) - givenS);
      return;
    }
    const utc = this.#time?.words.includes('utc') || this.#date?.words.includes('utc');
    if (this.#local) {
      problems.warning(
        'csv-local-time',
        'The times are local but their offset from UTC is not stated; taken as UTC. State it, as `csv: { utc-offset: "-05:00" }`.',
      );
    }
    if (!utc) assumptions.push('The times name no zone; they were taken as UTC.');
  }
}

/** Of several times that which belongs to the position: it shares most words with the latitude's heading. */
function bestTime(columns: readonly ChosenColumn[]): ChosenColumn | undefined {
  const latitude = columns.find((column) => column.meaning === 'latitude');
  const shared = (column: ChosenColumn): number => column.words.filter((word) => latitude?.words.includes(word)).length;
  const times = columns.filter((column) => column.meaning === 'time');
  return times.reduce<ChosenColumn | undefined>(
    (best, column) => (best === undefined || shared(column) > shared(best) ? column : best),
    undefined,
  );
}
