import { at as place, backwardSolve, choleskyInPlace, dot, forwardSolve, triangle } from '../stats/cholesky.ts';
import type { Velocity } from './wind-triangle.ts';

/** One ground velocity, flown at `airspeedRatio` times the airspeed of its group. */
export interface CirclePoint extends Velocity {
  /** Which of several airspeeds (power settings) flown in the one wind, from 0 without a break; default 0. */
  readonly group?: number;
  /** True airspeed of this point over the one to be found (another height: sqrt(sigma_ref/sigma)); default 1. */
  readonly airspeedRatio?: number;
}

export interface CircleFit {
  /** Where the air goes: the centre. */
  readonly air: Velocity;
  /** The radius; of the first group where there are several. */
  readonly trueAirspeedMps: number;
  /** One radius a group. */
  readonly trueAirspeedsMps: readonly number[];
  /** Of east, north, airspeeds, in this order, (m/s)^2. */
  readonly covariance: readonly (readonly number[])[];
  /** Of each point, |P - W| - ratio x TAS, m/s. */
  readonly residualsMps: readonly number[];
  readonly residualRmsMps: number;
  /** Sum of squared residuals, weighted with the covariance that was assumed. */
  readonly weightedSquares: number;
  /** Square root of the scale of the errors against the covariance that was assumed; without one, s = sqrt(SSE/(n - 3)), m/s. */
  readonly scale: number;
  /** For Student's t. */
  readonly degreesOfFreedom: number;
  /** 2 pi less the largest gap between the headings. */
  readonly headingSpreadRad: number;
}

export interface CircleErrors {
  /**
   * Covariance of the radial errors of points i and j, (m/s)^2, given their unit vectors of heading (east, north). Absent: independent and
   * equal, of unknown size.
   */
  readonly covariance?: (i: number, j: number, unitI: Velocity, unitJ: Velocity) => number;
  /**
   * How many independent observations the assumed covariance is worth as a guess of the size of the errors; default 0. The scale is then
   * (prior + weighted squares) / (prior + n - 3): with few points the guess rules, with many the residuals.
   */
  readonly priorDegrees?: number;
  /** The residuals may enlarge the assumed covariance but not shrink it: for errors that leave no residual. */
  readonly neverSmaller?: boolean;
}

/** Either the fit or, as a plain sentence, why there is none. */
export type CircleAnswer = { readonly fit: CircleFit } | { readonly refused: string };

/**
 * Wind and true airspeed from three or more ground velocities by geometric least squares: the circle nearest to their tips, min sum
 * (|P_i - W| - r_i TAS)^2, by Gauss-Newton from the algebraic circle (2 P.W + c = |P|^2). With a covariance of the errors it is generalised least
 * squares.
 *
 * Source: flight-test reference handbook (SFTE, 2013) ch. 4, "GPS methods", for the principle; W. Gander, G. Golub, R. Strebel, "Least-squares fitting of
 * circles and ellipses", BIT 34 (1994), for geometric against algebraic fit; covariance scale x (J' K^-1 J)^-1.
 *
 * Several airspeeds in one wind (one a power setting) are fitted at once when the points are in groups: then two opposite legs are enough for each further
 * airspeed.
 */
export function fitWindCircle(points: readonly CirclePoint[], errors: CircleErrors = {}): CircleAnswer {
  const n = points.length;
  const groups = 1 + Math.max(0, ...points.map(groupOf));
  const unknowns = 2 + groups;
  const prior = errors.priorDegrees ?? 0;
  if (n < unknowns) {
    return { refused: `${unknowns} ground velocities are needed to separate wind and airspeed, not ${n}.` };
  }
  const start = algebraicCircle(points);
  if (start === undefined)
    return { refused: 'The ground velocities lie on one line: wind and airspeed cannot be separated.' };
  let at = [start[0], start[1], ...Array.from({ length: groups }, () => start[2])];
  const poor = { refused: 'No wind and airspeed fit these ground velocities.' };
  let settled = false;
  for (let step = 0; step < 60 && !settled; step++) {
    const linear = linearise(points, errors, at);
    if (linear === undefined) return alike;
    // A step is never longer than a third of the airspeed, so that a poor start cannot run away.
    const length = Math.hypot(...linear.step);
    const damping = Math.min(1, at[2] / 3 / Math.max(length, 1e-12));
    at = at.map((value, k) => value + damping * linear.step[k]);
    if (!at.every((value, k) => Number.isFinite(value) && (k < 2 || value > 0))) return poor;
    settled = length < 1e-10 * at[2];
  }
  const last = linearise(points, errors, at);
  if (last === undefined) return alike;
  if (!settled) return poor;
  const degreesOfFreedom = prior + n - unknowns;
  const found = degreesOfFreedom > 0 ? (prior + last.weightedSquares) / degreesOfFreedom : Number.NaN;
  const square = errors.neverSmaller === true ? Math.max(1, found) : found;
  const { residuals } = last;
  return {
    fit: {
      air: { eastMps: at[0], northMps: at[1] },
      trueAirspeedMps: at[2],
      trueAirspeedsMps: at.slice(2),
      covariance: last.inverse.map((row) => row.map((value) => value * square)),
      residualsMps: residuals,
      residualRmsMps: Math.sqrt(dot(residuals, residuals) / n),
      weightedSquares: last.weightedSquares,
      scale: Math.sqrt(square),
      degreesOfFreedom,
      headingSpreadRad: spreadOf(last.headingsRad),
    },
  };
}

const alike = { refused: 'The headings are too alike: wind and airspeed cannot be separated.' };

function groupOf(point: CirclePoint): number {
  return point.group ?? 0;
}

interface Linearised {
  readonly step: readonly number[];
  readonly inverse: readonly (readonly number[])[];
  readonly weightedSquares: number;
  readonly residuals: readonly number[];
  readonly headingsRad: readonly number[];
}

function linearise(
  points: readonly CirclePoint[],
  errors: CircleErrors,
  at: readonly number[],
): Linearised | undefined {
  const n = points.length;
  const units: Velocity[] = [];
  const residuals: number[] = [];
  for (const point of points) {
    const throughEast = point.eastMps - at[0];
    const throughNorth = point.northMps - at[1];
    const length = Math.max(1e-9, Math.hypot(throughEast, throughNorth));
    units.push({ eastMps: throughEast / length, northMps: throughNorth / length });
    residuals.push(length - (point.airspeedRatio ?? 1) * at[2 + groupOf(point)]);
  }
  // d residual / d (east, north, airspeeds) = -(unit east, unit north, ratio of the own group, else 0).
  const columns = at.map((_, k) => {
    if (k === 0) return units.map((unit) => unit.eastMps);
    if (k === 1) return units.map((unit) => unit.northMps);
    return points.map((point) => (groupOf(point) === k - 2 ? (point.airspeedRatio ?? 1) : 0));
  });
  const headingsRad = units.map((unit) => Math.atan2(unit.eastMps, unit.northMps));
  const { covariance } = errors;
  const whitened = columns.map((column) => Float64Array.from(column));
  const white = Float64Array.from(residuals);
  if (covariance !== undefined) {
    const noise = triangle(n);
    for (let i = 0; i < n; i += 1)
      for (let j = 0; j <= i; j += 1) noise[place(i, j)] = covariance(i, j, units[i], units[j]);
    if (choleskyInPlace(noise, n) === undefined) return undefined;
    for (const column of [...whitened, white]) forwardSolve(noise, column);
  }
  const unknowns = columns.length;
  const normal = triangle(unknowns);
  for (let i = 0; i < unknowns; i += 1)
    for (let j = 0; j <= i; j += 1) normal[place(i, j)] = dot(whitened[i], whitened[j]);
  const diagonal = Array.from({ length: unknowns }, (_, k) => normal[place(k, k)]);
  // Near-singular: one combination of wind and airspeed is seen 1e-7 times as well as the others (headings within about 5 degrees).
  if (choleskyInPlace(normal, unknowns) === undefined) return undefined;
  if (diagonal.some((value, k) => normal[place(k, k)] ** 2 < 1e-7 * value)) return undefined;
  const solve = (right: Float64Array): number[] => Array.from(backwardSolve(normal, forwardSolve(normal, right)));
  return {
    step: solve(Float64Array.from(whitened, (column) => dot(column, white))),
    inverse: columns.map((_, k) => solve(Float64Array.from({ length: unknowns }, (_, i) => (i === k ? 1 : 0)))),
    weightedSquares: dot(white, white),
    residuals,
    headingsRad,
  };
}

/** The algebraic circle, by ordinary least squares on centred velocities. */
function algebraicCircle(points: readonly CirclePoint[]): [number, number, number] | undefined {
  const n = points.length;
  let meanEast = 0;
  let meanNorth = 0;
  for (const { eastMps, northMps } of points) {
    meanEast += eastMps / n;
    meanNorth += northMps / n;
  }
  let ee = 0;
  let nn = 0;
  let en = 0;
  let ez = 0;
  let nz = 0;
  let z = 0;
  let ratio = 0;
  for (const point of points) {
    const e = point.eastMps - meanEast;
    const m = point.northMps - meanNorth;
    const square = e * e + m * m;
    ee += e * e;
    nn += m * m;
    en += e * m;
    ez += e * square;
    nz += m * square;
    z += square / n;
    ratio += (point.airspeedRatio ?? 1) / n;
  }
  const determinant = ee * nn - en * en;
  if (!(determinant > 1e-10 * (ee + nn) ** 2)) return undefined;
  const east = (0.5 * (ez * nn - nz * en)) / determinant;
  const north = (0.5 * (nz * ee - ez * en)) / determinant;
  return [east + meanEast, north + meanNorth, Math.sqrt(z + east * east + north * north) / ratio];
}

/** A whole turn less the largest gap between directions. */
export function spreadOf(directionsRad: readonly number[]): number {
  const sorted = [...directionsRad].sort((a, b) => a - b);
  let gap = sorted.length === 0 ? 2 * Math.PI : sorted[0] + 2 * Math.PI - sorted[sorted.length - 1];
  for (let i = 1; i < sorted.length; i++) gap = Math.max(gap, sorted[i] - sorted[i - 1]);
  return 2 * Math.PI - gap;
}
