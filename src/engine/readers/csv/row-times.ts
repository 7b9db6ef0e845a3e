import { GrowingColumn } from '../samples/sample-table.ts';
import { hasZone, isoTimeS, utcOffsetS } from '../text/date-time.ts';
import type { ChosenColumn } from './columns.ts';
import { readTimeCell, type TimeCell } from './day-time.ts';

const dayS = 86_400;

/** A file whose dates change more often than this is no recording. */
const mostDates = 10_000;

/** Stands for no date, or one too many, in `dateOf`. */
export const undated = -1;

/** Reads the time of each row of a table, and notes what only the whole file or the user can add: date and zone. */
export class RowTimes {
  readonly time: ChosenColumn | undefined;
  readonly date: ChosenColumn | undefined;
  /** The dates written, in the order of their numbers. */
  readonly dates: string[] = [];
  /** Number of the date of each row that is a time of day. */
  readonly dateOf = new GrowingColumn();
  /** 1 in rows whose zone is not known. */
  readonly zoneless = new GrowingColumn();
  /** 1 in rows that count seconds from some start. */
  readonly elapsed = new GrowingColumn();
  readonly counts = { timesOfDay: 0, undated: 0, elapsed: 0, absolute: 0, zoneless: 0 };
  /** The first offset from UTC that the file states, seconds east. */
  firstOffsetS = Number.NaN;
  readonly #offset: ChosenColumn | undefined;
  readonly #numbers = new Map<string, number>();
  #lastDate = '';
  #lastTimeOfDayS = Number.NaN;
  #midnights = 0;
  #offsetText = '';
  #offsetS = Number.NaN;

  constructor(columns: readonly ChosenColumn[]) {
    this.time = bestTime(columns);
    this.date = columns.find((column) => column.meaning === 'date');
    this.#offset = columns.find((column) => column.meaning === 'utcOffset');
  }

  /** Time of a row as far as it is known; `NaN` where the cell is none. */
  read(cells: readonly string[], row: number): number {
    const cell = this.time ? (cells[this.time.index] ?? '') : '';
    const isoS = isoTimeS(cell);
    if (!Number.isNaN(isoS)) {
      this.counts.absolute++;
      return hasZone(cell) ? isoS : isoS - this.#zoneS(cells, row);
    }
    const read = readTimeCell(cell, this.time?.unit);
    if (!read) return Number.NaN;
    if (read.kind === 'time-of-day') return this.#timeOfDay(read, cells, row);
    if (read.kind === 'absolute') this.counts.absolute++;
    else {
      this.counts.elapsed++;
      this.elapsed.set(row, 1);
    }
    return read.timeS;
  }

  #timeOfDay(read: TimeCell, cells: readonly string[], row: number): number {
    this.counts.timesOfDay++;
    const beside = this.date ? (cells[this.date.index] ?? '').trim() : '';
    const date = read.dateText === '' ? beside : read.dateText;
    if (date !== this.#lastDate) {
      this.#midnights = 0;
      this.#lastDate = date;
    } else if (read.timeS < this.#lastTimeOfDayS - dayS / 2) this.#midnights++;
    this.#lastTimeOfDayS = read.timeS;
    if (date === '') this.counts.undated++;
    this.dateOf.set(row, date === '' ? undated : this.#numberOf(date));
    return read.timeS + this.#midnights * dayS - (read.zoneS ?? this.#zoneS(cells, row));
  }

  #numberOf(date: string): number {
    const known = this.#numbers.get(date);
    if (known !== undefined) return known;
    if (this.dates.length === mostDates) return undated;
    this.#numbers.set(date, this.dates.length);
    return this.dates.push(date) - 1;
  }

  /** The offset in the row, or the one before where it is blank; 0, and noted, where none is known yet. */
  #zoneS(cells: readonly string[], row: number): number {
    const text = this.#offset ? (cells[this.#offset.index] ?? '').trim() : '';
    if (text !== '' && text !== this.#offsetText) {
      this.#offsetText = text;
      this.#offsetS = utcOffsetS(text);
      if (Number.isNaN(this.firstOffsetS)) this.firstOffsetS = this.#offsetS;
    }
    if (!Number.isNaN(this.#offsetS)) return this.#offsetS;
    this.counts.zoneless++;
    this.zoneless.set(row, 1);
    return 0;
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
