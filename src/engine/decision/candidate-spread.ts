import { seaLevelDensityKgM3, standardAtmosphere } from '../atmosphere/index.ts';
import { type MeasuredPerformance, screensOf } from '../missions/index.ts';
import { changedPower, predictionSpread, type Airframe, type PredictionSpread } from '../predict/index.ts';
import type { Spec } from '../spec/types.ts';
import { studentQuantile } from '../stats/student.ts';
import { climbEasMps } from './performance.ts';

export type Candidate = NonNullable<NonNullable<Spec['decision']>['candidates']>[string];

export interface CandidateSpread {
  readonly result: PredictionSpread;
  readonly powerRatio: number;
  readonly turbocharged: boolean;
  readonly remarks: readonly string[];
}

const z95 = 1.959963984540054;
/** 100 ft/min: service ceiling (FAA-H-8083-25C ch. 11). */
export const serviceRateMps = 0.508;

/** One sigma such that 1.96 of it are half of the 95 % interval: a prediction draws normal errors. */
function normalSigma({ sigma, df }: { readonly sigma: number; readonly df: number }): number {
  return (sigma * studentQuantile(0.975, Math.max(1, df))) / z95;
}

/** The physics of a candidate from what was measured before it; undefined where something needed is missing or nothing fits. */
export function spreadOf(
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
        'Without the pitch both before and after, anything between the propeller as it is and one matched to the same engine speed is allowed for. Write "propeller-pitch" for the aircraft and the candidate to narrow it.',
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
