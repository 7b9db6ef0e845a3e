import type { Interval } from '../../../shared/measured.ts';
import { normalCdf, normalDensity } from '../stats/normal.ts';

/** A mixture of normal distributions: the answer of a grid. */
export interface Part {
  readonly weight: number;
  readonly mean: number;
  readonly sigma: number;
}

export interface Spread extends Interval {
  readonly sigma: number;
}

/** Mean, standard deviation and the central 95 % of a mixture. Weights need not sum to 1. Parts with a `NaN` are left out. */
export function summarise(parts: readonly Part[]): Spread | undefined {
  const used = parts.filter((part) => part.weight > 0 && Number.isFinite(part.mean) && Number.isFinite(part.sigma));
  const total = used.reduce((sum, part) => sum + part.weight, 0);
  if (!(total > 0)) return undefined;
  const mean = used.reduce((sum, part) => sum + part.weight * part.mean, 0) / total;
  const variance =
    used.reduce((sum, part) => sum + part.weight * (part.sigma ** 2 + (part.mean - mean) ** 2), 0) / total;
  return {
    value: mean,
    sigma: Math.sqrt(variance),
    low: quantile(used, total, 0.025),
    high: quantile(used, total, 0.975),
  };
}

/**
 * The same for a quantity that cannot be below zero, a length or a lapse of time: each part is cut off at zero and keeps
 * the share of its weight that lies above (what is impossible says nothing). Moments of a normal distribution truncated
 * from below: Johnson, Kotz and Balakrishnan, Continuous Univariate Distributions 1, sec. 13.10.1. Parts all but wholly
 * below zero are left out; with nothing above, there is no answer.
 *
 * What zero has cut off below counts towards the 2.5 % left out there: with more than that cut off, the interval of 95 %
 * begins at zero, as the shortest one does (zero is then as likely as what lies next to it).
 */
export function summarisePositive(parts: readonly Part[]): Spread | undefined {
  const cut = parts.flatMap((part) => {
    if (!(part.weight > 0) || !Number.isFinite(part.mean) || !(part.sigma > 0)) return [];
    const zeroAt = -part.mean / part.sigma;
    const above = normalCdf(-zeroAt);
    if (!(above > leastAbove)) return [];
    const lambda = normalDensity(zeroAt) / above;
    return [
      {
        part,
        below: 1 - above,
        weight: part.weight * above,
        mean: part.mean + part.sigma * lambda,
        variance: part.sigma ** 2 * Math.max(0, 1 + zeroAt * lambda - lambda * lambda),
      },
    ];
  });
  const total = cut.reduce((sum, each) => sum + each.weight, 0);
  if (!(total > 0)) return undefined;
  const mean = cut.reduce((sum, each) => sum + each.weight * each.mean, 0) / total;
  const variance = cut.reduce((sum, each) => sum + each.weight * (each.variance + (each.mean - mean) ** 2), 0) / total;
  // Of the whole parts, the share below zero and then so much of what is above.
  const used = cut.map((each) => each.part);
  const whole = used.reduce((sum, part) => sum + part.weight, 0);
  const missing = cut.reduce((sum, each) => sum + each.part.weight * each.below, 0);
  const at = (share: number): number =>
    share <= 0 ? 0 : Math.max(0, quantile(used, whole, (missing + share * total) / whole));
  const lowest = Math.max(0, 0.025 - missing / whole);
  return { value: mean, sigma: Math.sqrt(variance), low: at(lowest), high: at(0.95 + lowest) };
}

/** A part with less of it above zero adds nothing that could be seen. */
const leastAbove = 1e-9;

function quantile(parts: readonly Part[], total: number, share: number): number {
  let low = Math.min(...parts.map((part) => part.mean - 8 * part.sigma));
  let high = Math.max(...parts.map((part) => part.mean + 8 * part.sigma));
  for (let step = 0; step < 60 && high - low > 1e-9 * (1 + Math.abs(high)); step += 1) {
    const middle = (low + high) / 2;
    let below = 0;
    for (const part of parts) below += part.weight * normalCdf((middle - part.mean) / Math.max(1e-9, part.sigma));
    if (below < share * total) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
