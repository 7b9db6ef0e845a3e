/** Sums up how measured values with intervals compare with the truth. */
export interface Observation {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly truth: number;
}

export interface Summary {
  readonly n: number;
  readonly bias: number;
  readonly rms: number;
  /** Of the errors as fractions of the truth. */
  readonly biasRelative: number;
  readonly rmsRelative: number;
  /** Median of the absolute errors: not moved by a few wild ones. */
  readonly medianAbsolute: number;
  /** Share of intervals that hold the truth, with its own 95 % interval. */
  readonly coverage: number;
  readonly coverageLow: number;
  readonly coverageHigh: number;
  readonly meanHalfWidth: number;
  readonly worst: number;
}

export function summarise(observations: readonly Observation[]): Summary {
  const n = observations.length;
  const errors = observations.map(({ value, truth }) => value - truth);
  const relative = observations.map(({ value, truth }) => (value - truth) / truth);
  const held = observations.filter(({ low, high, truth }) => low <= truth && truth <= high).length;
  const [coverageLow, coverageHigh] = binomialInterval(held, n);
  const sorted = errors.map(Math.abs).sort((a, b) => a - b);
  return {
    n,
    bias: mean(errors),
    rms: Math.sqrt(mean(errors.map((error) => error * error))),
    biasRelative: mean(relative),
    rmsRelative: Math.sqrt(mean(relative.map((error) => error * error))),
    medianAbsolute: sorted.length > 0 ? sorted[Math.floor((sorted.length - 1) / 2)] : Number.NaN,
    coverage: n > 0 ? held / n : Number.NaN,
    coverageLow,
    coverageHigh,
    meanHalfWidth: mean(observations.map(({ low, high }) => (high - low) / 2)),
    worst: sorted.length > 0 ? sorted[sorted.length - 1] : Number.NaN,
  };
}

export function mean(values: readonly number[]): number {
  return values.length > 0 ? values.reduce((sum, value) => sum + value, 0) / values.length : Number.NaN;
}

/** Wilson's score interval of a share, 95 % (E. B. Wilson, 1927; formula from memory). */
export function binomialInterval(successes: number, n: number): [low: number, high: number] {
  if (n === 0) return [0, 1];
  const z = 1.959964;
  const share = successes / n;
  const centre = (share + (z * z) / (2 * n)) / (1 + (z * z) / n);
  const half = (z * Math.sqrt((share * (1 - share)) / n + (z * z) / (4 * n * n))) / (1 + (z * z) / n);
  // At the ends the exact limits are 0 and 1; rounding must not exclude them.
  return [successes === 0 ? 0 : Math.max(0, centre - half), successes === n ? 1 : Math.min(1, centre + half)];
}

/** Found, missed and invented events of one kind. */
export interface Counts {
  found: number;
  missed: number;
  invented: number;
}

/** Observations and counts by metric and by kind of recording. */
export class Tally {
  readonly observations = new Map<string, Map<string, Observation[]>>();
  readonly counts = new Map<string, Map<string, Counts>>();
  readonly notes: string[] = [];

  add(metric: string, group: string, observation: Observation | undefined): void {
    if (!observation || !Number.isFinite(observation.value) || !Number.isFinite(observation.truth)) return;
    const groups = this.observations.get(metric) ?? new Map<string, Observation[]>();
    this.observations.set(metric, groups);
    const list = groups.get(group) ?? [];
    groups.set(group, list);
    list.push(observation);
  }

  count(event: string, group: string, what: keyof Counts, by = 1): void {
    const groups = this.counts.get(event) ?? new Map<string, Counts>();
    this.counts.set(event, groups);
    const counts = groups.get(group) ?? { found: 0, missed: 0, invented: 0 };
    groups.set(group, counts);
    counts[what] += by;
  }

  /** All observations of a metric, over the groups that pass. */
  of(metric: string, passes: (group: string) => boolean = () => true): Observation[] {
    return [...(this.observations.get(metric) ?? [])].filter(([group]) => passes(group)).flatMap(([, list]) => list);
  }

  total(event: string): Counts {
    const sum = { found: 0, missed: 0, invented: 0 };
    for (const counts of this.counts.get(event)?.values() ?? []) {
      sum.found += counts.found;
      sum.missed += counts.missed;
      sum.invented += counts.invented;
    }
    return sum;
  }
}
