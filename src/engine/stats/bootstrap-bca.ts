import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import type { Interval } from '../../../shared/measured.ts';
import { normalCdf, normalQuantile } from './normal.ts';

export interface BootstrapOptions {
  readonly seed: number;
  /** Default 4,000. */
  readonly resamples?: number;
  readonly confidence?: number;
}

export interface BootstrapInterval extends Interval {
  /** Bias correction and acceleration. */
  readonly z0: number;
  readonly acceleration: number;
  /** Present when a group has fewer than 8 values: such intervals are too short. */
  readonly remark?: string;
}

/**
 * Bias-corrected and accelerated bootstrap interval of any statistic of one or more independent groups: values are drawn with
 * replacement within each group.
 *
 * What for: asymmetric statistics (medians, ratios). Needs about 8 values in each group; below that it says so.
 * Where from: B. Efron, "Better bootstrap confidence intervals" (1987); acceleration from the jackknife, over several groups as in Davison and
 * Hinkley, Bootstrap Methods and their Application, ch. 5 (from memory).
 * @param statistic Must not keep or change the arrays it is given.
 * @throws RangeError for a group of fewer than two values.
 */
export function bootstrapBca(
  groups: readonly (readonly number[])[],
  statistic: (groups: readonly (readonly number[])[]) => number,
  { seed, resamples = 4000, confidence = 0.95 }: BootstrapOptions,
): BootstrapInterval {
  if (groups.length === 0 || groups.some((group) => group.length < 2)) {
    throw new RangeError('A bootstrap needs at least two values in each group.');
  }
  const value = statistic(groups);
  const random = xoroshiro128plus(seed);
  const drawn = groups.map((group) => [...group]);
  const replicates = new Float64Array(resamples);
  for (let k = 0; k < resamples; k++) {
    groups.forEach((group, g) => {
      for (let i = 0; i < group.length; i++) drawn[g][i] = group[uniformInt(random, 0, group.length - 1)];
    });
    replicates[k] = statistic(drawn);
  }
  replicates.sort();
  const below = replicates.reduce(
    (count, replicate) => count + (replicate < value ? 1 : replicate === value ? 0.5 : 0),
    0,
  );
  const z0 = normalQuantile(Math.min(1 - 0.5 / resamples, Math.max(0.5 / resamples, below / resamples)));
  const acceleration = jackknifeAcceleration(groups, statistic);
  const at = (p: number): number => {
    const z = z0 + normalQuantile(p);
    return quantileSorted(replicates, normalCdf(z0 + z / (1 - acceleration * z)));
  };
  const small = groups.some((group) => group.length < 8);
  return {
    value,
    low: at((1 - confidence) / 2),
    high: at((1 + confidence) / 2),
    z0,
    acceleration,
    ...(small ? { remark: 'Fewer than 8 values in a group: a bootstrap interval is then too short.' } : {}),
  };
}

function jackknifeAcceleration(
  groups: readonly (readonly number[])[],
  statistic: (groups: readonly (readonly number[])[]) => number,
): number {
  let cubes = 0;
  let squares = 0;
  groups.forEach((group, g) => {
    const without = group.map((_, i) =>
      statistic(groups.map((other, h) => (h === g ? other.filter((_, j) => j !== i) : other))),
    );
    const centre = without.reduce((sum, value) => sum + value, 0) / group.length;
    for (const value of without) {
      const influence = (group.length - 1) * (centre - value);
      cubes += (influence / group.length) ** 3;
      squares += (influence / group.length) ** 2;
    }
  });
  return squares > 0 ? cubes / (6 * squares ** 1.5) : 0;
}

/** Quantile of sorted values by linear interpolation between order statistics. */
export function quantileSorted(sorted: ArrayLike<number>, p: number): number {
  const place = Math.min(1, Math.max(0, p)) * (sorted.length - 1);
  const below = Math.floor(place);
  const above = Math.min(sorted.length - 1, below + 1);
  return sorted[below] + (place - below) * (sorted[above] - sorted[below]);
}
