import { at, backwardSolve, choleskyInPlace, dot, forwardSolve, type Triangle, triangle } from './cholesky.ts';

export interface GlsFit {
  readonly coefficients: Float64Array;
  /** Full square matrix, row by row. */
  readonly covariance: readonly Float64Array[];
  /** Weighted sum of squared residuals, `r' V^-1 r`. */
  readonly weightedSquares: number;
  /** Logarithm of the residual (restricted) likelihood, up to a constant. */
  readonly residualLogLikelihood: number;
  /** Row j: how coefficient j is made up of the values (a linear estimator). Empty where not asked for. */
  readonly estimator: readonly Float64Array[];
}

/**
 * Best linear unbiased estimate with a known covariance V of the values: `(X' V^-1 X)^-1 X' V^-1 y`.
 *
 * What for: runs with different errors, some of them shared by a day or by all runs.
 * Where from: A. C. Aitken (1935); restricted likelihood of Patterson and Thompson (1971).
 * @param columns Columns of X.
 * @param covariance Lower triangle of V; it is overwritten.
 * @param wantEstimator Off where only the likelihood is wanted (it costs).
 * @returns undefined when V or X' V^-1 X is not positive definite.
 */
export function generalisedLeastSquares(
  y: ArrayLike<number>,
  columns: readonly ArrayLike<number>[],
  covariance: Triangle,
  wantEstimator = true,
): GlsFit | undefined {
  const n = y.length;
  const p = columns.length;
  const logDeterminant = choleskyInPlace(covariance, n);
  if (logDeterminant === undefined) return undefined;
  const l = covariance;
  const whitened = columns.map((column) => forwardSolve(l, Float64Array.from(column)));
  const residual = forwardSolve(l, Float64Array.from(y));
  const normal = triangle(p);
  for (let i = 0; i < p; i++) for (let j = 0; j <= i; j++) normal[at(i, j)] = dot(whitened[i], whitened[j]);
  const logNormal = choleskyInPlace(normal, p);
  if (logNormal === undefined) return undefined;
  const coefficients = Float64Array.from(whitened, (column) => dot(column, residual));
  backwardSolve(normal, forwardSolve(normal, coefficients));
  const inverse = columns.map((_, j) => {
    const unit = new Float64Array(p);
    unit[j] = 1;
    return backwardSolve(normal, forwardSolve(normal, unit));
  });
  for (let j = 0; j < p; j++) {
    const column = whitened[j];
    for (let i = 0; i < n; i++) residual[i] -= coefficients[j] * column[i];
  }
  const weightedSquares = dot(residual, residual);
  const estimator = wantEstimator
    ? inverse.map((row) => {
        const combined = new Float64Array(n);
        row.forEach((share, j) => {
          for (let i = 0; i < n; i++) combined[i] += share * whitened[j][i];
        });
        return backwardSolve(l, combined);
      })
    : [];
  return {
    coefficients,
    covariance: inverse,
    weightedSquares,
    residualLogLikelihood: -0.5 * (logDeterminant + logNormal + weightedSquares),
    estimator,
  };
}
