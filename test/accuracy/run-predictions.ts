import type { PredictedAndMeasured } from '../../src/engine/decision/index.ts';
import { evaluateCandidates } from '../../src/engine/decision/candidates.ts';
import { emptyStates } from '../../src/engine/decision/empty.ts';
import type { MeasuredPerformance } from '../../src/engine/missions/index.ts';
import { parseSpec } from '../../src/engine/spec/index.ts';
import { type Aeroplane, speedsOf } from '../synth/aeroplane.ts';
import { standardAir } from '../synth/air.ts';
import { Random } from '../synth/random.ts';
import { type Standard, type StandardAnswers, standardAnswers } from '../synth/standard-answers.ts';
import { steadyClimb } from '../synth/steady.ts';
import { drawAeroplane, referenceMassOf } from './drawn-aeroplane.ts';
import {
  drawModification,
  type DrawnModification,
  type ModificationKind,
  modificationKinds,
  suits,
} from './drawn-modification.ts';

/** One predicted figure against what the simulator says of the modified aeroplane. */
export interface PredictionSeen {
  readonly kind: ModificationKind;
  readonly baseline: 'exact' | 'measured';
  readonly metric: PredictedAndMeasured['metric'];
  /** Change in percentage points of the baseline; of the ceiling its height over the true one, less one, in per cent. */
  readonly predicted: number;
  readonly low: number;
  readonly high: number;
  readonly truth: number;
}

export interface PredictionsRun {
  readonly seen: PredictionSeen[];
  readonly cases: number;
  /** Candidates without any prediction, with the remark that says why. */
  readonly refused: Map<string, number>;
}

/** One sigma of what a real baseline would have: 3 % of the roll and of the climb, 1 % of the speed: about six to eight flying days. */
const baselineSigma = { roll: 0.03, distance: 0.03, climb: 0.03, speed: 0.008 } as const;
const serviceRateMps = 0.508;

/**
 * Draws aeroplanes and modifications, has the change predicted from the answers of the aeroplane as it was and from what an
 * owner would write, and compares with the answers of the modified one.
 */
export function runPredictions(seed: string, cases: number, stop: () => boolean): PredictionsRun {
  const seen: PredictionSeen[] = [];
  const refused = new Map<string, number>();
  let done = 0;
  for (let i = 0; i < cases && !stop(); i++) {
    const random = new Random(`${seed}/prediction/${i}`);
    const kind = modificationKinds[i % modificationKinds.length];
    const before = drawSuiting(kind, random);
    const modification = drawModification(kind, before, random.fork('modification'));
    const standard = drawStandard(before, random.fork('standard'));
    const massKg = referenceMassOf(before);
    const addedKg = modification.after.emptyMassKg - before.emptyMassKg;
    const now = standardAnswers(before, massKg, standard);
    const then = standardAnswers(modification.after, massKg + addedKg, {
      ...standard,
      rollingFriction: standard.rollingFriction * modification.friction,
    });
    if (!(then['distance-over-15m'] > 0 && then['level-speed'] > 0 && now['level-speed'] > 0)) continue;
    done++;
    for (const baseline of ['exact', 'measured'] as const) {
      const rows = predicted(
        before,
        modification,
        standard,
        now,
        baseline === 'measured' ? random.fork('notes') : undefined,
      );
      if (typeof rows === 'string') {
        refused.set(rows, (refused.get(rows) ?? 0) + 1);
        continue;
      }
      for (const row of rows) {
        const one = scored(row, now, then);
        if (one !== undefined) seen.push({ kind, baseline, metric: row.metric, ...one });
      }
    }
  }
  return { seen, cases: done, refused };
}

function drawSuiting(kind: ModificationKind, random: Random): Aeroplane {
  for (let attempt = 0; ; attempt++) {
    const aeroplane = drawAeroplane(random.fork(`aeroplane/${attempt}`));
    if (suits(kind, aeroplane)) return aeroplane;
  }
}

function drawStandard(aeroplane: Aeroplane, random: Random): Standard {
  const grass = random.chance(0.5);
  const densityAltitudeM = random.uniform(0, 900);
  return {
    densityAltitudeM,
    climbDensityAltitudeM: densityAltitudeM + random.uniform(200, 700),
    cruiseDensityAltitudeM: densityAltitudeM + random.uniform(300, 1200),
    rollingFriction: grass ? random.uniform(0.045, 0.09) : random.uniform(0.016, 0.028),
    style: aeroplane.gear === 'nosewheel' ? 'nosewheel' : random.pick(['three-point', 'tail-high'] as const),
    cruisePowerShare: random.uniform(0.55, 0.75),
    heldRateMps: serviceRateMps,
  };
}

/** Rows of the candidate, or the remark with which it was refused. */
function predicted(
  before: Aeroplane,
  modification: DrawnModification,
  standard: Standard,
  now: StandardAnswers,
  /** Errors of the baseline; absent for an exact one. */
  errors: Random | undefined,
): readonly PredictedAndMeasured[] | string {
  const parsed = parseSpec(specText(before, modification, standard), 'prediction.modproof.yaml');
  const spec = parsed.spec;
  if (spec?.decision === undefined) throw new Error(parsed.problems.map((problem) => problem.message).join('; '));
  const performance = baselineOf(before, standard, now, errors);
  const [candidate] =
    evaluateCandidates(spec, emptyStates(spec.decision), new Map([['now', performance]]), undefined) ?? [];
  return candidate.rows.length > 0 ? candidate.rows : candidate.remarks.join(' ');
}

/** What the owner writes: facts of the aeroplane as they stand on its plates, and the candidate. */
function specText(before: Aeroplane, modification: DrawnModification, standard: Standard): string {
  const massKg = referenceMassOf(before);
  const climbKt = Math.round(speedsOf(before, massKg).climbMps / (1852 / 3600));
  return `modproof: 1
title: prediction
aircraft:
  propeller: ${before.propeller.kind}
  turbocharged: ${before.engine.criticalAltitudeM !== undefined}
  reference-weight: ${massKg} kg
  maximum-weight: ${before.maximumMassKg} kg
  rated-power: ${(before.engine.ratedPowerW / 1000).toFixed(2)} kW
  propeller-diameter: ${before.propeller.diameterM} m
  wing-span: ${before.spanM} m
${modification.pitchWritten && before.propeller.kind === 'fixed-pitch' ? `  propeller-pitch: ${before.propeller.pitchM.toFixed(2)} m\n` : ''}configurations:
  now: { baseline: true, empty-weight: ${before.emptyMassKg} kg, empty-arm: 0 mm }
flights:
  - { track: a.gpx, configuration: now, climb-speed: ${climbKt} kt }
reference:
  density-altitude: ${standard.densityAltitudeM.toFixed(1)} m
  climb-density-altitude: ${standard.climbDensityAltitudeM.toFixed(1)} m
  cruise-density-altitude: ${standard.cruiseDensityAltitudeM.toFixed(1)} m
candidates:
  then: { ${modification.written.join(', ')} }
`;
}

function baselineOf(
  aeroplane: Aeroplane,
  standard: Standard,
  now: StandardAnswers,
  errors: Random | undefined,
): MeasuredPerformance {
  const massKg = referenceMassOf(aeroplane);
  const off = (sigma: number): number => (errors === undefined ? 1 : 1 + errors.normal(0, sigma));
  const sigmaOf = (sigma: number): number => (errors === undefined ? 0 : sigma);
  // Roll and distance of the same flights err together for the most part.
  const shared = off(baselineSigma.roll * 0.8);
  const rollM = now['ground-roll'] * shared * off(baselineSigma.roll * 0.6);
  const distanceM = now['distance-over-15m'] * shared * off(baselineSigma.distance * 0.6);
  const climbOff = off(baselineSigma.climb);
  const speedMps = now['level-speed'] * off(baselineSigma.speed);
  const eas = speedsOf(aeroplane, massKg).climbMps;
  const density = (heightM: number): number => {
    const air = standardAir(heightM);
    air.set(heightM);
    return air.densityKgM3 / 1.225;
  };
  const ratio = density(standard.densityAltitudeM);
  return {
    configuration: 'now',
    propeller: aeroplane.propeller.kind,
    turbocharged: aeroplane.engine.criticalAltitudeM !== undefined,
    emptyMassKg: aeroplane.emptyMassKg,
    maximumMassKg: aeroplane.maximumMassKg,
    usableFuelM3: aeroplane.usableFuelM3,
    fuelDensityKgM3: 720,
    takeoff: {
      groundRollM: { value: rollM, sigma: sigmaOf(baselineSigma.roll) * rollM, scatter: 0.06 * rollM, df: 6 },
      distanceM: {
        value: distanceM,
        sigma: sigmaOf(baselineSigma.distance) * distanceM,
        scatter: 0.06 * distanceM,
        df: 6,
      },
      screenHeightM: 15.24,
      liftoffTasMps: now['liftoff-speed'] * off(0.02),
      massKg,
      densityRatio: ratio,
      densityRatioSeen: [0.95 * ratio, 1.05 * ratio],
      surface: { kind: standard.rollingFriction > 0.04 ? 'grass' : 'paved', wet: false, soft: false },
    },
    climb: {
      df: 6,
      massKg,
      seenM: [standard.densityAltitudeM, standard.climbDensityAltitudeM + 500],
      rateAt: (heightM) => {
        const rate = steadyClimb(aeroplane, standardAir(0), heightM, massKg, eas) * climbOff;
        return { value: rate, sigma: sigmaOf(baselineSigma.climb) * rate };
      },
    },
    cruise: [
      {
        setting: 'as flown',
        trueAirspeedMps: { value: speedMps, sigma: sigmaOf(baselineSigma.speed) * speedMps },
        fuelFlowM3ps: { value: 7e-6, sigma: 1e-7 },
      },
    ],
  };
}

function scored(
  row: PredictedAndMeasured,
  now: StandardAnswers,
  then: StandardAnswers,
): Pick<PredictionSeen, 'predicted' | 'low' | 'high' | 'truth'> | undefined {
  if (row.metric === 'service-ceiling') {
    const ceiling = then['climb-held-to'];
    if (ceiling === undefined) return undefined;
    const of = (heightM: number): number => 100 * (heightM / ceiling - 1);
    const { value, low, high } = row.predicted;
    return { predicted: of(value), low: of(low), high: of(high), truth: 0 };
  }
  const change = row.change;
  if (change === undefined) return undefined;
  const truth = 100 * (answerOf(then, row.metric) / answerOf(now, row.metric) - 1);
  return { predicted: 100 * change.value, low: 100 * change.low, high: 100 * change.high, truth };
}

/** The simulator has the two heights of obstacle that are asked for. */
function answerOf(answers: StandardAnswers, metric: PredictedAndMeasured['metric']): number {
  return answers[metric as keyof StandardAnswers] ?? Number.NaN;
}
