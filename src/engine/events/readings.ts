import { Whitener } from './linear-gaussian.ts';
import type { Effect } from './flight-path.ts';
import type { PathGrid } from './path-grid.ts';
import type { TransitionData } from './transition-model.ts';
import { heightCovariance, speedCovariance } from './transition-noise.ts';

/** Place of a reading on the grid: between `low` and the next point, `part` of the way. */
interface Places {
  readonly low: Int32Array;
  readonly part: Float64Array;
}

/** Readings of one kind: their noise is independent of that of the other kinds. */
interface Block {
  readonly from: number;
  readonly to: number;
  readonly whitener: Whitener;
}

/** All readings of one transition in one column: speeds, then each series of heights, then vertical speeds. */
export class Readings {
  readonly size: number;
  readonly values: Float64Array;
  private readonly speedFrom: Places;
  private readonly speedTo: Places;
  private readonly heights: readonly Places[];
  private readonly verticals: Places;

  constructor(
    private readonly data: TransitionData,
    private readonly grid: PathGrid,
  ) {
    const columns = [data.speedMps, ...data.heights.map((series) => series.valuesM)];
    if (data.verticals !== undefined) columns.push(data.verticals.valuesMps);
    this.size = columns.reduce((sum, column) => sum + column.length, 0);
    this.values = new Float64Array(this.size);
    let at = 0;
    for (const column of columns) {
      this.values.set(column, at);
      at += column.length;
    }
    this.speedFrom = places(grid, data.speedFromS);
    this.speedTo = places(grid, data.speedToS);
    this.heights = data.heights.map((series) => places(grid, series.timeS));
    this.verticals = places(grid, data.verticals?.timeS ?? new Float64Array(0));
  }

  /** First row of each series of heights, and of the vertical speeds. */
  rows(): { readonly heights: number[]; readonly verticals: number } {
    const heights: number[] = [];
    let at = this.data.speedMps.length;
    for (const series of this.data.heights) {
      heights.push(at);
      at += series.timeS.length;
    }
    return { heights, verticals: at };
  }

  /** What the recorder would read of an effect on the speed and one on the vertical speed, both on the grid. */
  observed(speed: Float64Array | undefined, vertical: Float64Array | undefined): Float64Array {
    const { data, grid } = this;
    const column = new Float64Array(this.size);
    if (speed !== undefined) {
      const filtered = grid.lagged(speed, data.lags.speedS, data.direction);
      if (data.positionWhiteM > 0) {
        const path = grid.cumulative(filtered);
        for (let row = 0; row < data.speedMps.length; row += 1) {
          const span = data.speedToS[row] - data.speedFromS[row];
          column[row] = (read(path, this.speedTo, row) - read(path, this.speedFrom, row)) / span;
        }
      } else for (let row = 0; row < data.speedMps.length; row += 1) column[row] = read(filtered, this.speedFrom, row);
    }
    if (vertical !== undefined) {
      const filtered = grid.lagged(vertical, data.lags.verticalS, data.direction);
      const height = grid.cumulative(filtered);
      let at = data.speedMps.length;
      for (const series of this.heights) {
        for (let row = 0; row < series.low.length; row += 1) column[at + row] = read(height, series, row);
        at += series.low.length;
      }
      for (let row = 0; row < this.verticals.low.length; row += 1)
        column[at + row] = read(filtered, this.verticals, row);
    }
    return column;
  }

  observedEffect(effect: Effect): Float64Array {
    const speed = effect.acceleration === undefined ? undefined : this.grid.cumulative(effect.acceleration);
    return this.observed(speed, effect.vertical);
  }

  /** Turns columns into ones with white noise of unit variance, for a gustiness. */
  whitening(gustMps2: number): { readonly logDeterminant: number; whiten(column: Float64Array): Float64Array } {
    const { data, grid } = this;
    const blocks: Block[] = [];
    const add = (covariance: Float64Array, size: number): void => {
      if (size === 0) return;
      const from = blocks.at(-1)?.to ?? 0;
      blocks.push({ from, to: from + size, whitener: new Whitener(covariance, size) });
    };
    add(speedCovariance(data, grid.startS, gustMps2), data.speedMps.length);
    for (const series of data.heights) add(heightCovariance(series), series.timeS.length);
    const { verticals } = data;
    if (verticals !== undefined)
      add(heightCovariance({ ...verticals, whiteM: verticals.whiteMps }), verticals.timeS.length);
    return {
      logDeterminant: blocks.reduce((sum, block) => sum + block.whitener.logDeterminant, 0),
      whiten: (column) => {
        for (const block of blocks) block.whitener.whiten(column.subarray(block.from, block.to));
        return column;
      },
    };
  }
}

function places(grid: PathGrid, timesS: Float64Array): Places {
  const low = new Int32Array(timesS.length);
  const part = new Float64Array(timesS.length);
  for (const [row, time] of timesS.entries()) {
    const place = (time - grid.startS) / grid.stepS;
    low[row] = Math.max(0, Math.min(grid.length - 2, Math.floor(place)));
    part[row] = place - low[row];
  }
  return { low, part };
}

function read(column: Float64Array, at: Places, row: number): number {
  const low = at.low[row];
  return column[low] + at.part[row] * (column[low + 1] - column[low]);
}
