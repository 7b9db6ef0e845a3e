import type { Measured } from '../../../shared/measured.ts';
import type { SurfaceKind } from '../spec/types.ts';
import { predict, type Airframe, type Alteration, type MeasuredBaseline } from './model.ts';
import { drawUnknowns, unknownsTaken } from './unknowns.ts';

export interface SpreadInput {
  readonly before: Airframe;
  readonly after: Airframe;
  readonly baseline: MeasuredBaseline;
  /** One sigma of each measured value, as a fraction; of the distance over the screen that of its ratio to the roll. */
  readonly baselineSigma: {
    readonly groundRoll: number;
    readonly rateOfClimb: number;
    readonly levelTas: number;
    /** 0.02 if absent. */
    readonly liftoffTas?: number;
  };
  readonly alteration: Alteration;
  /** Surface of the measured rolls, for the friction. */
  readonly surface?: SurfaceKind;
  /** Rate down to which the climb is followed, m/s (0.508 is 100 ft/min: the service ceiling). */
  readonly askedRateMps: number;
}

export interface PredictionSpread {
  readonly groundRollM: Measured;
  readonly groundRollChange: Measured;
  /** To each screen of the baseline; absent where many of the assumed sets do not climb away. */
  readonly screens: readonly (
    | { readonly heightM: number; readonly distanceM: Measured; readonly change: Measured }
    | undefined
  )[];
  readonly rateOfClimbMps: Measured;
  readonly rateOfClimbChange: Measured;
  readonly levelTasMps: Measured;
  readonly levelTasChange: Measured;
  /** Density ratio at which the asked rate is still reached. */
  readonly ceilingDensityRatio?: Measured;
  /** Share of the assumed sets that contradict the measurements: large means the given data do not fit together. */
  readonly impossibleShare: number;
  /** Share of the sets that fit, but with which the changed aeroplane does not take off or hold level flight. */
  readonly noFlightShare: number;
}

const DRAWS = 1500;
/** Errors of the baseline drawn beside the unknowns: roll, climb, level speed, lift-off speed. */
const baselineTaken = 4;
/** Of a lift-off speed from the track and a noted wind, mean of several flights (own judgement). */
const usualLiftoffSigma = 0.02;

/**
 * Predicted values and changes (fractions) with the 95 % range that the unknowns and the measured baseline leave.
 * Deterministic: the unknowns are drawn from a fixed sequence, so the same input gives the same answer everywhere.
 *
 * @returns undefined when (nearly) no assumed set fits the measurements (power, span, speeds or roll are then misstated) or flies
 * with the change
 */
export function predictionSpread(input: SpreadInput): PredictionSpread | undefined {
  const { before, after, alteration, baselineSigma } = input;
  const seen = { rolls: newPair(), climbs: newPair(), levels: newPair() };
  const screens = input.baseline.screens.map(() => newPair());
  const ceilings: number[] = [];
  let fitting = 0;
  let contradicting = 0;
  for (let draw = 1; draw <= DRAWS; draw += 1) {
    const uniform = uniformSet(draw, unknownsTaken + baselineTaken);
    const unknowns = drawUnknowns(uniform, input.surface, normalScore);
    const [roll, climb, level, liftoff] = uniform.slice(unknownsTaken).map(normalScore);
    const baseline = disturbed(input.baseline, baselineSigma, { roll, climb, level, liftoff });
    const result = predict(before, after, baseline, alteration, unknowns, input.askedRateMps);
    if (result === 'contradiction') contradicting += 1;
    if (typeof result === 'string') continue;
    fitting += 1;
    keep(seen.rolls, result.groundRollM, baseline.groundRollM);
    for (const [index, pair] of screens.entries())
      keep(pair, result.screensM[index], baseline.screens[index].distanceM);
    keep(seen.climbs, result.rateOfClimbMps, baseline.rateOfClimbMps);
    keep(seen.levels, result.levelTasMps, baseline.levelTasMps);
    if (result.ceilingDensityRatio !== undefined) ceilings.push(result.ceilingDensityRatio);
  }
  if (fitting < DRAWS / 10) return undefined;
  // A distance or a ceiling that many of the sets do not reach at all has no middle to be told.
  const mostly = (values: readonly number[]): boolean => values.length > 0.975 * fitting;
  return {
    groundRollM: middle95(seen.rolls.values),
    groundRollChange: middle95(seen.rolls.changes),
    screens: screens.map(({ values, changes }, index) =>
      mostly(values)
        ? {
            heightM: input.baseline.screens[index].heightM,
            distanceM: middle95(values),
            change: middle95(changes),
          }
        : undefined,
    ),
    rateOfClimbMps: middle95(seen.climbs.values),
    rateOfClimbChange: middle95(seen.climbs.changes),
    levelTasMps: middle95(seen.levels.values),
    levelTasChange: middle95(seen.levels.changes),
    ceilingDensityRatio: mostly(ceilings) ? middle95(ceilings) : undefined,
    impossibleShare: contradicting / DRAWS,
    noFlightShare: 1 - fitting / Math.max(1, DRAWS - contradicting),
  };
}

interface Pair {
  readonly values: number[];
  readonly changes: number[];
}

function newPair(): Pair {
  return { values: [], changes: [] };
}

function keep(pair: Pair, value: number | undefined, was: number | undefined): void {
  if (value === undefined || was === undefined) return;
  pair.values.push(value);
  pair.changes.push(value / was - 1);
}

function disturbed(
  baseline: MeasuredBaseline,
  sigma: SpreadInput['baselineSigma'],
  score: { readonly roll: number; readonly climb: number; readonly level: number; readonly liftoff: number },
): MeasuredBaseline {
  // Roll and distance over the screen come from the same take-offs and err together.
  const roll = Math.exp(sigma.groundRoll * score.roll);
  return {
    ...baseline,
    groundRollM: baseline.groundRollM * roll,
    screens: baseline.screens.map((screen) => ({ ...screen, distanceM: screen.distanceM * roll })),
    liftoffTasMps: baseline.liftoffTasMps * Math.exp((sigma.liftoffTas ?? usualLiftoffSigma) * score.liftoff),
    rateOfClimbMps: baseline.rateOfClimbMps * (1 + sigma.rateOfClimb * score.climb),
    levelTasMps: baseline.levelTasMps * (1 + sigma.levelTas * score.level),
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

const PRIMES = [
  2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53, 59, 61, 67, 71, 73, 79, 83, 89, 97, 101, 103, 107, 109,
  113, 127, 131, 137, 139, 149, 151, 157, 163, 167, 173, 179, 181,
];

/**
 * Numbers between 0 and 1 that fill a cube of many dimensions evenly: fractional parts of multiples of square roots of
 * primes. R. D. Richtmyer (1951), from memory.
 */
function uniformSet(index: number, count: number): number[] {
  return PRIMES.slice(0, count).map((prime) => {
    const at = (index * Math.sqrt(prime)) % 1;
    return Math.min(1 - 1e-9, Math.max(1e-9, at));
  });
}

/** Normal score of a probability, to 4.5e-4: Abramowitz and Stegun 26.2.23. Enough for a spread of assumptions. */
function normalScore(probability: number): number {
  const tail = Math.min(probability, 1 - probability);
  const t = Math.sqrt(-2 * Math.log(tail));
  const score = t - (2.515517 + t * (0.802853 + t * 0.010328)) / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308)));
  return probability < 0.5 ? -score : score;
}
