import type { Measured } from '../../../shared/measured.ts';
import { type MeasuredMean, type MeasuredPerformance, screensOf } from '../missions/index.ts';
import type { PredictionSpread } from '../predict/index.ts';
import { studentQuantile } from '../stats/student.ts';
import { type Candidate, serviceRateMps } from './candidate-spread.ts';
import type { EmptyState } from './empty.ts';

const z95 = 1.959963984540054;

/** Whether even the unfavourable end of the climb is more than that of the service ceiling. */
export function climbsSurely({ rateOfClimbMps, noFlightShare }: PredictionSpread): boolean {
  return rateOfClimbMps.low > serviceRateMps && noFlightShare < 0.025;
}

/** A change in the form in which the missions take errors: `sigma` times the t of the degrees of freedom is half its interval. */
function changeOf(change: Measured, df: number): { readonly factor: number; readonly sigma: number } {
  const half = (change.high - change.low) / 2;
  return { factor: 1 + change.value, sigma: half / studentQuantile(0.975, Math.max(1, df)) };
}

/** One sigma of the fuel flow of another engine or of a claim: engines of the same power differ by about a twentieth (own judgement). */
const changedFlowShare = 0.05;
/** And of the same engine behind another propeller or in another aeroplane at the same share of power (own judgement). */
const keptFlowShare = 0.01;

/** The prediction in the form of a measurement: its whole width becomes the error of the mean, so that a mission sees it. */
export function predictedPerformance(
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
    cruiseMassKg: base.cruiseMassKg === undefined ? undefined : base.cruiseMassKg + massChangeKg,
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

function scaled(mean: MeasuredMean, change: Measured): MeasuredMean {
  const { factor, sigma } = changeOf(change, mean.df);
  return {
    value: mean.value * factor,
    sigma: Math.hypot(mean.sigma * factor, mean.value * sigma),
    scatter: mean.scatter * factor,
    df: mean.df,
  };
}
