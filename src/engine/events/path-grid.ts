/** An even grid over the window of one transition, with the smooth speed on it: where effects are integrated. */
export class PathGrid {
  readonly timeS: Float64Array;
  readonly speedMps: Float64Array;
  readonly startS: number;
  readonly stepS = 0.1;

  /** @param speedAt smooth speed, m/s; values under 3 m/s are raised to it (it stands in denominators) */
  constructor(fromS: number, toS: number, speedAt: (timeS: number) => number) {
    this.startS = fromS;
    const count = Math.max(2, Math.ceil((toS - fromS) / this.stepS) + 2);
    this.timeS = Float64Array.from({ length: count }, (_, index) => fromS + index * this.stepS);
    this.speedMps = this.timeS.map((time) => Math.max(3, speedAt(time)));
  }

  get length(): number {
    return this.timeS.length;
  }

  /** Integral of a column from the start of the grid, by trapezoids. */
  cumulative(rate: Float64Array): Float64Array {
    const sum = new Float64Array(rate.length);
    const half = 0.5 * this.stepS;
    for (let index = 1; index < rate.length; index += 1) {
      sum[index] = sum[index - 1] + half * (rate[index - 1] + rate[index]);
    }
    return sum;
  }

  /** Linear interpolation of a column. */
  at(column: Float64Array, timeS: number): number {
    const place = (timeS - this.startS) / this.stepS;
    const low = Math.max(0, Math.min(column.length - 2, Math.floor(place)));
    return column[low] + (place - low) * (column[low + 1] - column[low]);
  }

  /** What a first-order filter with this time constant makes of a column; `direction` -1 filters from the end. */
  lagged(rate: Float64Array, lagS: number, direction: 1 | -1): Float64Array {
    const keep = Math.exp(-this.stepS / lagS);
    const result = new Float64Array(rate.length);
    const first = direction === 1 ? 0 : rate.length - 1;
    let state = rate[first];
    for (let count = 0; count < rate.length; count += 1) {
      const index = first + direction * count;
      state = keep * state + (1 - keep) * rate[index];
      result[index] = state;
    }
    return result;
  }
}
