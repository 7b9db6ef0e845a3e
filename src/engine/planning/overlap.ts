/**
 * Which conditions have to be flown so that before and after can be compared like with like.
 *
 * A correction that only moves results a little is nearly exact whatever its exponent; one that has to bridge a gap of
 * conditions carries the exponent's error whole (SFTE reference handbook, 2013, ch. 12: keep within about 10 %). So the
 * cheapest flight is the one that closes a gap.
 */
export type ConditionKind = 'density-altitude' | 'headwind' | 'weight';

export interface FlownConditions {
  readonly configuration: string;
  /** Day of the flight, `YYYY-MM-DD`. */
  readonly day: string;
  readonly densityAltitudeM?: number;
  readonly headwindMps?: number;
  readonly massKg?: number;
  readonly surface?: string;
  readonly runway?: string;
}

export interface ConditionSpan {
  readonly configuration: string;
  readonly days: number;
  readonly lowest: number;
  readonly highest: number;
}

export interface MissingCondition {
  readonly kind: ConditionKind;
  /** The configuration in which a flight under these conditions would help. */
  readonly configuration: string;
  /** SI: m, m/s, kg. */
  readonly from: number;
  readonly to: number;
  readonly spans: readonly ConditionSpan[];
}

export interface MissingCategory {
  readonly kind: 'surface' | 'runway';
  readonly configuration: string;
  /** What the other configuration was flown on and this one was not. */
  readonly value: string;
}

/** Smaller gaps than these are left to the corrections: 300 m (about 1,000 ft, 3 % of density), 2 m/s, 4 % of weight. */
const tolerated: Readonly<Record<ConditionKind, (middle: number) => number>> = {
  'density-altitude': () => 300,
  headwind: () => 2,
  weight: (middle) => 0.04 * middle,
};

const read: Readonly<Record<ConditionKind, (flight: FlownConditions) => number | undefined>> = {
  'density-altitude': (flight) => flight.densityAltitudeM,
  headwind: (flight) => flight.headwindMps,
  weight: (flight) => flight.massKg,
};

/**
 * Conditions that one configuration has seen and the other has not. For each kind the means by day are compared; where they
 * lie further apart than the corrections bridge easily, a flight of the second configuration in the first one's range is
 * asked for, and the other way round where that is still possible (`reversible`).
 */
export function missingConditions(
  flights: readonly FlownConditions[],
  baseline: string,
  other: string,
  reversible: boolean,
): { readonly conditions: readonly MissingCondition[]; readonly categories: readonly MissingCategory[] } {
  const conditions: MissingCondition[] = [];
  for (const kind of Object.keys(read) as ConditionKind[]) {
    const before = spanOf(flights, baseline, kind);
    const after = spanOf(flights, other, kind);
    if (before === undefined || after === undefined) continue;
    const gap = Math.abs(before.mean - after.mean);
    if (gap <= tolerated[kind]((before.mean + after.mean) / 2)) continue;
    const spans = [before.span, after.span];
    conditions.push({ kind, configuration: other, from: before.span.lowest, to: before.span.highest, spans });
    if (reversible) {
      conditions.push({ kind, configuration: baseline, from: after.span.lowest, to: after.span.highest, spans });
    }
  }
  const categories: MissingCategory[] = [];
  for (const kind of ['surface', 'runway'] as const) {
    const seen = (configuration: string) =>
      new Set(flights.flatMap((flight) => (flight.configuration === configuration ? (flight[kind] ?? []) : [])));
    const before = seen(baseline);
    const after = seen(other);
    for (const value of before) if (!after.has(value)) categories.push({ kind, configuration: other, value });
    if (reversible)
      for (const value of after) if (!before.has(value)) categories.push({ kind, configuration: baseline, value });
  }
  return { conditions, categories };
}

function spanOf(flights: readonly FlownConditions[], configuration: string, kind: ConditionKind) {
  const byDay = new Map<string, number[]>();
  for (const flight of flights) {
    const value = read[kind](flight);
    if (flight.configuration !== configuration || value === undefined) continue;
    byDay.set(flight.day, [...(byDay.get(flight.day) ?? []), value]);
  }
  if (byDay.size === 0) return undefined;
  const means = [...byDay.values()].map((values) => values.reduce((sum, value) => sum + value, 0) / values.length);
  const all = [...byDay.values()].flat();
  return {
    mean: means.reduce((sum, value) => sum + value, 0) / means.length,
    span: { configuration, days: byDay.size, lowest: Math.min(...all), highest: Math.max(...all) },
  };
}
