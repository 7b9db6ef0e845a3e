import type { ProblemList } from '../problem-list.ts';
import { isoDateDays } from '../text/date-time.ts';
import type { SampleTable } from './sample-table.ts';

const dayS = 86_400;

/** Across midnight, times this little apart are rows out of order (own choice); farther apart the recorder paused for hours. */
const largestDisorderS = 600;

/**
 * Turns times of day into Unix times for formats that write the date apart from the time (IGC, NMEA 0183). A time of day
 * that falls by more than half a day has passed midnight; a smaller fall is rows out of order. Rows stored before the
 * first date became known are moved once it is.
 */
export class DayCounter {
  readonly #table: SampleTable;
  #day = 0;
  #dated = false;
  #lastS = Number.NaN;

  constructor(table: SampleTable) {
    this.#table = table;
  }

  /** False until a date has been stated: then times are seconds since the midnight before the first sample. */
  get dated(): boolean {
    return this.#dated;
  }

  /** The day that the last time fell on, days since 1970. */
  get day(): number {
    return this.#day;
  }

  /** The given day is that of the next time of day (or, with `lastS`, of that time of day, just read). */
  stateDay(daysSince1970: number, timeOfDayS?: number): void {
    if (!this.#dated) {
      const shiftS = (daysSince1970 - this.#dayAt(timeOfDayS)) * dayS;
      const times = this.#table.timeS.view(this.#table.rows);
      for (let row = 0; row < times.length; row++) times[row] += shiftS;
    }
    this.#dated = true;
    this.#day = daysSince1970;
    this.#lastS = timeOfDayS ?? Number.NaN;
  }

  /** Unix time of a time of day, counting midnights. */
  timeS(timeOfDayS: number): number {
    this.#day = this.#dayAt(timeOfDayS);
    this.#lastS = timeOfDayS;
    return this.#day * dayS + timeOfDayS;
  }

  /**
   * Where the file states no date, takes the one given for its first sample (`YYYY-MM-DD`). False, with the problem
   * `date-missing`, when none was given.
   */
  settle(givenDate: string | undefined, problems: ProblemList, assumptions: string[]): boolean {
    if (this.#dated || this.#table.rows === 0) return true;
    const day = isoDateDays(givenDate ?? '');
    if (Number.isNaN(day)) {
      problems.error(
        'date-missing',
        'The file states times of day but no date: write the UTC date of its first sample in the comparison, as `day: YYYY-MM-DD`.',
      );
      return false;
    }
    const times = this.#table.timeS.view(this.#table.rows);
    for (let row = 0; row < times.length; row++) times[row] += day * dayS;
    this.#dated = true;
    assumptions.push(`The file states no date; ${givenDate} was given for its first sample.`);
    return true;
  }

  #dayAt(timeOfDayS: number | undefined): number {
    if (timeOfDayS === undefined) return this.#day;
    if (timeOfDayS - this.#lastS < -dayS / 2) return this.#day + 1;
    return timeOfDayS - this.#lastS > dayS - largestDisorderS ? this.#day - 1 : this.#day;
  }
}
