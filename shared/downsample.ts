import { lastRowAtOrBefore } from './track-columns.ts';

/** A point of a plotted line; `y` is null where the line is broken. */
export interface PlotPoint {
  readonly x: number;
  readonly y: number | null;
}

/**
 * The part of a line between `from` and `to`, with no more than about four points a bucket: the first, lowest, highest and
 * last of each, so that no spike is lost and nothing moves sideways by more than a bucket. A hole (`NaN`, or a row in
 * `gapsBefore`) stays a hole. One row more on either side lets the line run out of the picture.
 *
 * @param xs ascending; same length as `ys`
 * @param buckets about the width of the plot in pixels; fewer rows than twice that are given as they are
 */
export function downsample(
  xs: ArrayLike<number>,
  ys: ArrayLike<number>,
  from: number,
  to: number,
  buckets: number,
  gapsBefore: readonly number[] = [],
): PlotPoint[] {
  const first = Math.max(0, lastRowAtOrBefore(xs, from));
  const end = Math.min(xs.length, lastRowAtOrBefore(xs, to) + 2);
  const points: PlotPoint[] = [];
  let gap = lowerBound(gapsBefore, first + 1);
  let broken = true;

  const breakLine = (x: number): void => {
    if (!broken) points.push({ x, y: null });
    broken = true;
  };
  const add = (row: number): void => {
    points.push({ x: xs[row], y: ys[row] });
    broken = false;
  };

  if (end - first <= buckets * 2 || !(to > from)) {
    for (let row = first; row < end; row++) {
      if (gapsBefore[gap] === row) {
        gap++;
        breakLine((xs[row - 1] + xs[row]) / 2);
      }
      if (Number.isNaN(ys[row])) breakLine(xs[row]);
      else add(row);
    }
    return points;
  }

  const width = (to - from) / buckets;
  // Rows of the bucket being filled; -1 while it is empty.
  let opening = -1;
  let lowest = -1;
  let highest = -1;
  let closing = -1;
  let bucket = Number.NEGATIVE_INFINITY;
  const flush = (): void => {
    if (opening < 0) return;
    const [a, b] = lowest < highest ? [lowest, highest] : [highest, lowest];
    add(opening);
    if (a !== opening) add(a);
    if (b !== a && b !== opening) add(b);
    if (closing !== b && closing !== opening) add(closing);
    opening = -1;
  };
  for (let row = first; row < end; row++) {
    if (gapsBefore[gap] === row) {
      gap++;
      flush();
      breakLine((xs[row - 1] + xs[row]) / 2);
    }
    const y = ys[row];
    if (Number.isNaN(y)) {
      flush();
      breakLine(xs[row]);
      continue;
    }
    const here = Math.floor((xs[row] - from) / width);
    if (here !== bucket) {
      flush();
      bucket = here;
    }
    if (opening < 0) {
      opening = row;
      lowest = row;
      highest = row;
    } else {
      if (y < ys[lowest]) lowest = row;
      if (y > ys[highest]) highest = row;
    }
    closing = row;
  }
  flush();
  return points;
}

function lowerBound(sorted: readonly number[], value: number): number {
  const index = sorted.findIndex((one) => one >= value);
  return index < 0 ? sorted.length : index;
}
