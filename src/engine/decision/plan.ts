import type { AnalysedFlight } from '../compare/flight.ts';
import type { ComparisonResult } from '../compare/result.ts';
import { airAtField, windComponents } from '../corrections/index.ts';
import {
  conditionsSheet,
  type FlownConditions,
  missingConditions,
  type MissingCategory,
  type MissingCondition,
  testCard,
} from '../planning/index.ts';
import type { Spec } from '../spec/types.ts';

export interface PlanResult {
  readonly configuration: string;
  readonly days: readonly {
    readonly metric: string;
    readonly footing: string;
    readonly from: string;
    readonly to: string;
    readonly verdict: string;
    readonly detectablePercent?: number;
    readonly moreDays: number | null;
  }[];
  readonly conditions: readonly MissingCondition[];
  readonly categories: readonly MissingCategory[];
  /** Markdown. */
  readonly card: string;
  readonly sheet: string;
}

/** Conditions of each flight, one entry a flight, as far as they were noted. */
export function flownConditions(flights: readonly AnalysedFlight[]): readonly FlownConditions[] {
  return flights.flatMap(({ entry, day, analysis }): FlownConditions[] => {
    if (day === undefined) return [];
    const { runway, airTemperatureK, altimeterSettingPa, dewPointK, wind, takeoffMassKg } = entry.conditions;
    const air =
      runway?.elevationM === undefined || airTemperatureK === undefined || altimeterSettingPa === undefined
        ? undefined
        : airAtField({ elevationM: runway.elevationM, airTemperatureK, altimeterSettingPa, dewPointK });
    const heading = runway?.headingRad ?? analysis?.takeoffs[0]?.headingRad;
    return [
      {
        configuration: entry.configuration,
        day,
        densityAltitudeM: air?.densityAltitudeM.value,
        headwindMps:
          wind === undefined || heading === undefined
            ? undefined
            : windComponents(wind.fromRad, wind.speedMps, heading).headwindMps,
        massKg: takeoffMassKg?.value,
        surface: runway?.surface && surfaceWords(runway.surface),
        runway: runway?.name,
      },
    ];
  });
}

function surfaceWords(surface: { kind: string; wet: boolean; soft: boolean; long: boolean }): string {
  return [surface.wet && 'wet', surface.soft && 'soft', surface.long && 'long', surface.kind].filter(Boolean).join(' ');
}

/** What the next flights should bring, and the sheets to take along. */
export function evaluatePlan(
  spec: Spec,
  result: ComparisonResult | undefined,
  flights: readonly AnalysedFlight[],
): PlanResult | undefined {
  const plan = spec.decision?.plan;
  if (plan === undefined) return undefined;
  const configuration = plan.configuration ?? spec.configurations[spec.configurations.length - 1].id;
  const others = spec.configurations.map((one) => one.id).filter((id) => id !== spec.baseline);
  const flown = flownConditions(flights);
  const gaps = others.map((other) => missingConditions(flown, spec.baseline, other, plan.reversible ?? false));
  // Where the weight is what differs, weights that do not overlap are meant.
  const byWeight = spec.configurations.some(({ massKg }) => massKg !== undefined);
  const conditions = gaps.flatMap((gap) => gap.conditions).filter(({ kind }) => !(byWeight && kind === 'weight'));
  const categories = gaps.flatMap((gap) => gap.categories);
  const footing = spec.questions.at[0];
  const days = (result?.metrics ?? [])
    .filter((metric) => metric.conditions === footing || metric.conditions === 'as-flown')
    .flatMap((metric) =>
      metric.changes.map((change) => ({
        metric: metric.metric,
        footing: metric.conditions,
        from: change.from,
        to: change.to,
        verdict: change.verdict,
        detectablePercent: change.detectablePercent,
        moreDays: change.moreDays,
      })),
    )
    .filter(
      (row, index, all) =>
        row.footing !== 'as-flown' ||
        !all.some((other, at) => at !== index && other.metric === row.metric && other.footing === footing),
    );
  const metrics = spec.questions.ask.map((question) => question.metric);
  return {
    configuration,
    days,
    conditions,
    categories,
    card: testCard({
      title: spec.title,
      aircraft: spec.aircraft.name,
      configuration,
      metrics,
      units: spec.report.units,
      conditions,
      categories,
      days: days.filter((row) => row.from === configuration || row.to === configuration),
    }),
    sheet: conditionsSheet(spec.title),
  };
}
