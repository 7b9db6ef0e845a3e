import type { ProblemList } from '../problem-list.ts';
import type { SampleTable } from './sample-table.ts';

/** Makes impossible positions missing, and those of exactly 0, 0, which recorders write when they have none. */
export function cleanPositions(table: SampleTable, problems: ProblemList): void {
  const latDeg = table.latDeg.view(table.rows);
  const lonDeg = table.lonDeg.view(table.rows);
  let outside = 0;
  let zero = 0;
  for (let row = 0; row < table.rows; row++) {
    const placeholder = latDeg[row] === 0 && lonDeg[row] === 0;
    if (!placeholder && Math.abs(latDeg[row]) <= 90 && Math.abs(lonDeg[row]) <= 180) continue;
    if (placeholder) zero++;
    else if (!Number.isNaN(latDeg[row]) && !Number.isNaN(lonDeg[row])) outside++;
    latDeg[row] = Number.NaN;
    lonDeg[row] = Number.NaN;
  }
  if (outside > 0) {
    const message = 'Positions outside 90 degrees of latitude or 180 degrees of longitude were taken as missing.';
    problems.warning('position-out-of-range', message, {}, outside);
  }
  if (zero > 0) {
    const message = 'Positions of exactly 0, 0 were taken as missing: recorders write them when they have none.';
    problems.warning('position-zero', message, {}, zero);
  }
}
