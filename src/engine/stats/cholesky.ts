/**
 * Lower triangle L of a symmetric positive definite matrix, `A = L L'`; only the lower part of `a` is read.
 * Own, because the models of a comparison factor thousands of small matrices (20 x 20) and need the logarithm of the determinant with them.
 * @returns undefined when the matrix is not positive definite.
 */
export function cholesky(a: readonly Float64Array[]): Float64Array[] | undefined {
  const n = a.length;
  const l: Float64Array[] = [];
  for (let i = 0; i < n; i++) {
    const row = new Float64Array(i + 1);
    const source = a[i];
    for (let j = 0; j <= i; j++) {
      let sum = source[j];
      const other = j === i ? row : l[j];
      for (let k = 0; k < j; k++) sum -= row[k] * other[k];
      if (j < i) row[j] = sum / other[j];
      else if (sum > 0) row[i] = Math.sqrt(sum);
      else return undefined;
    }
    l.push(row);
  }
  return l;
}

/** `ln det A` of the matrix that gave L. */
export function logDeterminant(l: readonly Float64Array[]): number {
  let sum = 0;
  l.forEach((row, i) => {
    sum += Math.log(row[i]);
  });
  return 2 * sum;
}

/** Solves `L z = b`. */
export function forwardSolve(l: readonly Float64Array[], b: ArrayLike<number>): Float64Array {
  const z = new Float64Array(l.length);
  for (let i = 0; i < l.length; i++) {
    const row = l[i];
    let sum = b[i];
    for (let k = 0; k < i; k++) sum -= row[k] * z[k];
    z[i] = sum / row[i];
  }
  return z;
}

/** Solves `L' x = z`. */
export function backwardSolve(l: readonly Float64Array[], z: ArrayLike<number>): Float64Array {
  const n = l.length;
  const x = Float64Array.from(z);
  for (let i = n - 1; i >= 0; i--) {
    x[i] /= l[i][i];
    for (let k = 0; k < i; k++) x[k] -= l[i][k] * x[i];
  }
  return x;
}

/** Inner product. */
export function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}
