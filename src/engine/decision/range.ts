import type { Interval, Measured } from '../../../shared/measured.ts';
import type { MeasuredPerformance } from '../missions/index.ts';
import {
  cost,
  payloadRange,
  rangeWithReserve,
  reserveRules,
  whyNoRange,
  type Cost,
  type PayloadRangeCorner,
} from '../range/index.ts';
import type { DecisionSections } from '../spec/types.ts';

export interface RangeRow {
  readonly configuration: string;
  readonly setting: string;
  readonly trueAirspeedMps: Interval;
  readonly fuelFlowM3ps: Interval;
  /** Absent where nothing is left for cruise. */
  readonly enduranceS?: Measured;
  readonly rangeM?: Measured;
  readonly cost?: Cost;
  readonly payloadRange: readonly PayloadRangeCorner[];
  readonly remarks: readonly string[];
}

export interface RangeSection {
  readonly reserve: { readonly title: string; readonly timeS: number; readonly source?: string };
  readonly allowanceM3: number;
  /** False where nobody wrote an allowance: nothing is then set aside for start, taxi and climb. */
  readonly allowanceStated: boolean;
  readonly headwindMps: number;
  readonly currency?: string;
  readonly rows: readonly RangeRow[];
  /** Configurations for which speed or flow is missing, with the reason. */
  readonly missing: readonly { readonly configuration: string; readonly reason: string }[];
}

const z95 = 1.959963984540054;
/** People of 77 kg on average in mass estimates of small aeroplanes; only for the corner "pilot alone". Own choice. */
const pilotKg = 80;

/** Endurance and range of every configuration at every cruise setting, with the reserve kept. */
export function evaluateRange(
  sections: DecisionSections,
  performances: readonly MeasuredPerformance[],
): RangeSection | undefined {
  const { fuel } = sections;
  if (fuel === undefined) return undefined;
  const [day] = reserveRules;
  const reserve = fuel.reserve ?? { title: day.title, timeS: day.timeS, source: day.source };
  const allowanceM3 = fuel.allowance ?? 0;
  const headwindMps = fuel.headwind ?? 0;
  const price = fuel['price-of-fuel'];
  const missing: { configuration: string; reason: string }[] = [];
  const rows = performances.flatMap((performance): RangeRow[] => {
    const { configuration, usableFuelM3, cruise } = performance;
    if (usableFuelM3 === undefined) missing.push({ configuration, reason: 'the usable fuel is not given' });
    else if (cruise.length === 0)
      missing.push({ configuration, reason: 'no cruise setting has both a speed and a fuel flow' });
    if (usableFuelM3 === undefined) return [];
    const reserveFlowM3ps = Math.max(0, ...cruise.map((one) => one.fuelFlowM3ps.value));
    return cruise.map((point) => {
      const plan = { usableM3: usableFuelM3, allowanceM3, reserveTimeS: reserve.timeS, reserveFlowM3ps };
      const result = rangeWithReserve(plan, { ...point, headwindMps });
      const groundSpeedMps = point.trueAirspeedMps.value - headwindMps;
      return {
        configuration,
        setting: point.setting,
        trueAirspeedMps: intervalOf(point.trueAirspeedMps),
        fuelFlowM3ps: intervalOf(point.fuelFlowM3ps),
        enduranceS: result?.enduranceS,
        rangeM: result?.rangeM,
        cost:
          price === undefined || !(groundSpeedMps > 0)
            ? undefined
            : cost(point.fuelFlowM3ps.value, groundSpeedMps, price.perM3, fuel['other-cost'] ?? 0),
        payloadRange: corners(
          sections,
          performance,
          result?.specificRange,
          allowanceM3 + reserve.timeS * reserveFlowM3ps,
        ),
        remarks: result === undefined ? [whyNoRange({ ...point, headwindMps })] : [],
      };
    });
  });
  return {
    reserve,
    allowanceM3,
    allowanceStated: fuel.allowance !== undefined,
    headwindMps,
    currency: price?.currency,
    rows,
    missing,
  };
}

function intervalOf(one: { readonly value: number; readonly sigma: number }): Interval {
  return { value: one.value, low: one.value - z95 * one.sigma, high: one.value + z95 * one.sigma };
}

function corners(
  sections: DecisionSections,
  performance: MeasuredPerformance,
  specificRange: number | undefined,
  keptM3: number,
): readonly PayloadRangeCorner[] {
  const { emptyMassKg, maximumMassKg, usableFuelM3, fuelDensityKgM3 } = performance;
  if (
    emptyMassKg === undefined ||
    maximumMassKg === undefined ||
    usableFuelM3 === undefined ||
    specificRange === undefined
  )
    return [];
  return payloadRange({
    maximumMassKg,
    emptyMassKg,
    usableFuelKg: usableFuelM3 * fuelDensityKgM3,
    keptFuelKg: keptM3 * fuelDensityKgM3,
    rangePerKgM: specificRange / fuelDensityKgM3,
    greatestPayloadKg: seatsAndBaggageKg(sections),
    pilotKg,
  });
}

/** What the places other than tanks may hold together; undefined where one of them has no limit. */
function seatsAndBaggageKg(sections: DecisionSections): number | undefined {
  const places = Object.values(sections.loading?.stations ?? {}).filter((station) => station.fuel !== true);
  if (places.length === 0 || places.some((station) => station.limit === undefined)) return undefined;
  return places.reduce((sum, station) => sum + (station.limit ?? 0), 0);
}
