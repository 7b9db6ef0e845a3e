import type { ComparisonResult } from '../compare/result.ts';
import type { MeasuredPerformance } from '../missions/index.ts';
import type { Spec } from '../spec/types.ts';
import { climbsSurely, predictedPerformance } from './candidate-performance.ts';
import { measuredSince, type PredictedAndMeasured, rowsOf } from './candidate-rows.ts';
import { type Candidate, spreadOf } from './candidate-spread.ts';
import type { EmptyState } from './empty.ts';

export type { PredictedAndMeasured } from './candidate-rows.ts';

export interface CandidateResult {
  readonly id: string;
  readonly description?: string;
  readonly price?: string;
  readonly from: string;
  readonly flown?: string;
  readonly emptyMassKg?: number;
  readonly cgM?: number;
  readonly usefulLoadKg?: number;
  readonly massChangeKg?: number;
  readonly rows: readonly PredictedAndMeasured[];
  /** The candidate as a performance, for the missions; wide, because predicted. */
  readonly performance?: MeasuredPerformance;
  readonly remarks: readonly string[];
}

/** Predicts every candidate of the spec from the measured configuration that it would change. */
export function evaluateCandidates(
  spec: Spec,
  states: readonly EmptyState[],
  performances: ReadonlyMap<string, MeasuredPerformance>,
  comparison: ComparisonResult | undefined,
): readonly CandidateResult[] | undefined {
  const { decision } = spec;
  if (decision?.candidates === undefined) return undefined;
  return Object.entries(decision.candidates).map(([id, candidate]): CandidateResult => {
    const state = states.find((one) => one.id === id && one.kind === 'candidate');
    const from = candidate.from ?? spec.baseline;
    const base = performances.get(from);
    const remarks = [...(state?.remarks ?? [])];
    const common = {
      id,
      description: candidate.description,
      price: candidate.price,
      from,
      flown: candidate.flown,
      emptyMassKg: state?.empty?.massKg,
      cgM: state?.empty?.cgM,
      usefulLoadKg: state?.change?.usefulLoadAfterKg,
      massChangeKg: state?.change?.massChangeKg,
    };
    const needs = whatIsMissing(spec, from, base);
    if (needs.length > 0 || base === undefined) {
      return {
        ...common,
        rows: [],
        remarks: [...remarks, `No prediction of performance without ${needs.join(', ')}.`],
      };
    }
    if (changesNothing(candidate, state?.change?.massChangeKg ?? 0)) {
      return {
        ...common,
        rows: [],
        performance: { ...base, configuration: id },
        remarks: [
          ...remarks,
          'Nothing is stated that would change the performance: no power, propeller, span, drag, lift, friction or weight.',
        ],
      };
    }
    const spread = spreadOf(spec, candidate, from, base, state?.change?.massChangeKg ?? 0);
    if (spread === undefined) {
      return {
        ...common,
        rows: [],
        remarks: [
          ...remarks,
          'No set of assumptions explains the measurements with the power, the diameter and the span given, or none flies with the change: check both.',
        ],
      };
    }
    if (spread.result.impossibleShare > 0.5)
      remarks.push('Most sets of assumptions contradict the measurements: check power, diameter, span and speeds.');
    if (spread.result.noFlightShare > 0.025)
      remarks.push(
        'With some of what has to be assumed it would not take off, or not hold level flight near the speed flown so far: what is shown stands for the rest.',
      );
    if (!climbsSurely(spread.result)) remarks.push('It may hardly climb at all: no range is worked out for it.');
    remarks.push(...spread.remarks);
    return {
      ...common,
      rows: rowsOf(spread, base, measuredSince(comparison, from, candidate.flown)),
      performance: predictedPerformance(id, spread.result, base, state, candidate, spread.powerRatio),
      remarks: [...remarks, 'A prediction, not a measurement.'],
    };
  });
}

function changesNothing(candidate: Candidate, massChangeKg: number): boolean {
  const performing = [
    'rated-power',
    'propeller',
    'propeller-diameter',
    'propeller-pitch',
    'wing-span',
    'drag',
    'lift',
    'rolling-friction',
    'fuel-flow',
  ] as const;
  return massChangeKg === 0 && performing.every((key) => candidate[key] === undefined);
}

function whatIsMissing(spec: Spec, from: string, base: MeasuredPerformance | undefined): string[] {
  const facts = spec.decision?.configurations[from];
  const missing: string[] = [];
  if (base?.takeoff === undefined) missing.push(`measured take-offs of "${from}"`);
  if (base?.climb === undefined) missing.push(`measured climbs of "${from}"`);
  if ((facts?.['rated-power'] ?? spec.aircraft.ratedPowerW) === undefined) missing.push('"rated-power"');
  if ((facts?.['propeller-diameter'] ?? spec.decision?.aircraft['propeller-diameter']) === undefined)
    missing.push('"propeller-diameter"');
  if (spec.aircraft.spanM === undefined) missing.push('"wing-span"');
  return missing;
}
