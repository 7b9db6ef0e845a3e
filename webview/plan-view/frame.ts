import type { DisplayUnits } from '../../shared/display-units.ts';
import { formatFixed, inShownUnit, shownUnit } from '../../shared/format.ts';
import type { TrackColumns } from '../../shared/track-columns.ts';

/** How metres east and north become places in a drawing. */
export interface Frame {
  readonly pixelsPerM: number;
  x(eastM: number): number;
  y(northM: number): number;
}

/** Fits the rows into the drawing with a margin, the same scale both ways. */
export function frameOf(
  columns: Pick<TrackColumns, 'eastM' | 'northM'>,
  from: number,
  to: number,
  size: { readonly width: number; readonly height: number },
): Frame {
  let [west, east, south, north] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let row = from; row <= to; row++) {
    const e = columns.eastM[row];
    const n = columns.northM[row];
    if (Number.isNaN(e)) continue;
    if (e < west) west = e;
    if (e > east) east = e;
    if (n < south) south = n;
    if (n > north) north = n;
  }
  if (!(east >= west)) [west, east, south, north] = [-50, 50, -50, 50];
  const margin = 34;
  // Not closer than 50 m across: below that only the receiver's wandering is seen.
  const width = Math.max(50, east - west);
  const height = Math.max(50, north - south);
  const pixelsPerM = Math.min((size.width - 2 * margin) / width, (size.height - 2 * margin) / height);
  const [middleE, middleN] = [(west + east) / 2, (south + north) / 2];
  return {
    pixelsPerM,
    x: (eastM) => size.width / 2 + (eastM - middleE) * pixelsPerM,
    y: (northM) => size.height / 2 - (northM - middleN) * pixelsPerM,
  };
}

/** A path through the rows without points closer than half a unit of the drawing; a missing fix lifts the pen. */
export function thinPath(
  columns: Pick<TrackColumns, 'eastM' | 'northM' | 'gapsBefore'>,
  from: number,
  to: number,
  frame: Frame,
): string {
  const parts: string[] = [];
  const gaps = new Set(columns.gapsBefore);
  let lastX = Number.NaN;
  let lastY = Number.NaN;
  let down = false;
  for (let row = from; row <= to; row++) {
    if (gaps.has(row)) down = false;
    const x = frame.x(columns.eastM[row]);
    const y = frame.y(columns.northM[row]);
    if (Number.isNaN(x)) continue;
    if (down && row < to && Math.abs(x - lastX) < 0.5 && Math.abs(y - lastY) < 0.5) continue;
    parts.push(`${down ? 'L' : 'M'}${x.toFixed(1)} ${y.toFixed(1)}`);
    [lastX, lastY, down] = [x, y, true];
  }
  return parts.join('');
}

/** A round length of the route unit (or of the length unit when short) that fits into `mostPixels`. */
export function scaleBar(
  pixelsPerM: number,
  units: DisplayUnits,
  mostPixels: number,
): { readonly pixels: number; readonly text: string } {
  const longestM = mostPixels / pixelsPerM;
  const kind = inShownUnit(longestM, 'route-distance', units) >= 1 ? 'route-distance' : 'length';
  const longest = inShownUnit(longestM, kind, units);
  const power = 10 ** Math.floor(Math.log10(longest));
  const lead = longest / power;
  const round = power * (lead >= 5 ? 5 : lead >= 2 ? 2 : 1);
  return {
    pixels: (round / longest) * mostPixels,
    text: `${formatFixed(round, round < 1 ? 1 : 0)} ${shownUnit(kind, units).symbol}`,
  };
}
