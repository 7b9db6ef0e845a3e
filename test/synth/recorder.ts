/** Truth columns at the simulation's own rate, one row a step. Units in the names; heights are of the wheels. */
export const truthColumns = [
  'timeS',
  'eastM',
  'northM',
  'heightM',
  'eastMps',
  'northMps',
  'upMps',
  'tasMps',
  'easMps',
  'pressurePa',
  'temperatureK',
  'densityKgM3',
  'windEastMps',
  'windNorthMps',
  'windUpMps',
  'rpm',
  'fuelFlowM3ps',
  'shaftPowerW',
  'massKg',
  'turnRateRadps',
  'onGround',
  'liftCoefficient',
  'pathM',
] as const;

export type TruthColumn = (typeof truthColumns)[number];
export type TruthTable = Readonly<Record<TruthColumn, Float64Array>>;

type Columns = Record<TruthColumn, Float64Array>;

/** Grows by doubling; `table()` gives views of the rows written. */
export class Recorder {
  rows = 0;
  private capacity = 1 << 16;
  columns: Columns = make(() => new Float64Array(this.capacity));

  /** Opens one more row and gives its number; its cells are then set in `columns`. */
  next(): number {
    if (this.rows === this.capacity) {
      this.capacity *= 2;
      this.columns = make((name) => {
        const larger = new Float64Array(this.capacity);
        larger.set(this.columns[name]);
        return larger;
      });
    }
    return this.rows++;
  }

  table(): TruthTable {
    return make((name) => this.columns[name].subarray(0, this.rows));
  }
}

function make(column: (name: TruthColumn) => Float64Array): Columns {
  return Object.fromEntries(truthColumns.map((name) => [name, column(name)])) as Columns;
}

/** Row at or just before a time (rows are evenly spaced from the first). */
export function rowAt(table: TruthTable, timeS: number): number {
  const { timeS: times } = table;
  const step = times.length > 1 ? (times[times.length - 1] - times[0]) / (times.length - 1) : 1;
  return Math.max(0, Math.min(times.length - 1, Math.floor((timeS - times[0]) / step + 1e-6)));
}

/** Linear interpolation of a column in time. */
export function valueAt(table: TruthTable, column: TruthColumn, timeS: number): number {
  const row = rowAt(table, timeS);
  const values = table[column];
  if (row >= values.length - 1) return values[values.length - 1];
  const part = (timeS - table.timeS[row]) / (table.timeS[row + 1] - table.timeS[row]);
  return values[row] + Math.max(0, Math.min(1, part)) * (values[row + 1] - values[row]);
}

/** Mean of a column over a span of time. */
export function meanOver(table: TruthTable, column: TruthColumn, fromS: number, toS: number): number {
  const first = rowAt(table, fromS);
  const last = Math.max(first + 1, rowAt(table, toS));
  let sum = 0;
  for (let i = first; i < last; i++) sum += table[column][i];
  return sum / (last - first);
}
