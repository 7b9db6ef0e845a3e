import { backwardSolve, cholesky, dot, forwardSolve, logDeterminant } from './cholesky.ts';

export interface GlsFit {
  readonly coefficients: Float64Array;
  readonly covariance: readonly Float64Array[];
  /** Weighted sum of squared residuals, `r' V^-1 r`. */
  readonly weightedSquares: number;
  /** Logarithm of the residual (restricted) likelihood, up to a constant. */
  readonly residualLogLikelihood: number;
  /** Row j: how coefficient j is made up of the values (a linear estimator). */
  readonly estimator: readonly Float64Array[];
}

/**
 * Best linear unbiased estimate with a known covariance V of the values: `(X' V^-1 X)^-1 X' V^-1 y`.
 *
 * What for: runs with different errors, some of them shared by a day or by all runs.
 * Where from: A. C. Aitken (1935); restricted likelihood of Patterson and Thompson (1971).
 * @param columns Columns of X.
 * @param wantEstimator Off where only the likelihood is wanted (it costs).
 * @returns undefined when V or X' V^-1 X is not positive definite.
 */
export function generalisedLeastSquares(
  y: ArrayLike<number>,
  columns: readonly ArrayLike<number>[],
  covariance: readonly Float64Array[],
  wantEstimator = true,
): GlsFit | undefined {
  const l = cholesky(covariance);
  if (l === undefined) return undefined;
  const whitened = columns.map((column) => forwardSolve(l, column));
  const whiteY = forwardSolve(l, y);
  const normal = whitened.map((a, i) => Float64Array.from({ length: i + 1 }, (_, j) => dot(a, whitened[j])));
  const ln = cholesky(normal);
  if (ln === undefined) return undefined;
  const coefficients = backwardSolve(
    ln,
    forwardSolve(
      ln,
      whitened.map((column) => dot(column, whiteY)),
    ),
  );
  const p = columns.length;
  const inverse = Array.from({ length: p }, (_, j) => {
    const unit = new Float64Array(p);
    unit[j] = 1;
    return backwardSolve(ln, forwardSolve(ln, unit));
  });
  const residual = Float64Array.from(whiteY);
  for (let j = 0; j < p; j++) {
    for (let i = 0; i < residual.length; i++) residual[i] -= coefficients[j] * whitened[j][i];
  }
  const weightedSquares = dot(residual, residual);
  const estimator = wantEstimator
    ? inverse.map((row) => {
        const combined = new Float64Array(y.length);
        row.forEach((share, j) => {
          for (let i = 0; i < combined.length; i++) combined[i] += share * whitened[j][i];
        });
        return backwardSolve(l, combined);
      })
    : [];
  return {
    coefficients,
    covariance: inverse,
    weightedSquares,
    residualLogLikelihood: -0.5 * (logDeterminant(l) + logDeterminant(ln) + weightedSquares),
    estimator,
  };
}
