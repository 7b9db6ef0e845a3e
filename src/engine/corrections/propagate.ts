import { rootSumSquare, type Uncertain } from './uncertain.ts';

export interface Propagated<Source extends string> {
  readonly value: number;
  /** What one standard deviation of each input adds to the value, signed, in the unit of the value. */
  readonly shifts: Readonly<Record<Source, number>>;
  /** Root of the sum of squares of the shifts: the inputs are taken as independent of each other. */
  readonly sigma: number;
}

/**
 * Carries the standard deviations of independent inputs through a function by half the difference of the function one standard
 * deviation up and down: exact for linear functions, and it sees the curvature that a derivative would miss.
 *
 * The shifts are signed, so that the same source in two corrections (the one noted wind in ground roll and air distance) can be added
 * before squaring. A shift that leaves the function's domain (`NaN`) is replaced by twice the one-sided difference that stays inside.
 */
export function propagate<Source extends string>(
  inputs: Readonly<Record<Source, Uncertain>>,
  f: (values: Readonly<Record<Source, number>>) => number,
): Propagated<Source> {
  const sources = Object.keys(inputs) as Source[];
  const values = Object.fromEntries(sources.map((source) => [source, inputs[source].value])) as Record<Source, number>;
  const value = f(values);
  const shifts = {} as Record<Source, number>;
  for (const source of sources) {
    const { value: centre, sigma } = inputs[source];
    const up = f({ ...values, [source]: centre + sigma });
    const down = f({ ...values, [source]: centre - sigma });
    shifts[source] = Number.isNaN(down) ? up - value : Number.isNaN(up) ? value - down : (up - down) / 2;
  }
  return { value, shifts, sigma: rootSumSquare(Object.values<number>(shifts)) };
}
