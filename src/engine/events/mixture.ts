import type { Interval } from '../../../shared/measured.ts';
import { normalCdf } from '../stats/normal.ts';

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
