import { type ClimbShape, climbRuns } from './climb-runs.ts';
import type { CollectionRequest } from './flight-runs.ts';
import { fuelBurnRuns } from './fuel-burn-runs.ts';
import { landingRuns } from './landing-runs.ts';
import { levelRuns } from './level-runs.ts';
import type { MetricKind } from './metric-kind.ts';
import type { Collected } from './run.ts';
import { takeoffRuns } from './take-off-runs.ts';

/** Runs of the flights that a metric can use. */
export function collectRuns(kind: MetricKind, request: CollectionRequest): Collected & Partial<ClimbShape> {
  switch (kind.facts.name) {
    case 'rate-of-climb':
    case 'best-minute-climb':
    case 'climb-gradient':
    case 'climb-held-to':
    case 'service-ceiling':
      return climbRuns(request);
    case 'level-speed':
    case 'fuel-flow':
      return levelRuns(request);
    case 'landing-roll':
      return landingRuns(request);
    case 'fuel-burn':
      return fuelBurnRuns(request);
    case 'empty-weight':
      return { runs: [], leftOut: [] };
    default:
      return takeoffRuns(request);
  }
}
