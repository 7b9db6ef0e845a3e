/**
 * A track as it crosses to the page: columns of equal length `n`, cleaned, in SI; a missing sample is `NaN`. Times are
 * double; the rest is single precision (8 mm at 100 km), which halves what is sent.
 */
export interface TrackColumns {
  /** Unix time of the first row, seconds. */
  readonly startS: number;
  /** Seconds after `startS`, ascending. */
  readonly timeS: Float64Array;
  /** Along the ground from the first fix, ascending; straight across gaps. */
  readonly distanceM: Float64Array;
  readonly eastM: Float32Array;
  readonly northM: Float32Array;
  readonly heightM: Float32Array;
  /** What the height stands for, e.g. 'msl'; decides its label. */
  readonly heightKind: 'msl' | 'ellipsoid' | 'pressure' | 'unknown';
  readonly groundSpeedMps: Float32Array;
  readonly speedSource: 'receiver' | 'differenced';
  readonly verticalSpeedMps: Float32Array;
  /** Direction of motion, true; `NaN` while too slow to tell. */
  readonly trackRad: Float32Array;
  readonly airspeedMps?: Float32Array;
  readonly airspeedKind?: 'true' | 'indicated';
  /** One sigma of a single sample, where it is known: the receiver's own claim, else the noise of this recording. */
  readonly heightSigmaM?: Float32Array | number;
  readonly groundSpeedSigmaMps?: Float32Array | number;
  /** Rows before which the record has a hole; lines are not drawn across. */
  readonly gapsBefore: readonly number[];
}

/** Index of the last row at or before `value` in an ascending column; -1 when all are later. */
export function lastRowAtOrBefore(column: ArrayLike<number>, value: number): number {
  let low = 0;
  let high = column.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (column[middle] <= value) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

/** Row nearest to `value` in an ascending column; -1 when it is empty. */
export function nearestRow(column: ArrayLike<number>, value: number): number {
  const before = lastRowAtOrBefore(column, value);
  if (before < 0) return column.length > 0 ? 0 : -1;
  const after = before + 1;
  return after < column.length && column[after] - value < value - column[before] ? after : before;
}

/** Value at `x` by straight line between the rows around it; `NaN` outside, across a gap, or beside a missing sample. */
export function valueAt(
  xs: ArrayLike<number>,
  values: ArrayLike<number>,
  x: number,
  gapsBefore: readonly number[] = [],
): number {
  const before = lastRowAtOrBefore(xs, x);
  if (before < 0 || (before === xs.length - 1 && x > xs[before])) return Number.NaN;
  if (xs[before] === x || before === xs.length - 1) return values[before];
  if (gapsBefore.includes(before + 1)) return Number.NaN;
  const share = (x - xs[before]) / (xs[before + 1] - xs[before]);
  return values[before] + share * (values[before + 1] - values[before]);
}
