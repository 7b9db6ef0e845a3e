import type { Measured } from '../../../shared/measured.ts';
import { predict, type Airframe, type Alteration, type MeasuredBaseline, type Unknowns } from './model.ts';

/**
 * Ranges of what a prediction has to assume, each with its reason. Uniform between the ends.
 *
 * - Useful share of the power while rolling: figure of merit 0.6 to 0.8 for propellers not stalled (second-hand), rising
 *   with speed; in flight 0.8 to 0.92 of the ideal disc (real cruise efficiencies of 0.75 to 0.85 against Froude's 0.92 to
 *   0.95: from memory).
 * - Oswald's factor of straight wings with struts or fuselage: 0.65 to 0.85 (from memory).
 * - Match of engine and propeller after a change of either: a constant-speed propeller takes up the power wherever it
 *   is; a fixed-pitch one turns faster or slower with pitch, so power alone does not tell (own judgement, stated).
 * - A stated change of drag or lift is somebody's claim: half of it to one and a half times it (own judgement, stated).
 * - Resistance of the roll, friction and drag: friction 0.02 to 0.025 of the load on the wheels on hard ground (SFTE
 *   handbook ch. 12) to 0.08 on grass (from memory), two thirds of the weight on the wheels in the mean, and a drag of 0.02
 *   to 0.04 of the weight at the mean speed of the roll: 0.03 to 0.09 of the weight. Mostly friction on grass, a mix on
 *   pavement: share 0.4 to 0.8.
 */
export const ranges = {
  usefulShareRolling: [0.6, 0.85],
  usefulShareFlying: [0.8, 0.92],
  oswald: [0.65, 0.85],
  thrustMatchConstantSpeed: 0.04,
  thrustMatchFixedPitch: 0.1,
  alterationShare: [0.5, 1.5],
  rollResistance: [0.03, 0.09],
  frictionShare: [0.4, 0.8],
} as const;

export interface SpreadInput {
  readonly before: Airframe;
  readonly after: Airframe;
  /** One sigma of each measured value, as a fraction. */
  readonly baseline: MeasuredBaseline;
  readonly baselineSigma: { readonly groundRoll: number; readonly rateOfClimb: number; readonly levelTas: number };
  readonly alteration: Alteration;
  /** Rate down to which the climb is followed, m/s (0.508 is 100 ft/min: the service ceiling). */
  readonly askedRateMps: number;
}

export interface PredictionSpread {
  readonly groundRollM: Measured;
  readonly groundRollChange: Measured;
  readonly rateOfClimbMps: Measured;
  readonly rateOfClimbChange: Measured;
  readonly levelTasMps: Measured;
  readonly levelTasChange: Measured;
  /** Density ratio at which the asked rate is still reached. */
  readonly ceilingDensityRatio?: Measured;
  /** Share of the assumed sets that contradict the measurements: large means the given data do not fit together. */
  readonly impossibleShare: number;
}

const DRAWS = 2000;

/**
 * Predicted values and changes (fractions) with the 95 % range that the unknowns and the measured baseline leave.
 * Deterministic: the unknowns are drawn from a Halton sequence, so the same input gives the same answer everywhere.
 *
 * @returns undefined when (nearly) no assumed set fits the measurements: power, span, speeds or roll are then misstated
 */
export function predictionSpread(input: SpreadInput): PredictionSpread | undefined {
  const matchHalf =
    input.after.propeller === 'fixed-pitch' || input.before.propeller === 'fixed-pitch'
      ? ranges.thrustMatchFixedPitch
      : ranges.thrustMatchConstantSpeed;
  const rolls: number[] = [];
  const rollChanges: number[] = [];
  const climbs: number[] = [];
  const climbChanges: number[] = [];
  const levels: number[] = [];
  const levelChanges: number[] = [];
  const ceilings: number[] = [];
  let impossible = 0;
  for (let draw = 1; draw <= DRAWS; draw += 1) {
    const between = (base: number, ends: readonly [number, number]) =>
      ends[0] + (ends[1] - ends[0]) * halton(draw, base);
    const unknowns: Unknowns = {
      usefulShareRolling: between(2, ranges.usefulShareRolling),
      usefulShareFlying: between(3, ranges.usefulShareFlying),
      oswald: between(5, ranges.oswald),
      thrustMatchRolling: between(7, [-matchHalf, matchHalf]),
      thrustMatchFlying: between(11, [-matchHalf, matchHalf]),
      alterationShare: between(13, ranges.alterationShare),
      frictionShare: between(17, ranges.frictionShare),
      rollResistance: between(31, ranges.rollResistance),
    };
    const baseline: MeasuredBaseline = {
      ...input.baseline,
      groundRollM:
        input.baseline.groundRollM * Math.exp(input.baselineSigma.groundRoll * normalScore(halton(draw, 19))),
      rateOfClimbMps:
        input.baseline.rateOfClimbMps * (1 + input.baselineSigma.rateOfClimb * normalScore(halton(draw, 23))),
      levelTasMps: input.baseline.levelTasMps * (1 + input.baselineSigma.levelTas * normalScore(halton(draw, 29))),
    };
    const result = predict(input.before, input.after, baseline, input.alteration, unknowns, input.askedRateMps);
    if (result === undefined) {
      impossible += 1;
      continue;
    }
    rolls.push(result.groundRollM);
    rollChanges.push(result.groundRollM / baseline.groundRollM - 1);
    climbs.push(result.rateOfClimbMps);
    climbChanges.push(result.rateOfClimbMps / baseline.rateOfClimbMps - 1);
    levels.push(result.levelTasMps);
    levelChanges.push(result.levelTasMps / baseline.levelTasMps - 1);
    if (result.ceilingDensityRatio !== undefined) ceilings.push(result.ceilingDensityRatio);
  }
  if (rolls.length < DRAWS / 10) return undefined;
  return {
    groundRollM: middle95(rolls),
    groundRollChange: middle95(rollChanges),
    rateOfClimbMps: middle95(climbs),
    rateOfClimbChange: middle95(climbChanges),
    levelTasMps: middle95(levels),
    levelTasChange: middle95(levelChanges),
    ceilingDensityRatio: ceilings.length > 0.9 * rolls.length ? middle95(ceilings) : undefined,
    impossibleShare: impossible / DRAWS,
  };
}

function middle95(values: number[]): Measured {
  const sorted = Float64Array.from(values).sort();
  const at = (share: number) =>
    sorted[Math.min(sorted.length - 1, Math.max(0, Math.round(share * (sorted.length - 1))))];
  return {
    value: at(0.5),
    low: at(0.025),
    high: at(0.975),
    method: 'prediction from physics, anchored on the measured baseline',
  };
}

/** Halton's sequence in one base, 0 to 1. J. H. Halton, Numerische Mathematik 2 (1960), from memory. */
function halton(index: number, base: number): number {
  let result = 0;
  let share = 1 / base;
  for (let rest = index; rest > 0; rest = Math.floor(rest / base)) {
    result += (rest % base) * share;
    share /= base;
  }
  return result;
}

/** Normal score of a probability, to 4.5e-4: Abramowitz and Stegun 26.2.23. Enough for a spread of assumptions. */
function normalScore(probability: number): number {
  const tail = Math.min(probability, 1 - probability);
  const t = Math.sqrt(-2 * Math.log(tail));
  const score = t - (2.515517 + t * (0.802853 + t * 0.010328)) / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308)));
  return probability < 0.5 ? -score : score;
}
