import { type Unit, unitsOf } from '../../../../shared/units.ts';
import { distanceM } from './flat-distance.ts';
import type { SampleTable } from './sample-table.ts';

/** Slower movement is too much disturbed by the noise of positions (0.3 m/s for differences over a second). */
const slowestMps = 5;

/** Positions are differenced over at least this, so that rounding (1.85 m in IGC) and noise do not lengthen the path. */
const stepS = 2;

/** Blocks of about this length are compared: long enough that lags of the recorded speed do not matter. */
const blockS = 10;

/** A unit is believed within this; the nearest two units in use, kt and mph, are 15 % apart. */
const tolerance = 0.06;

/** So many blocks are needed. */
const fewestBlocks = 3;

/** Units in which recorders write speed. */
const speedSymbols = new Set(['m/s', 'km/h', 'kt', 'mph']);

/**
 * Median of recorded speed over speed from positions, over blocks of about 10 s in which the recorder moved faster than
 * 5 m/s: 1 where the column is in m/s, 3.6 in km/h, 1.944 in kt, 2.237 in mph. `undefined` with fewer than 3 blocks.
 */
export function speedRatio(table: SampleTable, recorded: { get(row: number): number }): number | undefined {
  const ratios: number[] = [];
  let block = { pathM: 0, spentS: 0, recorded: 0 };
  let from = -1;
  let integral = 0;
  for (let row = 0; row < table.rows; row++) {
    const previousS = table.timeS.get(row - 1);
    const elapsedS = table.timeS.get(row) - previousS;
    integral += (elapsedS * (recorded.get(row) + recorded.get(row - 1))) / 2;
    if (from === -1 || !(elapsedS > 0 && elapsedS <= blockS) || Number.isNaN(integral)) {
      block = { pathM: 0, spentS: 0, recorded: 0 };
      from = Number.isNaN(recorded.get(row) + table.latDeg.get(row)) ? -1 : row;
      integral = 0;
      continue;
    }
    const strideS = table.timeS.get(row) - table.timeS.get(from);
    if (strideS < stepS || Number.isNaN(table.latDeg.get(row))) continue;
    block.pathM += strideM(table, from, row);
    block.spentS += strideS;
    block.recorded += integral;
    from = row;
    integral = 0;
    if (block.spentS < blockS) continue;
    if (block.pathM / block.spentS > slowestMps) ratios.push(block.recorded / block.pathM);
    block = { pathM: 0, spentS: 0, recorded: 0 };
  }
  if (ratios.length < fewestBlocks) return undefined;
  ratios.sort((a, b) => a - b);
  return ratios[ratios.length >> 1];
}

/** Whether a ratio of {@link speedRatio} agrees with a unit. */
export function ratioFits(ratio: number, unit: Unit): boolean {
  return Math.abs(ratio * unit.factor - 1) <= tolerance;
}

/** The unit in use that a ratio of {@link speedRatio} reveals, if one fits within 6 %. */
export function unitOfRatio(ratio: number): Unit | undefined {
  return unitsOf('speed').find((unit) => speedSymbols.has(unit.symbol) && ratioFits(ratio, unit));
}

function strideM(table: SampleTable, from: number, to: number): number {
  return distanceM(table.latDeg.get(from), table.lonDeg.get(from), table.latDeg.get(to), table.lonDeg.get(to));
}
