import type { ProblemList } from '../problem-list.ts';
import { distanceM } from './flat-distance.ts';
import type { SampleColumn, SampleTable } from './sample-table.ts';
import type { OrderedRows } from './time-order.ts';

/** Loggers that write faster than their receiver repeat a fix for at most this long; a longer stand is something else. */
const longestRepeatS = 5;

/** Slower, a position may really stay the same: a receiver holds it while standing. */
const slowestMps = 5;

/** The next position must be this many steps of rounding away, or rounding alone may explain that it stayed the same. */
const fewestSteps = 4;

/** Values that come with the position; repeated values of the others are no sign of anything. */
const fromReceiver: readonly SampleColumn[] = ['groundSpeedMps', 'trackRad', 'verticalSpeedMps'];

const geometric: readonly SampleColumn[] = ['altitude-msl', 'altitude-ellipsoid', 'altitude-unknown'];

/**
 * Takes out positions that were written again although the recorder had moved on: the same position for a moment, while
 * the next one shows movement. What the receiver gave becomes missing in those rows; rows that then hold nothing go.
 */
export function withoutStaleFixes(
  ordered: OrderedRows,
  table: SampleTable,
  positionStepM: number | undefined,
  problems: ProblemList,
): OrderedRows {
  const stale = staleIndices(ordered, table, positionStepM ?? 0);
  if (stale.length === 0) return ordered;
  problems.info(
    'repeated-fix',
    'The same fix was written more than once; the repetitions were dropped.',
    {},
    stale.length,
  );
  const kept = new Uint8Array(ordered.rows.length).fill(1);
  // Backwards, because a value is compared with that of the row before, which may be stale as well.
  for (const i of [...stale].reverse()) {
    const [before, row] = [ordered.rows[i - 1], ordered.rows[i]];
    table.latDeg.set(row, Number.NaN);
    table.lonDeg.set(row, Number.NaN);
    for (const name of geometric) table.columns.get(name)?.set(row, Number.NaN);
    for (const name of fromReceiver) {
      const column = table.columns.get(name);
      if (column && column.get(row) === column.get(before)) column.set(row, Number.NaN);
    }
    if (!holdsMore(table, row)) kept[i] = 0;
  }
  return {
    rows: ordered.rows.filter((_, i) => kept[i] === 1),
    timeS: ordered.timeS.filter((_, i) => kept[i] === 1),
  };
}

/** Accuracies say nothing without the fix that they belong to. */
const ofTheFix: ReadonlySet<SampleColumn> = new Set(['horizontalSigmaM', 'verticalSigmaM', 'speedSigmaMps', 'hdop']);

function holdsMore(table: SampleTable, row: number): boolean {
  for (const [name, column] of table.columns) if (!ofTheFix.has(name) && !Number.isNaN(column.get(row))) return true;
  return false;
}

function staleIndices({ rows, timeS }: OrderedRows, table: SampleTable, positionStepM: number): number[] {
  const stale: number[] = [];
  for (let first = 0; first < rows.length; ) {
    const latDeg = table.latDeg.get(rows[first]);
    const lonDeg = table.lonDeg.get(rows[first]);
    let next = first + 1;
    while (next < rows.length && table.latDeg.get(rows[next]) === latDeg && table.lonDeg.get(rows[next]) === lonDeg)
      next++;
    if (next - first > 1 && next < rows.length) {
      const movedM = distanceM(latDeg, lonDeg, table.latDeg.get(rows[next]), table.lonDeg.get(rows[next]));
      const spentS = timeS[next] - timeS[first];
      if (spentS <= longestRepeatS && movedM > slowestMps * spentS && movedM > fewestSteps * positionStepM) {
        for (let i = first + 1; i < next; i++) stale.push(i);
      }
    }
    first = next;
  }
  return stale;
}
