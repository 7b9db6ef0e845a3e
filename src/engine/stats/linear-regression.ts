import { Matrix, QrDecomposition, solve } from 'ml-matrix';
import { studentCdf, studentQuantile } from './student.ts';

export interface Coefficient {
  readonly name: string;
  readonly value: number;
  readonly standardError: number;
  readonly t: number;
  /** Two-sided; NaN without degrees of freedom. */
  readonly pValue: number;
  readonly low: number;
  readonly high: number;
}

export interface RegressionFit {
  readonly determined: true;
  /** Intercept first when there is one, then in the order given. */
  readonly coefficients: readonly Coefficient[];
  /** Covariance of the coefficients, same order. */
  readonly covariance: readonly (readonly number[])[];
  /** Residual standard deviation (of a value of weight 1). */
  readonly residualDeviation: number;
  readonly df: number;
  readonly residuals: readonly number[];
  readonly fitted: readonly number[];
  readonly rSquared: number;
}

/** The data cannot tell the coefficients: with the reason as a sentence. */
export interface NotDetermined {
  readonly determined: false;
  readonly reason: string;
}

export interface Column {
  readonly name: string;
  readonly values: readonly number[];
}

export interface RegressionOptions {
  /** Default true. */
  readonly intercept?: boolean;
  /** Weights: inverse variances up to a common factor. */
  readonly weights?: readonly number[];
  readonly confidence?: number;
}

/** Ratio of the smallest to the largest diagonal element of R, of centred and scaled columns, below which they are taken as dependent. */
const rankTolerance = 1e-9;

/**
 * Least squares with any number of columns: coefficients with standard errors, by QR of centred and scaled columns.
 *
 * What for: rate of climb against density altitude; before/after with covariates.
 * Where from: Householder QR of ml-matrix; covariance `s^2 (R'R)^-1`. The rank is judged by the diagonal of R: the library's own
 * `isFullRank` calls an exactly doubled column full rank.
 * @throws RangeError when lengths differ.
 * @example linearRegression([1, 3, 5], [{ name: 'x', values: [0, 1, 2] }]) // intercept 1, x 2
 */
export function linearRegression(
  y: readonly number[],
  columns: readonly Column[],
  { intercept = true, weights, confidence = 0.95 }: RegressionOptions = {},
): RegressionFit | NotDetermined {
  const n = y.length;
  if (columns.some((column) => column.values.length !== n) || (weights !== undefined && weights.length !== n)) {
    throw new RangeError('All columns of a regression need the same length.');
  }
  const p = columns.length + (intercept ? 1 : 0);
  if (p === 0) throw new RangeError('A regression without intercept needs a column.');
  if (n < p) return { determined: false, reason: `${n} values cannot determine ${p} coefficients.` };
  const root = (i: number): number => Math.sqrt(weights?.[i] ?? 1);
  const weightOf = (i: number): number => weights?.[i] ?? 1;
  const totalWeight = y.reduce((sum, _, i) => sum + weightOf(i), 0);
  const centreOf = (values: readonly number[]): number =>
    intercept ? values.reduce((sum, value, i) => sum + weightOf(i) * value, 0) / totalWeight : 0;
  const centres = columns.map((column) => centreOf(column.values));
  const scales = columns.map((column, j) => {
    const square = column.values.reduce((sum, value, i) => sum + weightOf(i) * (value - centres[j]) ** 2, 0);
    return Math.sqrt(square / totalWeight) || 1;
  });
  const centreY = centreOf(y);
  const design = new Matrix(n, p);
  const wanted = new Matrix(n, 1);
  for (let i = 0; i < n; i++) {
    wanted.set(i, 0, root(i) * (y[i] - centreY));
    if (intercept) design.set(i, 0, root(i));
    columns.forEach((column, j) => {
      design.set(i, j + (intercept ? 1 : 0), (root(i) * (column.values[i] - centres[j])) / scales[j]);
    });
  }
  const qr = new QrDecomposition(design);
  const r = qr.upperTriangularMatrix;
  const diagonal = Array.from({ length: p }, (_, j) => Math.abs(r.get(j, j)));
  if (!(Math.min(...diagonal) > rankTolerance * Math.max(...diagonal))) {
    return { determined: false, reason: 'The columns depend on each other: their effects cannot be told apart.' };
  }
  const scaled = qr.solve(wanted);
  const inverseR = solve(r, Matrix.eye(p, p));
  const inner = inverseR.mmul(inverseR.transpose());

  // Back from centred and scaled columns: slope_j = scaled_j / scale_j, intercept = centre of y less the slopes' parts.
  const transform = Matrix.zeros(p, p);
  const first = intercept ? 1 : 0;
  if (intercept) transform.set(0, 0, 1);
  columns.forEach((_, j) => {
    transform.set(j + first, j + first, 1 / scales[j]);
    if (intercept) transform.set(0, j + first, -centres[j] / scales[j]);
  });
  const values = transform.mmul(scaled);
  if (intercept) values.set(0, 0, values.get(0, 0) + centreY);
  const fitted = y.map((_, i) => {
    let sum = intercept ? centreY + scaled.get(0, 0) : 0;
    columns.forEach((column, j) => {
      sum += (scaled.get(j + first, 0) * (column.values[i] - centres[j])) / scales[j];
    });
    return sum;
  });
  const residuals = y.map((value, i) => value - fitted[i]);
  const squares = residuals.reduce((sum, residual, i) => sum + weightOf(i) * residual * residual, 0);
  const df = n - p;
  const variance = df > 0 ? squares / df : Number.NaN;
  const covariance = transform.mmul(inner).mmul(transform.transpose()).mul(variance);
  const quantile = df > 0 ? studentQuantile(0.5 + confidence / 2, df) : Number.NaN;
  const names = [...(intercept ? ['intercept'] : []), ...columns.map((column) => column.name)];
  const totalSquares = y.reduce((sum, value, i) => sum + weightOf(i) * (value - centreY) ** 2, 0);
  return {
    determined: true,
    coefficients: names.map((name, j) => {
      const value = values.get(j, 0);
      const standardError = Math.sqrt(covariance.get(j, j));
      const t = value / standardError;
      return {
        name,
        value,
        standardError,
        t,
        pValue: df > 0 ? 2 * studentCdf(-Math.abs(t), df) : Number.NaN,
        low: value - quantile * standardError,
        high: value + quantile * standardError,
      };
    }),
    covariance: covariance.to2DArray(),
    residualDeviation: Math.sqrt(variance),
    df,
    residuals,
    fitted,
    rSquared: totalSquares > 0 ? 1 - squares / totalSquares : Number.NaN,
  };
}
