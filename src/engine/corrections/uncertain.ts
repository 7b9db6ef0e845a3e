/** A quantity with its standard deviation, in the SI unit that the name of its field states. `Noted` of a spec is one. */
export interface Uncertain {
  readonly value: number;
  readonly sigma: number;
}

/** Shorthand for a quantity with its standard deviation. */
export function uncertain(value: number, sigma: number): Uncertain {
  return { value, sigma };
}

/** Root of the sum of squares. */
export function rootSumSquare(values: Iterable<number>): number {
  let sum = 0;
  for (const value of values) sum += value * value;
  return Math.sqrt(sum);
}
