import type { ProblemList } from '../problem-list.ts';
import type { ReadOptions } from '../reader.ts';
import type { SampleTable } from '../samples/sample-table.ts';
import { isoDateDays, utcOffsetS } from '../text/date-time.ts';
import { howToName } from './describe.ts';
import { type DateOrder, dateDays, orderOfDates } from './day-time.ts';
import { type RowTimes, undated } from './row-times.ts';

const dayS = 86_400;

/** What the settling of times needs beside the rows. */
export interface TimeContext {
  readonly options: ReadOptions;
  readonly fileName: string;
  /** Headings without a meaning. */
  readonly unused: readonly string[];
  /** Order of day and month that the head of the table states. */
  readonly stated?: DateOrder;
  readonly problems: ProblemList;
  readonly assumptions: string[];
}

/** Adds to the times what the rows left open: date and zone. False when they cannot be made whole; the problems say why. */
export function settleTimes(table: SampleTable, rows: RowTimes, context: TimeContext): boolean {
  if (!rows.time) {
    context.problems.error(
      'csv-no-time',
      `No column holds a time, so nothing can be measured. ${howToName(context.unused, 'time')}`,
    );
    return false;
  }
  const elapsed = keepsElapsed(rows);
  leaveOutOtherKind(table, rows, elapsed, context.problems);
  addZone(table, rows, context);
  if (rows.dates.length > 0 && !elapsed) return addDates(table, rows, context);
  return elapsed || rows.counts.undated > 0 ? addGivenDate(table, rows, elapsed, context) : true;
}

function change(table: SampleTable, time: (row: number, timeS: number) => number): void {
  for (let row = 0; row < table.rows; row++) table.timeS.set(row, time(row, table.timeS.get(row)));
}

/** Whether the column counts seconds from some start: plain seconds and real times in one column cannot both be meant. */
function keepsElapsed({ counts }: RowTimes): boolean {
  return counts.elapsed > counts.timesOfDay + counts.absolute;
}

function leaveOutOtherKind(table: SampleTable, rows: RowTimes, elapsed: boolean, problems: ProblemList): void {
  const times = rows.counts.timesOfDay + rows.counts.absolute;
  if (rows.counts.elapsed === 0 || times === 0) return;
  change(table, (row, timeS) => ((rows.elapsed.get(row) === 1) === elapsed ? timeS : Number.NaN));
  const message = 'The time column holds times and plain seconds: rows of the rarer kind were left out.';
  problems.warning('csv-mixed-times', message, {}, Math.min(rows.counts.elapsed, times));
}

function addZone(table: SampleTable, rows: RowTimes, { options, problems, assumptions }: TimeContext): void {
  if (rows.counts.zoneless === 0) return;
  const givenS = Number.isNaN(rows.firstOffsetS) ? utcOffsetS(options.csv?.utcOffset ?? '') : rows.firstOffsetS;
  if (!Number.isNaN(givenS)) {
    change(table, (row, timeS) => (rows.zoneless.get(row) === 1 ? timeS - givenS : timeS));
    return;
  }
  const words = [...(rows.time?.words ?? []), ...(rows.date?.words ?? [])];
  if (words.includes('local')) {
    problems.warning(
      'csv-local-time',
      'The times are local but their offset from UTC is not stated; taken as UTC. State it, as `csv: { utc-offset: "-05:00" }`.',
    );
  }
  if (!words.includes('utc')) assumptions.push('The times name no zone; they were taken as UTC.');
}

function addDates(table: SampleTable, rows: RowTimes, { options, fileName, stated, problems }: TimeContext): boolean {
  const order = options.csv?.dateOrder ?? stated ?? orderOfDates(rows.dates, fileName);
  if (order === undefined) {
    problems.error(
      'csv-date-ambiguous',
      `"${rows.dates[0]}" can be read with the day or the month first: state which, as \`csv: { date-order: day-month }\` or \`month-day\`.`,
    );
    return false;
  }
  const days = daysOf(rows.dates, order, problems);
  change(table, (row, timeS) => {
    const number = rows.dateOf.get(row);
    return Number.isNaN(number) ? timeS : timeS + (days[number] ?? Number.NaN) * dayS;
  });
  return true;
}

function daysOf(dates: readonly string[], order: DateOrder, problems: ProblemList): number[] {
  const days = dates.map((date) => dateDays(date, order));
  const bad = dates.find((_, i) => Number.isNaN(days[i]));
  if (bad !== undefined) problems.warning('csv-bad-date', `"${bad.slice(0, 40)}" is no date.`);
  return days;
}

/** Times of day, or seconds from a start, without any date in the file. */
function addGivenDate(
  table: SampleTable,
  rows: RowTimes,
  elapsed: boolean,
  { options, problems, assumptions }: TimeContext,
): boolean {
  const day = isoDateDays(options.date ?? '');
  if (Number.isNaN(day)) {
    problems.error(
      'date-missing',
      'The table states no date: write the date of its first row in the comparison, as `day: YYYY-MM-DD`.',
    );
    return false;
  }
  change(table, (row, timeS) =>
    rows.elapsed.get(row) === 1 || rows.dateOf.get(row) === undated ? timeS + day * dayS : timeS,
  );
  const counted = elapsed ? ', and its seconds are counted from midnight' : '';
  assumptions.push(`The recording states no date; ${options.date} was given for its first row${counted}.`);
  return true;
}
