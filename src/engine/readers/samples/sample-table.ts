import type { AltitudeKind, ChannelName } from '../../track/track.ts';

/** What a reader can store for a sample besides time and position, in SI units. */
export type SampleColumn =
  | 'groundSpeedMps'
  | 'trackRad'
  | 'verticalSpeedMps'
  | 'horizontalSigmaM'
  | 'verticalSigmaM'
  | 'speedSigmaMps'
  | 'hdop'
  | `altitude-${AltitudeKind}`
  | ChannelName;

/** Room is added by this factor: little enough that large files do not hold much of it empty. */
const growth = 1.5;

/** Rows that there is room for at first. */
const fewest = 1024;

/** A column that grows as it is filled; rows never set are `NaN`. */
export class GrowingColumn {
  #values = new Float64Array(fewest).fill(Number.NaN);

  set(row: number, value: number): void {
    if (row >= this.#values.length) this.#resize(Math.max(row + 1, fewest, Math.ceil(this.#values.length * growth)));
    this.#values[row] = value;
  }

  get(row: number): number {
    return row < this.#values.length ? this.#values[row] : Number.NaN;
  }

  /** The first `rows` values themselves, not a copy. Ask when the column is complete: the room beyond is let go. */
  view(rows: number): Float64Array {
    if (rows !== this.#values.length) this.#resize(rows);
    return this.#values;
  }

  #resize(size: number): void {
    const sized = new Float64Array(size);
    sized.set(this.#values.length > size ? this.#values.subarray(0, size) : this.#values);
    sized.fill(Number.NaN, Math.min(size, this.#values.length));
    this.#values = sized;
  }
}

/** Samples in the order of the file, while it is being read. */
export class SampleTable {
  readonly timeS = new GrowingColumn();
  readonly latDeg = new GrowingColumn();
  readonly lonDeg = new GrowingColumn();
  readonly columns = new Map<SampleColumn, GrowingColumn>();
  /** 1 in rows that are not part of the recording. */
  readonly leftOut = new GrowingColumn();
  /** Rows before which reception was stated to be interrupted, in any order. */
  readonly breaks: number[] = [];
  /**
   * The unit in which the file writes a column, in the column's SI unit (0.3048 for altitudes in feet), where it is not
   * 1: the step with which values were written is looked for in it. `latitude` is in degrees (1/60 for minutes).
   */
  readonly writtenUnits = new Map<SampleColumn | 'latitude', number>();
  rows = 0;

  /** Adds a sample and gives its row. A missing position is `NaN`. */
  add(timeS: number, latDeg: number, lonDeg: number): number {
    const row = this.rows++;
    this.timeS.set(row, timeS);
    this.latDeg.set(row, latDeg);
    this.lonDeg.set(row, lonDeg);
    return row;
  }

  column(name: SampleColumn): GrowingColumn {
    let column = this.columns.get(name);
    if (!column) {
      column = new GrowingColumn();
      this.columns.set(name, column);
    }
    return column;
  }

  /** Stores a value unless it is missing, so that a column that never holds anything does not come to be. */
  set(name: SampleColumn, row: number, value: number): void {
    if (!Number.isNaN(value)) this.column(name).set(row, value);
  }

  /** Whether a row holds anything beside its time. */
  holdsAnything(row: number): boolean {
    if (!Number.isNaN(this.latDeg.get(row))) return true;
    for (const column of this.columns.values()) if (!Number.isNaN(column.get(row))) return true;
    return false;
  }

  /** Reception was interrupted before this row. */
  breakBefore(row: number): void {
    if (row > 0) this.breaks.push(row);
  }

  /** The next sample follows an interruption. */
  breakHere(): void {
    this.breakBefore(this.rows);
  }

  /** These rows belong to something else than the recording. */
  leaveOut(from: number, to: number): void {
    for (let row = from; row < to; row++) this.leftOut.set(row, 1);
  }
}
