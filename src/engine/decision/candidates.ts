import { standardAtmosphere, seaLevelDensityKgM3, densityAltitudeOfDensityM } from '../atmosphere/index.ts';
import type { Measured } from '../../../shared/measured.ts';
import type { ComparisonResult } from '../compare/result.ts';
import type { MeasuredPerformance } from '../missions/index.ts';
import { predictionSpread, type Airframe, type PredictionSpread } from '../predict/index.ts';
import type { Spec } from '../spec/types.ts';
import type { EmptyState } from './empty.ts';

export interface PredictedAndMeasured {
  readonly metric: 'ground-roll' | 'rate-of-climb' | 'level-speed' | 'service-ceiling';
  /** SI: m, m/s, m/s, m of density altitude. */
  readonly baseline?: number;
  readonly predicted: Measured;
  /** As a fraction of the baseline. */
  readonly change?: Measured;
  /** What it was when flown since, with the 95 % interval of the comparison; absent if it was not measured. */
  readonly measured?: { readonly value: number; readonly low: number; readonly high: number };
}

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

/** 100 ft/min: service ceiling (FAA-H-8083-25C ch. 11). */
const serviceRateMps = 0.508;

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
    const spread = spreadOf(spec, candidate, from, base, state?.change?.massChangeKg ?? 0);
    if (spread === undefined) {
      return {
        ...common,
        rows: [],
        remarks: [
          ...remarks,
          'The measurements, the power, the diameter and the span given do not fit together: no set of assumptions explains them.',
        ],
      };
    }
    if (spread.result.impossibleShare > 0.5)
      remarks.push('Most sets of assumptions contradict the measurements: check power, diameter, span and speeds.');
    if (spread.fixedPitch)
      remarks.push(
        'A fixed-pitch propeller is not predictable from power alone: compare static rpm and full-throttle level rpm before and after.',
      );
    return {
      ...common,
      rows: rowsOf(spread.result, base, (metric) => measuredSince(comparison, metric, candidate.flown)),
      performance: predictedPerformance(id, spread.result, base, state, candidate, spread.powerRatio),
      remarks: [...remarks, 'A prediction, not a measurement.'],
    };
  });
}

type Candidate = NonNullable<NonNullable<Spec['decision']>['candidates']>[string];

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

/** Share of rated power in the level run where the flights do not say: 65 to 75 % is normal cruise (common practice, no source). */
const cruisePowerShare = 0.7;

function spreadOf(
  spec: Spec,
  candidate: Candidate,
  from: string,
  base: MeasuredPerformance,
  massChangeKg: number,
): { readonly result: PredictionSpread; readonly fixedPitch: boolean; readonly powerRatio: number } | undefined {
  const facts = spec.decision?.configurations[from];
  const { takeoff, climb } = base;
  const ratedPowerW = facts?.['rated-power'] ?? spec.aircraft.ratedPowerW;
  const diameterM = facts?.['propeller-diameter'] ?? spec.decision?.aircraft['propeller-diameter'];
  const spanM = spec.aircraft.spanM;
  if (
    takeoff === undefined ||
    climb === undefined ||
    ratedPowerW === undefined ||
    diameterM === undefined ||
    spanM === undefined
  )
    return undefined;
  const before: Airframe = {
    massKg: takeoff.massKg,
    ratedPowerW,
    propellerDiameterM: diameterM,
    propeller: base.propeller,
    spanM,
  };
  const after: Airframe = {
    massKg: takeoff.massKg + massChangeKg,
    ratedPowerW: candidate['rated-power'] ?? ratedPowerW,
    propellerDiameterM: candidate['propeller-diameter'] ?? diameterM,
    propeller: candidate.propeller ?? base.propeller,
    spanM: candidate['wing-span'] ?? spanM,
  };
  const climbHeightM = spec.reference.climbDensityAltitudeM ?? spec.reference.densityAltitudeM;
  const rate = climb.rateAt(climbHeightM);
  if (rate === undefined || !(rate.value > 0)) return undefined;
  const [cruise] = base.cruise;
  const cruiseHeightM = spec.reference.cruiseDensityAltitudeM ?? spec.reference.densityAltitudeM;
  const ratio = (heightM: number) => standardAtmosphere(heightM).densityKgM3 / seaLevelDensityKgM3;
  const result = predictionSpread({
    before,
    after,
    baseline: {
      groundRollM: takeoff.groundRollM.value,
      liftoffTasMps: takeoff.liftoffTasMps,
      takeoffDensityRatio: takeoff.densityRatio,
      rateOfClimbMps: rate.value,
      climbTasMps: climbSpeedMps(spec, takeoff.liftoffTasMps, ratio(climbHeightM)),
      climbDensityRatio: ratio(climbHeightM),
      levelTasMps: cruise?.trueAirspeedMps.value ?? 2 * takeoff.liftoffTasMps,
      levelPowerShare: cruisePowerShare,
      levelDensityRatio: ratio(cruiseHeightM),
    },
    baselineSigma: {
      groundRoll: takeoff.groundRollM.sigma / takeoff.groundRollM.value,
      rateOfClimb: rate.sigma / rate.value,
      levelTas: cruise === undefined ? 0.1 : cruise.trueAirspeedMps.sigma / cruise.trueAirspeedMps.value,
    },
    alteration: { parasiteDragFactor: candidate.drag ?? 1, liftCoefficientFactor: candidate.lift ?? 1 },
    askedRateMps: serviceRateMps,
  });
  if (result === undefined) return undefined;
  const poweredDifferently =
    after.ratedPowerW !== before.ratedPowerW || after.propellerDiameterM !== before.propellerDiameterM;
  const fixedPitch = before.propeller === 'fixed-pitch' || after.propeller === 'fixed-pitch';
  return { result, fixedPitch: fixedPitch && poweredDifferently, powerRatio: after.ratedPowerW / before.ratedPowerW };
}

/** True airspeed of the climb: as noted in the flights, else 1.3 of lift-off speed (own choice for light aeroplanes). */
function climbSpeedMps(spec: Spec, liftoffTasMps: number, densityRatio: number): number {
  const noted = spec.flights.flatMap((flight) => flight.conditions.climbIndicatedAirspeedMps?.value ?? []);
  const indicated =
    noted.length === 0 ? 1.3 * liftoffTasMps : noted.reduce((sum, value) => sum + value, 0) / noted.length;
  return indicated / Math.sqrt(densityRatio);
}

/**
 * What the flights of a configuration showed, with the interval of the comparison: at equal load where that was worked out,
 * as a prediction carries what the change weighs.
 */
function measuredSince(
  comparison: ComparisonResult | undefined,
  metric: string,
  flown: string | undefined,
): PredictedAndMeasured['measured'] {
  const found = (comparison?.metrics ?? []).filter((one) => one.metric === metric);
  const at =
    found.find((one) => one.conditions === 'equal-load') ?? found.find((one) => one.conditions === 'equal-weight');
  const mean = at?.configurations.find((one) => one.id === flown)?.mean;
  return mean && { value: mean.value, low: mean.low, high: mean.high };
}

function rowsOf(
  spread: PredictionSpread,
  base: MeasuredPerformance,
  measured: (metric: string) => PredictedAndMeasured['measured'],
): PredictedAndMeasured[] {
  const rows: PredictedAndMeasured[] = [
    {
      metric: 'ground-roll',
      baseline: base.takeoff?.groundRollM.value,
      predicted: spread.groundRollM,
      change: spread.groundRollChange,
      measured: measured('ground-roll'),
    },
    {
      metric: 'rate-of-climb',
      predicted: spread.rateOfClimbMps,
      change: spread.rateOfClimbChange,
      baseline: spread.rateOfClimbMps.value / (1 + spread.rateOfClimbChange.value),
      measured: measured('rate-of-climb'),
    },
  ];
  if (base.cruise.length > 0) {
    rows.push({
      metric: 'level-speed',
      baseline: base.cruise[0].trueAirspeedMps.value,
      predicted: spread.levelTasMps,
      change: spread.levelTasChange,
      measured: measured('level-speed'),
    });
  }
  const ceiling = spread.ceilingDensityRatio;
  if (ceiling !== undefined) {
    const height = (ratio: number) => densityAltitudeOfDensityM(ratio * seaLevelDensityKgM3);
    rows.push({
      metric: 'service-ceiling',
      predicted: { ...ceiling, value: height(ceiling.value), low: height(ceiling.high), high: height(ceiling.low) },
    });
  }
  return rows;
}

/** The prediction in the form of a measurement: its whole width becomes the error of the mean, so that a mission sees it. */
function predictedPerformance(
  id: string,
  spread: PredictionSpread,
  base: MeasuredPerformance,
  state: EmptyState | undefined,
  candidate: Candidate,
  /** Fuel flow goes with power at the same share of rated power, where nothing else is claimed. */
  powerRatio: number,
): MeasuredPerformance {
  const half = (one: Measured) => (one.high - one.low) / 2 / 1.96;
  const roll = 1 + spread.groundRollChange.value;
  const rollSigma = half(spread.groundRollChange);
  const climbFactor = 1 + spread.rateOfClimbChange.value;
  const climbSigma = half(spread.rateOfClimbChange);
  const { takeoff, climb } = base;
  // The prediction stands for the reference weight plus what the change itself weighs.
  const massChangeKg = state?.change?.massChangeKg ?? 0;
  return {
    ...base,
    configuration: id,
    propeller: candidate.propeller ?? base.propeller,
    emptyMassKg: state?.empty?.massKg ?? base.emptyMassKg,
    takeoff: takeoff && {
      ...takeoff,
      massKg: takeoff.massKg + massChangeKg,
      groundRollM: scaled(takeoff.groundRollM, roll, rollSigma),
      // The air distance is taken to change as the roll does: excess power carries both.
      distanceM: scaled(takeoff.distanceM, roll, rollSigma),
    },
    climb: climb && {
      ...climb,
      massKg: climb.massKg + massChangeKg,
      rateAt: (heightM) => {
        const at = climb.rateAt(heightM);
        return (
          at && { value: at.value * climbFactor, sigma: Math.hypot(at.sigma * climbFactor, at.value * climbSigma) }
        );
      },
    },
    cruise: base.cruise.map((point) => ({
      setting: point.setting,
      trueAirspeedMps: {
        value: point.trueAirspeedMps.value * (1 + spread.levelTasChange.value),
        sigma: Math.hypot(point.trueAirspeedMps.sigma, point.trueAirspeedMps.value * half(spread.levelTasChange)),
      },
      fuelFlowM3ps: {
        value: point.fuelFlowM3ps.value * (candidate['fuel-flow'] ?? powerRatio),
        sigma: point.fuelFlowM3ps.sigma + 0.05 * point.fuelFlowM3ps.value,
      },
    })),
  };
}

function scaled(mean: NonNullable<MeasuredPerformance['takeoff']>['groundRollM'], factor: number, sigma: number) {
  return {
    value: mean.value * factor,
    sigma: Math.hypot(mean.sigma * factor, mean.value * sigma),
    scatter: mean.scatter * factor,
    df: mean.df,
  };
}
