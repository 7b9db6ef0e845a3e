/**
 * Holm's adjustment of p-values: keeps the chance of any false finding among all questions at the level asked.
 *
 * What for: a report with several outcomes. Missing values (NaN) are left out and stay NaN.
 * Where from: S. Holm (1979).
 * @example holm([0.01, 0.04, 0.03]) // [0.03, 0.06, 0.06]
 */
export function holm(pValues: readonly number[]): number[] {
  const order = ascending(pValues);
  const adjusted = pValues.map(() => Number.NaN);
  let highest = 0;
  order.forEach((index, rank) => {
    highest = Math.max(highest, Math.min(1, (order.length - rank) * pValues[index]));
    adjusted[index] = highest;
  });
  return adjusted;
}

/**
 * Benjamini and Hochberg's adjustment: keeps the expected share of false findings among those reported at the level asked.
 *
 * What for: exploring, where Holm would be too strict. Missing values (NaN) are left out and stay NaN.
 * Where from: Y. Benjamini and Y. Hochberg (1995).
 * @example benjaminiHochberg([0.01, 0.04, 0.03]) // [0.03, 0.04, 0.04]
 */
export function benjaminiHochberg(pValues: readonly number[]): number[] {
  const order = ascending(pValues);
  const adjusted = pValues.map(() => Number.NaN);
  let lowest = 1;
  for (let rank = order.length - 1; rank >= 0; rank--) {
    lowest = Math.min(lowest, (order.length / (rank + 1)) * pValues[order[rank]]);
    adjusted[order[rank]] = lowest;
  }
  return adjusted;
}

function ascending(pValues: readonly number[]): number[] {
  return pValues
    .map((_, index) => index)
    .filter((index) => !Number.isNaN(pValues[index]))
    .sort((a, b) => pValues[a] - pValues[b]);
}
