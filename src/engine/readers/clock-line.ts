import { madToSigma, median } from '../stats/sample.ts';

/** A straight line through time stamps: `valueS = atOrigin + slope * (x - origin)`. */
export interface ClockLine {
  readonly origin: number;
  readonly atOrigin: number;
  readonly slope: number;
  /** Scatter of the used stamps about the line, one sigma, robust. */
  readonly sigma: number;
}

/** Tukey's bisquare gives no weight beyond this many sigmas (95 % efficient for normal errors). */
const bisquareSigmas = 4.685;

/** The first slope is the median over pairs this far apart: long against the jitter, short against the way to a step. */
const pairDistance = 30;

export function valueAt(line: ClockLine, x: number): number {
  return line.atOrigin + line.slope * (x - line.origin);
}

/**
 * A robust line through `y` over ascending `x`: median slope over pairs, then three rounds of weighted least squares
 * with Tukey's bisquare. `groupOf` gives each point the stretch it belongs to; stretches share the slope and keep their
 * own level, which `levels` answers as additions to the line. Two points at different `x` are needed.
 */
export function fitClockLine(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  groupOf: (point: number) => number = () => 0,
): { line: ClockLine; levels: number[] } {
  const n = x.length;
  const groups = 1 + Array.from({ length: n }, (_, i) => groupOf(i)).reduce((a, b) => Math.max(a, b), 0);
  const distance = Math.max(1, Math.min(pairDistance, Math.floor(n / 3)));
  const slopes: number[] = [];
  for (let i = 0; i + distance < n; i++) {
    const dx = x[i + distance] - x[i];
    if (dx > 0 && groupOf(i) === groupOf(i + distance)) slopes.push((y[i + distance] - y[i]) / dx);
  }
  let slope = slopes.length > 0 ? median(slopes) : 1;
  const origin = x[0];
  let levels: number[] = [];
  let sigma = 0;
  const residual = (i: number): number => y[i] - slope * (x[i] - origin) - levels[groupOf(i)];
  for (let round = 0; round < 4; round++) {
    levels = Array.from({ length: groups }, (_, group) =>
      median(
        indices(n)
          .filter((i) => groupOf(i) === group)
          .map((i) => y[i] - slope * (x[i] - origin)),
      ),
    );
    sigma = madToSigma * median(indices(n).map((i) => Math.abs(residual(i))));
    if (round === 3) break;
    slope += slopeCorrection(x, residual, groupOf, groups, Math.max(sigma, 1e-6));
  }
  const atOrigin = levels[0];
  return { line: { origin, atOrigin, slope, sigma }, levels: levels.map((level) => level - atOrigin) };
}

/** Weighted least squares slope of the residuals, within groups. */
function slopeCorrection(
  x: ArrayLike<number>,
  residual: (i: number) => number,
  groupOf: (i: number) => number,
  groups: number,
  sigma: number,
): number {
  const n = x.length;
  const weight = indices(n).map((i) => {
    const u = residual(i) / (bisquareSigmas * sigma);
    return Math.abs(u) < 1 ? (1 - u * u) ** 2 : 0;
  });
  const sum = new Float64Array(groups);
  const sumX = new Float64Array(groups);
  const sumR = new Float64Array(groups);
  for (let i = 0; i < n; i++) {
    const g = groupOf(i);
    sum[g] += weight[i];
    sumX[g] += weight[i] * x[i];
    sumR[g] += weight[i] * residual(i);
  }
  let xx = 0;
  let xr = 0;
  for (let i = 0; i < n; i++) {
    const g = groupOf(i);
    if (sum[g] === 0) continue;
    const dx = x[i] - sumX[g] / sum[g];
    xx += weight[i] * dx * dx;
    xr += weight[i] * dx * (residual(i) - sumR[g] / sum[g]);
  }
  return xx > 0 ? xr / xx : 0;
}

function indices(n: number): number[] {
  return Array.from({ length: n }, (_, i) => i);
}

/**
 * The points before which a series steps by more than `least`: the medians of up to `side` points before and behind
 * differ by that much. Single outliers and fewer than five points on either side make no step.
 */
export function stepsIn(values: readonly number[], least: number, side = 9): number[] {
  const jump = values.map((_, i) =>
    i < 5 || values.length - i < 5
      ? 0
      : Math.abs(median(values.slice(i, i + side)) - median(values.slice(Math.max(0, i - side), i))),
  );
  const steps: number[] = [];
  const order = indices(values.length)
    .filter((i) => jump[i] > least)
    .sort((a, b) => jump[b] - jump[a]);
  for (const i of order) if (steps.every((step) => Math.abs(step - i) > side)) steps.push(i);
  return steps.map((step) => placeOfStep(values, step, side)).sort((a, b) => a - b);
}

/** Medians find a step to within half their length: its place is where two levels, before and behind, fit best. */
function placeOfStep(values: readonly number[], near: number, side: number): number {
  const from = Math.max(0, near - side);
  const to = Math.min(values.length, near + side);
  const misfit = (part: readonly number[]): number => {
    const level = median(part);
    return part.reduce((sum, value) => sum + Math.abs(value - level), 0);
  };
  let best = near;
  let least = Number.POSITIVE_INFINITY;
  for (let place = from + 2; place <= to - 2; place++) {
    const sum = misfit(values.slice(from, place)) + misfit(values.slice(place, to));
    if (sum < least) {
      least = sum;
      best = place;
    }
  }
  return best;
}
