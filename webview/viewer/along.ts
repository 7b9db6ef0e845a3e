import { lastRowAtOrBefore, type TrackColumns } from '../../shared/track-columns.ts';
import type { PlotAxis } from '../charts/plot-spec.ts';

/** What the charts of a flight are drawn along: time or distance. Times are seconds after the first row. */
export interface Along {
  readonly kind: 'time' | 'distance';
  readonly axis: PlotAxis;
  /** Ascending column of the axis. */
  readonly xs: ArrayLike<number>;
  xOf(timeS: number): number;
  timeOf(x: number): number;
}

function interpolate(xs: ArrayLike<number>, ys: ArrayLike<number>, x: number): number {
  const row = lastRowAtOrBefore(xs, x);
  if (row < 0) return ys[0];
  if (row >= xs.length - 1) return ys[ys.length - 1];
  const width = xs[row + 1] - xs[row];
  return width > 0 ? ys[row] + ((x - xs[row]) / width) * (ys[row + 1] - ys[row]) : ys[row];
}

export function along(kind: 'time' | 'distance', columns: TrackColumns): Along {
  const { timeS, distanceM } = columns;
  if (kind === 'time') {
    return {
      kind,
      axis: { title: 'Time', kind: { clockFromS: columns.startS } },
      xs: timeS,
      xOf: (t) => t,
      timeOf: (x) => x,
    };
  }
  return {
    kind,
    axis: { title: 'Distance flown', kind: { quantity: 'route-distance' } },
    xs: distanceM,
    xOf: (t) => interpolate(timeS, distanceM, t),
    timeOf: (x) => interpolate(distanceM, timeS, x),
  };
}
