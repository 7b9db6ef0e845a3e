import { standardAtmosphere, seaLevelDensityKgM3, densityAltitudeOfDensityM } from '../atmosphere/index.ts';
import type { Interval, Measured } from '../../../shared/measured.ts';
import type { ComparisonResult } from '../compare/result.ts';
import type { MeasuredMean, MeasuredPerformance, MeasuredScreen } from '../missions/index.ts';
import { distanceOverName } from '../../../shared/metric.ts';
import { changedPower, predictionSpread, type Airframe, type PredictionSpread } from '../predict/index.ts';
import type { Spec } from '../spec/types.ts';
import { studentQuantile } from '../stats/student.ts';
import type { EmptyState } from './empty.ts';
import { climbEasMps } from './performance.ts';

export interface PredictedAndMeasured {
  /** `distance-over-…` in metres rounded, as the comparison calls it. */
  readonly metric: 'ground-roll' | `distance-over-${number}m` | 'rate-of-climb' | 'level-speed' | 'service-ceiling';
  /** SI: m, m/s, m/s, m of density altitude. */
  readonly baseline?: number;
  readonly predicted: Measured;
  /** As a fraction of the baseline. */
  readonly change?: Measured;
  /** What it was when flown since, with the 95 % interval of the comparison; absent if it was not measured. */
  readonly measured?: Interval;
  /** The measured change as a fraction, where the comparison has the two configurations side by side. */
  readonly measuredChange?: Interval;
  /**
   * Where the measurement lies against the prediction: beyond what the two 95 % intervals together explain, or not. Absent
   * where nothing was measured.
   */
  readonly found?: 'as predicted' | 'more than predicted' | 'less than predicted';
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

const z95 = 1.959963984540054;
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

type Candidate = NonNullable<NonNullable<Spec['decision']>['candidates']>[string];

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

interface CandidateSpread {
  readonly result: PredictionSpread;
  readonly powerRatio: number;
  readonly turbocharged: boolean;
  readonly remarks: readonly string[];
}

/** Whether even the unfavourable end of the climb is more than that of the service ceiling. */
function climbsSurely({ rateOfClimbMps, noFlightShare }: PredictionSpread): boolean {
  return rateOfClimbMps.low > serviceRateMps && noFlightShare < 0.025;
}

/** One sigma such that 1.96 of it are half of the 95 % interval: a prediction draws normal errors. */
function normalSigma({ sigma, df }: { readonly sigma: number; readonly df: number }): number {
  return (sigma * studentQuantile(0.975, Math.max(1, df))) / z95;
}

function spreadOf(
  spec: Spec,
  candidate: Candidate,
  from: string,
  base: MeasuredPerformance,
  massChangeKg: number,
): CandidateSpread | undefined {
  const facts = spec.decision?.configurations[from];
  const aircraft = spec.decision?.aircraft;
  const { takeoff, climb, turbocharged } = base;
  const ratedPowerW = facts?.['rated-power'] ?? spec.aircraft.ratedPowerW;
  const diameterM = facts?.['propeller-diameter'] ?? aircraft?.['propeller-diameter'];
  const pitchM = facts?.['propeller-pitch'] ?? aircraft?.['propeller-pitch'];
  const spanM = spec.aircraft.spanM;
  if (
    takeoff === undefined ||
    climb === undefined ||
    ratedPowerW === undefined ||
    diameterM === undefined ||
    spanM === undefined
  )
    return undefined;
  const climbEas = climbEasMps(spec, takeoff.liftoffTasMps, takeoff.densityRatio);
  if (climbEas === undefined) return undefined;
  const climbHeightM = spec.reference.climbDensityAltitudeM ?? spec.reference.densityAltitudeM;
  const rate = climb.rateAt(climbHeightM);
  if (rate === undefined || !(rate.value > 0)) return undefined;
  const [cruise] = base.cruise;
  const cruiseHeightM = spec.reference.cruiseDensityAltitudeM ?? spec.reference.densityAltitudeM;
  const ratio = (heightM: number) => standardAtmosphere(heightM).densityKgM3 / seaLevelDensityKgM3;
  // Up to which height a turbocharged engine keeps its power is not known: through the heights flown.
  const criticalDensityRatio = turbocharged
    ? Math.min(takeoff.densityRatio, ratio(climbHeightM), ratio(cruiseHeightM))
    : undefined;
  const before: Airframe = {
    massKg: takeoff.massKg,
    ratedPowerW,
    propellerDiameterM: diameterM,
    propellerPitchM: pitchM,
    propeller: base.propeller,
    spanM,
    criticalDensityRatio,
  };
  const propelled =
    candidate['rated-power'] !== undefined ||
    candidate['propeller-diameter'] !== undefined ||
    candidate.propeller !== undefined;
  const after: Airframe = {
    massKg: takeoff.massKg + massChangeKg,
    ratedPowerW: candidate['rated-power'] ?? ratedPowerW,
    propellerDiameterM: candidate['propeller-diameter'] ?? diameterM,
    // With another engine or propeller the pitch is what the candidate says it is, or not known.
    propellerPitchM: candidate['propeller-pitch'] ?? (propelled ? undefined : pitchM),
    propeller: candidate.propeller ?? base.propeller,
    spanM: candidate['wing-span'] ?? spanM,
    criticalDensityRatio,
  };
  const result = predictionSpread({
    before,
    after,
    baseline: {
      groundRollM: takeoff.groundRollM.value,
      liftoffTasMps: takeoff.liftoffTasMps,
      takeoffDensityRatio: takeoff.densityRatio,
      screens: screensOf(takeoff).map(({ heightM, distanceM }) => ({ heightM, distanceM: distanceM.value })),
      rateOfClimbMps: rate.value,
      climbTasMps: climbEas / Math.sqrt(ratio(climbHeightM)),
      climbDensityRatio: ratio(climbHeightM),
      levelTasMps: cruise?.trueAirspeedMps.value ?? 2 * takeoff.liftoffTasMps,
      levelDensityRatio: ratio(cruiseHeightM),
    },
    baselineSigma: {
      groundRoll: normalSigma(takeoff.groundRollM) / takeoff.groundRollM.value,
      rateOfClimb: normalSigma({ sigma: rate.sigma, df: climb.df }) / rate.value,
      levelTas: cruise === undefined ? 0.1 : cruise.trueAirspeedMps.sigma / cruise.trueAirspeedMps.value,
    },
    alteration: {
      parasiteDragFactor: candidate.drag ?? 1,
      liftCoefficientFactor: candidate.lift ?? 1,
      rollingFrictionFactor: candidate['rolling-friction'] ?? 1,
    },
    surface: takeoff.surface?.kind,
    askedRateMps: serviceRateMps,
  });
  if (result === undefined) return undefined;
  return {
    result,
    powerRatio: after.ratedPowerW / before.ratedPowerW,
    turbocharged,
    remarks: remarksOf(before, after, candidate, turbocharged),
  };
}

function remarksOf(before: Airframe, after: Airframe, candidate: Candidate, turbocharged: boolean): string[] {
  const remarks: string[] = [];
  if (changedPower(before, after) && (before.propeller === 'fixed-pitch' || after.propeller === 'fixed-pitch')) {
    const both = before.propeller === after.propeller;
    const known = before.propellerPitchM !== undefined && after.propellerPitchM !== undefined;
    if (both && !known) {
      remarks.push(
        'The pitch before and after is not written: anything between the propeller as it is and one matched to the same engine speed is allowed for. Write "propeller-pitch" for the aircraft and the candidate to narrow it.',
      );
    }
    remarks.push(
      'A fixed-pitch propeller is not predictable from power alone: compare static rpm and full-throttle level rpm before and after.',
    );
  }
  if (candidate.lift !== undefined) {
    remarks.push(
      'A greater lift coefficient shortens the roll only as far as the attitude and the speed at lift-off use it: from nothing to a little more than claimed is allowed for.',
    );
  }
  if (turbocharged) {
    remarks.push('Turbocharged: the power is taken as kept through the heights flown, and no ceiling is predicted.');
  }
  return remarks;
}

interface MeasuredSince {
  readonly mean?: Interval;
  readonly change?: Interval;
}

/**
 * What the flights of a configuration showed, with the interval of the comparison: at equal load where that was worked out,
 * as a prediction carries what the change weighs.
 */
function measuredSince(
  comparison: ComparisonResult | undefined,
  from: string,
  flown: string | undefined,
): (metric: string) => MeasuredSince {
  return (metric) => {
    const found = (comparison?.metrics ?? []).filter((one) => one.metric === metric);
    const at =
      found.find((one) => one.conditions === 'equal-load') ?? found.find((one) => one.conditions === 'equal-weight');
    const mean = at?.configurations.find((one) => one.id === flown)?.mean;
    const change = at?.changes.find((one) => one.from === from && one.to === flown);
    const percent = change?.percentAlone ?? change?.percent;
    return {
      mean: mean && { value: mean.value, low: mean.low, high: mean.high },
      change: percent && { value: percent.value / 100, low: percent.low / 100, high: percent.high / 100 },
    };
  };
}

/** Beyond what both intervals explain together, or within it. The change is compared where there is one, else the value. */
function foundAgainst(predicted: Interval, measured: Interval): NonNullable<PredictedAndMeasured['found']> {
  const more = measured.value > predicted.value;
  const off = Math.abs(measured.value - predicted.value);
  const allowed = more
    ? Math.hypot(predicted.high - predicted.value, measured.value - measured.low)
    : Math.hypot(predicted.value - predicted.low, measured.high - measured.value);
  if (off <= allowed) return 'as predicted';
  return more ? 'more than predicted' : 'less than predicted';
}

function rowsOf(
  spread: CandidateSpread,
  base: MeasuredPerformance,
  measured: (metric: string) => MeasuredSince,
): PredictedAndMeasured[] {
  const { result } = spread;
  const row = (
    metric: PredictedAndMeasured['metric'],
    baseline: number | undefined,
    predicted: Measured,
    change: Measured,
  ): PredictedAndMeasured => {
    const since = measured(metric);
    let found: PredictedAndMeasured['found'];
    if (since.change !== undefined) found = foundAgainst(change, since.change);
    else if (since.mean !== undefined) found = foundAgainst(predicted, since.mean);
    return { metric, baseline, predicted, change, measured: since.mean, measuredChange: since.change, found };
  };
  const rows = [row('ground-roll', base.takeoff?.groundRollM.value, result.groundRollM, result.groundRollChange)];
  const screens = base.takeoff === undefined ? [] : screensOf(base.takeoff);
  for (const [index, screen] of result.screens.entries()) {
    if (screen === undefined) continue;
    rows.push(row(distanceOverName(screen.heightM), screens[index].distanceM.value, screen.distanceM, screen.change));
  }
  rows.push(
    row(
      'rate-of-climb',
      result.rateOfClimbMps.value / (1 + result.rateOfClimbChange.value),
      result.rateOfClimbMps,
      result.rateOfClimbChange,
    ),
  );
  if (base.cruise.length > 0) {
    rows.push(row('level-speed', base.cruise[0].trueAirspeedMps.value, result.levelTasMps, result.levelTasChange));
  }
  const ceiling = result.ceilingDensityRatio;
  if (ceiling !== undefined && !spread.turbocharged) {
    const height = (ratio: number) => densityAltitudeOfDensityM(ratio * seaLevelDensityKgM3);
    rows.push({
      metric: 'service-ceiling',
      predicted: { ...ceiling, value: height(ceiling.value), low: height(ceiling.high), high: height(ceiling.low) },
    });
  }
  return rows;
}

/** A change in the form in which the missions take errors: `sigma` times the t of the degrees of freedom is half its interval. */
function changeOf(change: Measured, df: number): { readonly factor: number; readonly sigma: number } {
  const half = (change.high - change.low) / 2;
  return { factor: 1 + change.value, sigma: half / studentQuantile(0.975, Math.max(1, df)) };
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
  const { takeoff, climb } = base;
  // The prediction stands for the reference weight plus what the change itself weighs.
  const massChangeKg = state?.change?.massChangeKg ?? 0;
  const climbChange = climb && changeOf(spread.rateOfClimbChange, climb.df);
  const gainMps = spread.rateOfClimbMps.value - spread.rateOfClimbMps.value / (1 + spread.rateOfClimbChange.value);
  const engineChanges = candidate['fuel-flow'] !== undefined || powerRatio !== 1;
  const flowShare = engineChanges ? changedFlowShare : keptFlowShare;
  const level = (spread.levelTasChange.high - spread.levelTasChange.low) / 2 / z95;
  return {
    ...base,
    configuration: id,
    propeller: candidate.propeller ?? base.propeller,
    emptyMassKg: state?.empty?.massKg ?? base.emptyMassKg,
    takeoff: takeoff && predictedTakeoff(takeoff, spread, massChangeKg),
    climb: climb &&
      climbChange && {
        ...climb,
        massKg: climb.massKg + massChangeKg,
        rateAt: (heightM) => {
          const at = climb.rateAt(heightM);
          if (at === undefined) return undefined;
          // What is gained or lost in the rate is nearly the same at every height, not the share of it: the less of the two.
          const value = Math.min(at.value * climbChange.factor, at.value + gainMps);
          const reference = gainMps / (climbChange.factor - 1 || 1);
          const sigma = climbChange.sigma * Math.max(Math.abs(at.value), Math.abs(reference));
          return { value, sigma: Math.hypot(at.sigma * climbChange.factor, sigma) };
        },
      },
    cruise: (climbsSurely(spread) ? base.cruise : []).map((point) => ({
      setting: point.setting,
      trueAirspeedMps: {
        value: point.trueAirspeedMps.value * (1 + spread.levelTasChange.value),
        sigma: Math.hypot(point.trueAirspeedMps.sigma, point.trueAirspeedMps.value * level),
      },
      fuelFlowM3ps: {
        value: point.fuelFlowM3ps.value * (candidate['fuel-flow'] ?? powerRatio),
        sigma: Math.hypot(point.fuelFlowM3ps.sigma, flowShare * point.fuelFlowM3ps.value),
      },
    })),
  };
}

/** Every screen that was measured, the one asked about first in front. */
function screensOf(takeoff: NonNullable<MeasuredPerformance['takeoff']>): readonly MeasuredScreen[] {
  return [{ heightM: takeoff.screenHeightM, distanceM: takeoff.distanceM }, ...(takeoff.otherScreens ?? [])];
}

/** The take-off with the screens that it is predicted to reach; undefined where it reaches none. */
function predictedTakeoff(
  takeoff: NonNullable<MeasuredPerformance['takeoff']>,
  spread: PredictionSpread,
  massChangeKg: number,
): MeasuredPerformance['takeoff'] {
  const [first, ...others] = screensOf(takeoff).flatMap(({ heightM, distanceM }, index) => {
    const screen = spread.screens[index];
    return screen === undefined ? [] : [{ heightM, distanceM: scaled(distanceM, screen.change) }];
  });
  if (first === undefined) return undefined;
  return {
    ...takeoff,
    massKg: takeoff.massKg + massChangeKg,
    groundRollM: scaled(takeoff.groundRollM, spread.groundRollChange),
    distanceM: first.distanceM,
    screenHeightM: first.heightM,
    otherScreens: others,
  };
}

/** One sigma of the fuel flow of another engine or of a claim: engines of the same power differ by about a twentieth (own judgement). */
const changedFlowShare = 0.05;
/** And of the same engine behind another propeller or in another aeroplane at the same share of power (own judgement). */
const keptFlowShare = 0.01;

function scaled(mean: MeasuredMean, change: Measured): MeasuredMean {
  const { factor, sigma } = changeOf(change, mean.df);
  return {
    value: mean.value * factor,
    sigma: Math.hypot(mean.sigma * factor, mean.value * sigma),
    scatter: mean.scatter * factor,
    df: mean.df,
  };
}
