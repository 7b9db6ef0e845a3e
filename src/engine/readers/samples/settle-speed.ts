import type { ProblemList } from '../problem-list.ts';
import type { SampleTable } from './sample-table.ts';
import { type SpeedUnit, speedRatio, speedUnits, unitOfRatio } from './speed-unit.ts';

export interface SpeedStatement {
  /** Unit that the file or its format states; `undefined` where it does not. */
  readonly stated: SpeedUnit | undefined;
}

/**
 * Brings the recorded ground speed, stored as it stands in the file, to m/s. A unit that the file does not state is found
 * by comparing with the positions; where that contradicts a stated unit, or nothing fits, the column is dropped, since
 * speed from positions is then the safer one. Everything is reported.
 */
export function settleSpeedUnit(
  table: SampleTable,
  statement: SpeedStatement,
  problems: ProblemList,
  assumptions: string[],
): void {
  const column = table.columns.get('groundSpeedMps');
  if (!column) return;
  const ratio = speedRatio(table, column);
  const found = ratio === undefined ? undefined : unitOfRatio(ratio);
  const unit = statement.stated ?? found ?? (ratio === undefined ? 'm/s' : undefined);
  if (unit === undefined || (ratio !== undefined && found !== unit)) {
    table.columns.delete('groundSpeedMps');
    problems.warning('speed-doubtful', doubt(statement.stated, ratio ?? Number.NaN));
    return;
  }
  if (statement.stated === undefined) {
    assumptions.push(
      ratio === undefined
        ? 'The file does not state the unit of its speed, and it never moves fast enough to tell: taken as m/s.'
        : `The file does not state the unit of its speed; comparing with the positions shows ${unit}.`,
    );
  }
  const factor = speedUnits[unit];
  table.writtenUnits.set('groundSpeedMps', factor);
  if (factor === 1) return;
  for (let row = 0; row < table.rows; row++) column.set(row, column.get(row) * factor);
}

function doubt(stated: SpeedUnit | undefined, ratio: number): string {
  const said = stated === undefined ? 'no unit of speed' : `a speed in ${stated}`;
  return `The file states ${said}, but recorded speed is ${ratio.toPrecision(3)} times the speed in m/s from its positions: not used, speed comes from the positions.`;
}
