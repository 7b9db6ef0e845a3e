/** Lower triangle of a symmetric matrix, row after row in one array: element (i, j), j <= i, is at i (i + 1) / 2 + j. */
export type Triangle = Float64Array;

/** Place of element (i, j), j <= i, in a {@link Triangle}. */
export function at(i: number, j: number): number {
  return (i * (i + 1)) / 2 + j;
}

/** A triangle of zeros for n rows. */
export function triangle(n: number): Triangle {
  return new Float64Array((n * (n + 1)) / 2);
}

/**
 * Factors a symmetric positive definite matrix in place: afterwards `a` holds L with `A = L L'`.
 * Own, because the models of a comparison factor thousands of small matrices (20 x 20) and need the determinant with them.
 * @returns logarithm of the determinant of A; undefined (and `a` spoilt) when A is not positive definite.
 */
export function choleskyInPlace(a: Triangle, n: number): number | undefined {
  let logDeterminant = 0;
  for (let i = 0; i < n; i++) {
    const row = (i * (i + 1)) / 2;
    for (let j = 0; j <= i; j++) {
      const other = (j * (j + 1)) / 2;
      let sum = a[row + j];
      for (let k = 0; k < j; k++) sum -= a[row + k] * a[other + k];
      if (j < i) a[row + j] = sum / a[other + j];
      else if (sum > 0) {
        a[row + i] = Math.sqrt(sum);
        logDeterminant += Math.log(sum);
      } else return undefined;
    }
  }
  return logDeterminant;
}

/** Solves `L z = b` in place. */
export function forwardSolve(l: Triangle, b: Float64Array): Float64Array {
  for (let i = 0, row = 0; i < b.length; i++, row += i) {
    let sum = b[i];
    for (let k = 0; k < i; k++) sum -= l[row + k] * b[k];
    b[i] = sum / l[row + i];
  }
  return b;
}

/** Solves `L' x = z` in place. */
export function backwardSolve(l: Triangle, z: Float64Array): Float64Array {
  for (let i = z.length - 1; i >= 0; i--) {
    const row = (i * (i + 1)) / 2;
    z[i] /= l[row + i];
    for (let k = 0; k < i; k++) z[k] -= l[row + k] * z[i];
  }
  return z;
}

/** Inner product. */
export function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}
