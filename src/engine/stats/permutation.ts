import type { RandomGenerator } from 'pure-rand/types/RandomGenerator';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

export interface PermutationResult {
  readonly method: 'exact' | 'sampled';
  /** Arrangements looked at (all of them when exact). */
  readonly arrangements: number;
  /** Arrangements at least as extreme as the observed one, in its direction and in both. */
  readonly oneSidedCount: number;
  readonly twoSidedCount: number;
  readonly oneSidedP: number;
  readonly twoSidedP: number;
}

export interface PermutationOptions {
  /** Up to this many arrangements all are looked at; beyond it as many random ones are drawn. Default 200,000. */
  readonly limit?: number;
  readonly seed?: number;
}

/** Ways to choose k of n. */
export function choose(n: number, k: number): number {
  let product = 1;
  for (let i = 1; i <= Math.min(k, n - k); i++) product = (product * (n - Math.min(k, n - k) + i)) / i;
  return Math.round(product);
}

function result(method: 'exact' | 'sampled', arrangements: number, one: number, two: number): PermutationResult {
  // A sampled test counts the observed arrangement among the draws, so that p is never 0 (Phipson and Smyth, 2010).
  const add = method === 'sampled' ? 1 : 0;
  return {
    method,
    arrangements,
    oneSidedCount: one,
    twoSidedCount: two,
    oneSidedP: (one + add) / (arrangements + add),
    twoSidedP: (two + add) / (arrangements + add),
  };
}

/**
 * Permutation test of the difference of two means: how many of all ways to deal out the labels give a difference at least as
 * large as the one seen? Assumes only that without an effect the labels are exchangeable, so it is used on day values.
 *
 * With few days it cannot reach small p at all: 3 + 3 days give 0.1 at best, 4 + 4 give 0.029.
 * Where from: R. A. Fisher, The Design of Experiments (1935); counts of the tests computed independently.
 * @throws RangeError for an empty group.
 * @example permuteLabels([1, 2], [3, 4]).twoSidedP // 1/3
 */
export function permuteLabels(
  x: readonly number[],
  y: readonly number[],
  { limit = 200_000, seed = 1 }: PermutationOptions = {},
): PermutationResult {
  if (x.length === 0 || y.length === 0) throw new RangeError('A permutation test needs a value in each group.');
  const all = [...x, ...y];
  const total = all.reduce((sum, value) => sum + value, 0);
  const n = all.length;
  const k = x.length;
  const differenceOf = (sumX: number): number => sumX / k - (total - sumX) / (n - k);
  const observed = differenceOf(x.reduce((sum, value) => sum + value, 0));
  const tolerance = 1e-10 * Math.max(...all.map(Math.abs), Number.MIN_VALUE);
  const direction = observed < 0 ? -1 : 1;
  let one = 0;
  let two = 0;
  const count = (sumX: number): void => {
    const difference = differenceOf(sumX);
    if (direction * difference >= Math.abs(observed) - tolerance) one++;
    if (Math.abs(difference) >= Math.abs(observed) - tolerance) two++;
  };
  const arrangements = choose(n, k);
  if (arrangements <= limit) {
    const deal = (from: number, left: number, sumX: number): void => {
      if (left === 0) return count(sumX);
      for (let i = from; i <= n - left; i++) deal(i + 1, left - 1, sumX + all[i]);
    };
    deal(0, k, 0);
    return result('exact', arrangements, one, two);
  }
  const random = xoroshiro128plus(seed);
  const deck = [...all];
  for (let draw = 0; draw < limit; draw++) {
    let sumX = 0;
    for (let i = 0; i < k; i++) {
      const j = uniformInt(random, i, n - 1);
      [deck[i], deck[j]] = [deck[j], deck[i]];
      sumX += deck[i];
    }
    count(sumX);
  }
  return result('sampled', limit, one, two);
}

/**
 * Permutation test of paired differences: all ways to turn the signs round.
 *
 * What for: days on which both configurations were flown.
 * Where from: R. A. Fisher, The Design of Experiments (1935).
 */
export function permuteSigns(
  differences: readonly number[],
  { limit = 200_000, seed = 1 }: PermutationOptions = {},
): PermutationResult {
  if (differences.length === 0) throw new RangeError('A permutation test needs a value.');
  const n = differences.length;
  const observed = differences.reduce((sum, value) => sum + value, 0);
  const tolerance = 1e-10 * differences.reduce((sum, value) => sum + Math.abs(value), Number.MIN_VALUE);
  const direction = observed < 0 ? -1 : 1;
  let one = 0;
  let two = 0;
  const count = (sum: number): void => {
    if (direction * sum >= Math.abs(observed) - tolerance) one++;
    if (Math.abs(sum) >= Math.abs(observed) - tolerance) two++;
  };
  if (n <= 30 && 2 ** n <= limit) {
    const turn = (i: number, sum: number): void => {
      if (i === n) return count(sum);
      turn(i + 1, sum + differences[i]);
      turn(i + 1, sum - differences[i]);
    };
    turn(0, 0);
    return result('exact', 2 ** n, one, two);
  }
  const random: RandomGenerator = xoroshiro128plus(seed);
  for (let draw = 0; draw < limit; draw++) {
    let sum = 0;
    for (const value of differences) sum += uniformInt(random, 0, 1) === 1 ? value : -value;
    count(sum);
  }
  return result('sampled', limit, one, two);
}
