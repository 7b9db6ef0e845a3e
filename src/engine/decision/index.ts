import type { AnalysedFlight } from '../compare/flight.ts';
import type { ComparisonResult } from '../compare/result.ts';
import type { MissionAnswer } from '../missions/index.ts';
import type { Spec } from '../spec/types.ts';
import { type CandidateResult, evaluateCandidates } from './candidates.ts';
import { emptyStates } from './empty.ts';
import { evaluateLoading, type LoadingResult } from './loading.ts';
import { evaluateMissions } from './missions.ts';
import { measuredPerformance } from './performance.ts';
import { evaluatePlan, type PlanResult } from './plan.ts';
import { evaluateRange, type RangeSection } from './range.ts';

export type { CandidateResult, PredictedAndMeasured } from './candidates.ts';
export type { EmptyState } from './empty.ts';
export type { LoadingResult, LoadingStateResult } from './loading.ts';
export type { PlanResult } from './plan.ts';
export type { RangeRow, RangeSection } from './range.ts';

/** The half of the job around the flights; each part is present where the spec asks for it. */
export interface DecisionResult {
  readonly loading?: LoadingResult;
  readonly range?: RangeSection;
  readonly candidates?: readonly CandidateResult[];
  /** Every need for every configuration flown, then for every candidate that could be predicted. */
  readonly missions?: readonly (MissionAnswer & { readonly predicted: boolean })[];
  readonly plan?: PlanResult;
}

/**
 * Works out loading, range, candidates, missions and the next flight from the spec and, where there are flights, from what
 * they measured.
 *
 * @param result of the comparison; undefined where there are no flights yet
 */
export function decide(
  spec: Spec,
  result: ComparisonResult | undefined,
  flights: readonly AnalysedFlight[],
): DecisionResult {
  const sections = spec.decision;
  if (sections === undefined) return {};
  const states = emptyStates(sections);
  const performances = states
    .filter((state) => state.kind === 'configuration')
    .map((state) => measuredPerformance(spec, result, flights, state));
  const candidates = evaluateCandidates(
    spec,
    states,
    new Map(performances.map((performance) => [performance.configuration, performance])),
    result,
  );
  const predicted = (candidates ?? []).flatMap((candidate) => candidate.performance ?? []);
  const measured = evaluateMissions(sections, performances)?.map((answer) => ({ ...answer, predicted: false }));
  const onPaper = evaluateMissions(sections, predicted)?.map((answer) => ({ ...answer, predicted: true }));
  return {
    loading: evaluateLoading(sections),
    range: evaluateRange(sections, performances),
    candidates,
    missions: measured && [...measured, ...(onPaper ?? [])],
    plan: evaluatePlan(spec, result, flights),
  };
}
