import type { LeftOut } from './result.ts';
import type { AnalysedFlight } from './flight.ts';
import type { Spec } from '../spec/types.ts';
import type { Question } from '../spec/types.ts';

/** What a collector of runs gets. */
export interface CollectionRequest {
  readonly spec: Spec;
  readonly question: Question;
  /** Only flights with an analysis, a known day and a known configuration. */
  readonly flights: readonly UsableFlight[];
}

export interface UsableFlight extends AnalysedFlight {
  readonly analysis: NonNullable<AnalysedFlight['analysis']>;
  readonly day: string;
}

/** Makes the entries of what was left out by the engine, for one metric. */
export function leftOutList(metric: string): {
  readonly entries: LeftOut[];
  readonly add: (file: string, number: number | undefined, reason: string) => void;
} {
  const entries: LeftOut[] = [];
  return {
    entries,
    add: (file, number, reason) => {
      entries.push({ file, metric, ...(number === undefined ? {} : { number }), reason, by: 'engine' });
    },
  };
}
