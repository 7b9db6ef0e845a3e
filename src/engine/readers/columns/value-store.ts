import type { Unit } from '../../../../shared/units.ts';
import type { SampleColumn, SampleTable } from '../samples/sample-table.ts';
import type { Meaning } from './meaning.ts';

/** Takes a value as it stands in the file. */
export type StoreValue = (row: number, value: number) => void;

/**
 * How values of a column with this meaning and unit go into a table: in SI, placeholders left out, tanks added up. Ground
 * speed is stored as it stands, for `settleSpeed`. `undefined` for meanings that are not columns of a track.
 */
export function valueStore(table: SampleTable, meaning: Meaning, unit: Unit | undefined): StoreValue | undefined {
  if (!isSampleColumn(meaning)) return undefined;
  const least = leastOf.get(meaning) ?? Number.NEGATIVE_INFINITY;
  if (meaning === 'groundSpeedMps') return (row, value) => table.set(meaning, row, value < 0 ? Number.NaN : value);
  const factor = factorOf(meaning, unit);
  const offset = unit?.offset ?? 0;
  if (meaning === 'fuelQuantityM3') return (row, value) => addUp(table, row, value * factor);
  if (factor !== 1 && offset === 0) table.writtenUnits.set(meaning, factor);
  return (row, value) => table.set(meaning, row, value < least ? Number.NaN : value * factor + offset);
}

/** SI of one written unit; where none is stated, that of the one usual unit: degrees for angles, else SI itself. */
export function factorOf(meaning: Meaning, unit: Unit | undefined): number {
  if (unit) return unit.factor;
  return meaning.endsWith('Rad') || meaning === 'magneticVariation' ? Math.PI / 180 : 1;
}

/** Below this a value stands for "none": recorders write -1. */
const leastOf: ReadonlyMap<SampleColumn, number> = new Map([
  ['horizontalSigmaM', 0],
  ['verticalSigmaM', 0],
  ['speedSigmaMps', 0],
  ['hdop', 0],
  ['engineSpeedRpm', 0],
  ['manifoldPressurePa', 0],
]);

function addUp(table: SampleTable, row: number, volumeM3: number): void {
  const sofar = table.column('fuelQuantityM3').get(row);
  table.set('fuelQuantityM3', row, (Number.isNaN(sofar) ? 0 : sofar) + volumeM3);
}

function isSampleColumn(meaning: Meaning): meaning is SampleColumn {
  return /(?:Mps|Rad|M|M3|M3ps|K|Pa|Rpm)$/.test(meaning) || meaning === 'hdop' || meaning.startsWith('altitude-');
}
