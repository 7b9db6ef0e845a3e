/**
 * Linear models with Gaussian noise and Gaussian priors: `y = C p + e`, `e ~ N(0, V)`, `p ~ N(m, diag(s^2))`. Small and
 * dense, laid out for many solutions that share most of their columns (one per point of a grid of the nonlinear
 * parameters). Formulas: any text on Bayesian linear regression, e.g. Gelman et al., Bayesian Data Analysis, ch. 14.
 */
export class Whitener {
  /** Lower Cholesky factor, row by row. */
  private readonly factor: Float64Array;
  readonly size: number;
  /** log det V. */
  readonly logDeterminant: number;

  /** @param covariance symmetric positive definite, `size * size`, row by row; overwritten. Throws when it is not. */
  constructor(covariance: Float64Array, size: number) {
    this.size = size;
    this.factor = covariance;
    let logDeterminant = 0;
    for (let column = 0; column < size; column += 1) {
      const start = column * size;
      let diagonal = covariance[start + column];
      for (let k = 0; k < column; k += 1) diagonal -= covariance[start + k] * covariance[start + k];
      if (!(diagonal > 0)) throw new Error('The covariance is not positive definite.');
      const root = Math.sqrt(diagonal);
      covariance[start + column] = root;
      logDeterminant += 2 * Math.log(root);
      for (let row = column + 1; row < size; row += 1) {
        const at = row * size;
        let sum = covariance[at + column];
        for (let k = 0; k < column; k += 1) sum -= covariance[at + k] * covariance[start + k];
        covariance[at + column] = sum / root;
      }
    }
    this.logDeterminant = logDeterminant;
  }

  /** Solves `L x = values` in place: afterwards the noise of the values is white with unit variance. */
  whiten(values: Float64Array): Float64Array {
    const { factor, size } = this;
    for (let row = 0; row < size; row += 1) {
      const at = row * size;
      let sum = values[row];
      for (let k = 0; k < row; k += 1) sum -= factor[at + k] * values[k];
      values[row] = sum / factor[at + row];
    }
    return values;
  }
}

export interface Prior {
  readonly mean: number;
  readonly sigma: number;
}

export interface Solution {
  readonly mean: Float64Array;
  /** `size * size`, row by row. */
  readonly covariance: Float64Array;
  /** Log of the probability of the data with the linear parameters integrated out, up to a constant of the data. */
  readonly logEvidence: number;
  /** Squared length of the whitened residual at the posterior mean, without the prior's part. */
  readonly chiSquare: number;
}

/** Inner products of whitened columns and values: what a solution needs. */
export interface NormalEquations {
  /** `size * size`. */
  readonly gram: Float64Array;
  readonly right: Float64Array;
  readonly square: number;
}

export function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let index = 0; index < a.length; index += 1) sum += a[index] * b[index];
  return sum;
}

/** Cholesky factor of the posterior precision, the right-hand side, and the logs and squares of the prior. */
interface Factored {
  readonly factor: Float64Array;
  readonly right: Float64Array;
  readonly logDeterminant: number;
  readonly logPrior: number;
  readonly priorSquare: number;
}

function factored(normal: NormalEquations, priors: readonly Prior[]): Factored | undefined {
  const size = priors.length;
  const factor = normal.gram.slice();
  const right = normal.right.slice();
  let priorSquare = 0;
  let logPrior = 0;
  for (let index = 0; index < size; index += 1) {
    const { mean, sigma } = priors[index];
    const precision = 1 / (sigma * sigma);
    factor[index * size + index] += precision;
    right[index] += mean * precision;
    priorSquare += mean * mean * precision;
    logPrior += 2 * Math.log(sigma);
  }
  let logDeterminant = 0;
  for (let column = 0; column < size; column += 1) {
    const start = column * size;
    let diagonal = factor[start + column];
    for (let k = 0; k < column; k += 1) diagonal -= factor[start + k] ** 2;
    if (!(diagonal > 0)) return undefined;
    const root = Math.sqrt(diagonal);
    factor[start + column] = root;
    logDeterminant += 2 * Math.log(root);
    for (let row = column + 1; row < size; row += 1) {
      const at = row * size;
      let sum = factor[at + column];
      for (let k = 0; k < column; k += 1) sum -= factor[at + k] * factor[start + k];
      factor[at + column] = sum / root;
    }
  }
  return { factor, right, logDeterminant, logPrior, priorSquare };
}

/** Only the evidence of {@link solve}, several times faster. `-Infinity` when the equations are singular. */
export function logEvidence(normal: NormalEquations, priors: readonly Prior[]): number {
  const found = factored(normal, priors);
  if (found === undefined) return Number.NEGATIVE_INFINITY;
  const { factor, right } = found;
  const size = priors.length;
  let explained = 0;
  for (let row = 0; row < size; row += 1) {
    const at = row * size;
    let sum = right[row];
    for (let k = 0; k < row; k += 1) sum -= factor[at + k] * right[k];
    right[row] = sum / factor[at + row];
    explained += right[row] ** 2;
  }
  return -0.5 * (normal.square + found.priorSquare - explained + found.logDeterminant + found.logPrior);
}

/** Posterior of the linear parameters. `undefined` when the normal equations are singular (a prior prevents that). */
export function solve(normal: NormalEquations, priors: readonly Prior[]): Solution | undefined {
  const found = factored(normal, priors);
  if (found === undefined) return undefined;
  const { factor, right, logDeterminant, logPrior, priorSquare } = found;
  const size = priors.length;
  // Inverse of the lower factor, then covariance = inverse' * inverse.
  const inverse = new Float64Array(size * size);
  for (let column = 0; column < size; column += 1) {
    inverse[column * size + column] = 1 / factor[column * size + column];
    for (let row = column + 1; row < size; row += 1) {
      let sum = 0;
      for (let k = column; k < row; k += 1) sum -= factor[row * size + k] * inverse[k * size + column];
      inverse[row * size + column] = sum / factor[row * size + row];
    }
  }
  const covariance = new Float64Array(size * size);
  for (let a = 0; a < size; a += 1) {
    for (let b = 0; b <= a; b += 1) {
      let sum = 0;
      for (let k = a; k < size; k += 1) sum += inverse[k * size + a] * inverse[k * size + b];
      covariance[a * size + b] = sum;
      covariance[b * size + a] = sum;
    }
  }
  const mean = new Float64Array(size);
  let explained = 0;
  for (let a = 0; a < size; a += 1) {
    let sum = 0;
    for (let b = 0; b < size; b += 1) sum += covariance[a * size + b] * right[b];
    mean[a] = sum;
    explained += sum * right[a];
  }
  const totalSquare = normal.square + priorSquare - explained;
  let fitted = 0;
  for (let a = 0; a < size; a += 1) {
    let sum = 0;
    for (let b = 0; b < size; b += 1) sum += normal.gram[a * size + b] * mean[b];
    fitted += mean[a] * (sum - 2 * normal.right[a]);
  }
  return {
    mean,
    covariance,
    logEvidence: -0.5 * (totalSquare + logDeterminant + logPrior),
    chiSquare: normal.square + fitted,
  };
}
