import { findUnit, type Unit } from '../../../../shared/units.ts';
import type { ProblemList } from '../problem-list.ts';
import type { SampleTable } from './sample-table.ts';
import { ratioFits, speedRatio, unitOfRatio } from './speed-unit.ts';

/** What is known of the unit of a recorded ground speed. */
export interface SpeedUnitKnown {
  /** The file or its format says so: where the positions contradict, the speed is wrong. */
  readonly stated?: Unit;
  /** Most writers of the format use it: where the positions show another one, it is that one. */
  readonly usual?: Unit;
}

/**
 * Brings the recorded ground speed, stored as it stands in the file, to m/s. A unit that is not stated is found by
 * comparing with the positions. Where these contradict a stated unit, or no unit fits, the column is dropped, since speed
 * from positions is then the safer one. Everything is reported.
 */
export function settleSpeed(
  table: SampleTable,
  { stated, usual }: SpeedUnitKnown,
  problems: ProblemList,
  assumptions: string[],
): void {
  const column = table.columns.get('groundSpeedMps');
  if (!column) return;
  const ratio = speedRatio(table, column);
  const expected = stated ?? usual;
  const unit = stated ?? (ratio === undefined ? (usual ?? findUnit('m/s', 'speed')) : unitOfRatio(ratio));
  if (!unit || (ratio !== undefined && !ratioFits(ratio, unit))) {
    table.columns.delete('groundSpeedMps');
    const said = expected === undefined ? 'no unit of speed' : `a speed in ${expected.symbol}`;
    problems.warning(
      'speed-doubtful',
      `The file states ${said}, but the recorded speed is ${ratio?.toPrecision(3)} times the speed in m/s from its positions: it was not used, speed comes from the positions.`,
    );
    return;
  }
  if (unit !== expected) {
    assumptions.push(
      ratio === undefined
        ? 'The file does not state the unit of its speed, and it never moves long enough to tell: taken as m/s.'
        : `The file does not state the unit of its speed; comparing with the positions shows ${unit.symbol}.`,
    );
  }
  table.writtenUnits.set('groundSpeedMps', unit.factor);
  if (unit.factor === 1) return;
  for (let row = 0; row < table.rows; row++) column.set(row, column.get(row) * unit.factor);
}
