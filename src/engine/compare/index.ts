export { compare } from './compare.ts';
export type { AnalysedFlight } from './flight.ts';
export { metricKind, type MetricKind } from './metric-kind.ts';
export type * from './result.ts';
export { type PairStanding, type Standing, standingOf, standingSentence, toldIds } from './standing.ts';
