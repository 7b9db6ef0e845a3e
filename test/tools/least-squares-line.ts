/** The ordinary least squares line by the textbook formula, to compare with. */
export function leastSquaresLine(x: readonly number[], y: readonly number[]): { slope: number; intercept: number } {
  const meanX = x.reduce((sum, value) => sum + value, 0) / x.length;
  const meanY = y.reduce((sum, value) => sum + value, 0) / y.length;
  let [xx, xy] = [0, 0];
  for (const [i, value] of x.entries()) {
    xx += (value - meanX) ** 2;
    xy += (value - meanX) * (y[i] - meanY);
  }
  return { slope: xy / xx, intercept: meanY - (xy / xx) * meanX };
}
