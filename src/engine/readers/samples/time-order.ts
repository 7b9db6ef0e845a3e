import type { ProblemList } from '../problem-list.ts';
import type { SampleTable } from './sample-table.ts';

/** A jump of the clock back by more than this is an interruption, by less it is rows written out of order (own choice). */
const largestDisorderS = 10;

/** Samples this far from the bulk were stamped by a clock that was not set yet (own choice: no flight lasts a year). */
const longestRecordingS = 366 * 86_400;

export interface OrderedRows {
  /** Rows of the table in ascending, distinct `timeS`. */
  readonly rows: Int32Array;
  readonly timeS: Float64Array;
}

/**
 * Rows with a time and within the stretch from the first to the last position, in the order of time. Repeated times are
 * dropped, or spread evenly where the recorder wrote several different fixes with the same time throughout. Everything
 * dropped, moved or spread is reported; `assumptions` says when times were spread.
 */
export function orderRows(table: SampleTable, problems: ProblemList, assumptions: string[]): OrderedRows {
  const rows = timedRows(table, problems);
  sortByTime(rows, table, problems);
  return distinctTimes(withoutUnsetClock(rows, table, problems), table, problems, assumptions);
}

function timedRows(table: SampleTable, problems: ProblemList): Int32Array {
  const time = table.timeS.view(table.rows);
  const lat = table.latDeg.view(table.rows);
  const usable = (row: number): boolean => table.leftOut.get(row) !== 1;
  let first = 0;
  while (first < table.rows && !(usable(first) && !Number.isNaN(lat[first]))) first++;
  let last = table.rows - 1;
  while (last > first && !(usable(last) && !Number.isNaN(lat[last]))) last--;
  const rows = new Int32Array(Math.max(0, last - first + 1));
  let kept = 0;
  let untimed = 0;
  let outside = 0;
  for (let row = 0; row < table.rows; row++) {
    if (!usable(row)) continue;
    if (row < first || row > last) outside++;
    else if (!Number.isFinite(time[row])) untimed++;
    else if (table.holdsAnything(row)) rows[kept++] = row;
  }
  if (outside > 0 && kept > 0) {
    problems.info(
      'before-first-fix',
      'Samples before the first and after the last position were left out.',
      {},
      outside,
    );
  }
  if (untimed > 0) {
    problems.warning('sample-without-time', 'Samples without a readable time were left out.', {}, untimed);
  }
  return rows.subarray(0, kept);
}

function sortByTime(rows: Int32Array, table: SampleTable, problems: ProblemList): void {
  const time = table.timeS.view(table.rows);
  let backward = 0;
  for (let i = 1; i < rows.length; i++) {
    const step = time[rows[i]] - time[rows[i - 1]];
    if (step >= 0) continue;
    backward++;
    if (step < -largestDisorderS) table.breaks.push(rows[i]);
  }
  if (backward === 0) return;
  rows.sort((a, b) => time[a] - time[b] || a - b);
  problems.warning(
    'time-backwards',
    'The time steps backwards; the samples were put in the order of their times. Check whether two recordings were joined.',
    {},
    backward,
  );
}

function withoutUnsetClock(rows: Int32Array, table: SampleTable, problems: ProblemList): Int32Array {
  const time = table.timeS.view(table.rows);
  let best = [0, rows.length];
  let start = 0;
  let blocks = 0;
  for (let i = 1; i <= rows.length; i++) {
    if (i < rows.length && time[rows[i]] - time[rows[i - 1]] <= longestRecordingS) continue;
    if (blocks++ === 0 || i - start > best[1] - best[0]) best = [start, i];
    start = i;
  }
  const dropped = rows.length - (best[1] - best[0]);
  if (dropped > 0) {
    problems.warning(
      'clock-not-set',
      'Samples whose date is more than a year from the rest were left out: the clock of the recorder was not set.',
      {},
      dropped,
    );
  }
  return rows.subarray(best[0], best[1]);
}

function distinctTimes(
  rows: Int32Array,
  table: SampleTable,
  problems: ProblemList,
  assumptions: string[],
): OrderedRows {
  const time = table.timeS.view(table.rows);
  const groups = groupStarts(rows, time);
  if (groups.length - 1 === rows.length) return { rows, timeS: Float64Array.from(rows, (row) => time[row]) };
  const usual = usualGroupSize(groups);
  if (usual >= 2 && groups.length > 2 && groupsMove(rows, groups, table)) {
    const stepS = usualStepS(rows, groups, time);
    const message = `Times are written to ${stepS} s although there are ${usual} samples in each; they were spread evenly.`;
    problems.warning('time-coarse', message, {}, rows.length);
    assumptions.push(`${message} A single time may be wrong by up to ${stepS} s.`);
    return { rows, timeS: spreadTimes(rows, groups, time, usual, stepS) };
  }
  return {
    rows: firstOfEach(rows, groups, table, problems),
    timeS: Float64Array.from(groups.subarray(0, -1), (at) => time[rows[at]]),
  };
}

/** Indices at which a new time starts, and the end. */
function groupStarts(rows: Int32Array, time: Float64Array): Int32Array {
  const starts = new Int32Array(rows.length + 1);
  let count = 0;
  for (let i = 0; i < rows.length; i++) if (i === 0 || time[rows[i]] !== time[rows[i - 1]]) starts[count++] = i;
  starts[count++] = rows.length;
  return starts.subarray(0, count);
}

/** Median number of samples with the same time. */
function usualGroupSize(groups: Int32Array): number {
  const sizes = new Int32Array(groups.length - 1);
  for (let i = 0; i < sizes.length; i++) sizes[i] = groups[i + 1] - groups[i];
  sizes.sort();
  return sizes[sizes.length >> 1];
}

function usualStepS(rows: Int32Array, groups: Int32Array, time: Float64Array): number {
  const steps = new Float64Array(Math.max(1, groups.length - 2)).fill(1);
  for (let i = 0; i + 2 < groups.length; i++) steps[i] = time[rows[groups[i + 1]]] - time[rows[groups[i]]];
  steps.sort();
  return Math.round(steps[steps.length >> 1] * 1e6) / 1e6;
}

/** Whether samples of the same time differ while the aeroplane moves: fixes, and not one fix written again and again. */
function groupsMove(rows: Int32Array, groups: Int32Array, table: SampleTable): boolean {
  let moving = 0;
  let different = 0;
  for (let i = 0; i + 2 < groups.length; i++) {
    if (groups[i + 1] - groups[i] < 2 || samePosition(table, rows[groups[i]], rows[groups[i + 1]])) continue;
    moving++;
    if (!samePosition(table, rows[groups[i]], rows[groups[i + 1] - 1])) different++;
  }
  return moving > 0 && different >= moving / 2;
}

function samePosition(table: SampleTable, a: number, b: number): boolean {
  return table.latDeg.get(a) === table.latDeg.get(b) && table.lonDeg.get(a) === table.lonDeg.get(b);
}

/** Within each time step; a short first group is the end of its step, any other one starts it. */
function spreadTimes(
  rows: Int32Array,
  groups: Int32Array,
  time: Float64Array,
  usual: number,
  stepS: number,
): Float64Array {
  const out = new Float64Array(rows.length);
  for (let group = 0; group + 1 < groups.length; group++) {
    const start = groups[group];
    const size = groups[group + 1] - start;
    const slots = Math.max(size, usual);
    const skipped = group === 0 ? slots - size : 0;
    const nextS = group + 2 < groups.length ? time[rows[groups[group + 1]]] : Number.POSITIVE_INFINITY;
    const widthS = Math.min(stepS, nextS - time[rows[start]]);
    for (let i = 0; i < size; i++) out[start + i] = time[rows[start]] + (widthS * (skipped + i)) / slots;
  }
  return out;
}

function firstOfEach(rows: Int32Array, groups: Int32Array, table: SampleTable, problems: ProblemList): Int32Array {
  let repeated = 0;
  let different = 0;
  const kept = new Int32Array(groups.length - 1);
  for (let group = 0; group + 1 < groups.length; group++) {
    kept[group] = rows[groups[group]];
    for (let i = groups[group] + 1; i < groups[group + 1]; i++) {
      if (samePosition(table, rows[i], kept[group])) repeated++;
      else different++;
    }
  }
  if (repeated > 0) {
    problems.info(
      'repeated-fix',
      'The same fix was written more than once; the repetitions were dropped.',
      {},
      repeated,
    );
  }
  if (different > 0) {
    const message = 'Several positions carry the same time; the first of each was kept.';
    problems.warning('duplicate-time', message, {}, different);
  }
  return kept;
}
