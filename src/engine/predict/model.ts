import { gravityMps2, seaLevelDensityKgM3 } from '../atmosphere/constants.ts';
import { powerShare, rateOfClimbMps } from './power.ts';
import { thrustN } from './propeller.ts';

/** What is known of an aeroplane's engine, propeller and wing, before or after a change. */
export interface Airframe {
  readonly massKg: number;
  readonly ratedPowerW: number;
  readonly propellerDiameterM: number;
  readonly propeller: 'fixed-pitch' | 'constant-speed';
  readonly spanM: number;
  /** Density ratio down to which a turbocharged engine keeps its power. */
  readonly criticalDensityRatio?: number;
}

/** What was measured of the aeroplane as it is, each at its own density ratio, level, in still air, at `massKg`. */
export interface MeasuredBaseline {
  readonly groundRollM: number;
  readonly liftoffTasMps: number;
  readonly takeoffDensityRatio: number;
  readonly rateOfClimbMps: number;
  readonly climbTasMps: number;
  readonly climbDensityRatio: number;
  readonly levelTasMps: number;
  /** Share of rated power set in the level run, at that density ratio; 1 with full throttle means the lapse applies. */
  readonly levelPowerShare: number;
  readonly levelDensityRatio: number;
}

/** What a candidate alters beside power, propeller and mass, as factors (1 is unchanged). */
export interface Alteration {
  /** Drag area without lift: 0.95 is five per cent less. */
  readonly parasiteDragFactor: number;
  /** Greatest lift coefficient as used at lift-off. */
  readonly liftCoefficientFactor: number;
}

/**
 * What nobody measured and a prediction has to assume. Each run of the prediction draws one set from the ranges in
 * `spread.ts`, and the width of the answer is what these unknowns make of it.
 */
export interface Unknowns {
  /** Useful share of shaft power in the disc while rolling, and in flight. */
  readonly usefulShareRolling: number;
  readonly usefulShareFlying: number;
  /** Oswald's factor. */
  readonly oswald: number;
  /** Logarithm of the error of the predicted thrust in the roll and in flight (match of engine and propeller). */
  readonly thrustMatchRolling: number;
  readonly thrustMatchFlying: number;
  /** Error of the stated drag and lift factors: their logarithm is multiplied by this. */
  readonly alterationShare: number;
  /** Mean resistance of the roll, friction and drag together, as a share of the weight. */
  readonly rollResistance: number;
  /** Share of that resistance that goes with weight (the rest with drag). */
  readonly frictionShare: number;
}

export interface Predicted {
  readonly groundRollM: number;
  readonly rateOfClimbMps: number;
  readonly levelTasMps: number;
  /** Density ratio at which the rate of climb has fallen to the asked rate; undefined above the model's range. */
  readonly ceilingDensityRatio?: number;
}

/** The mean force of a roll is that near 0.7 of lift-off speed (half of its square): FAA-H-8083-25C ch. 11, 70/50 rule. */
const MEAN_ROLL_SPEED = Math.SQRT1_2;

/**
 * Runs the changed aeroplane through the physics, anchored on what was measured: whatever the model leaves out cancels as
 * far as it is the same before and after.
 *
 * - Ground roll: `S = W V^2 / (2 g F)` with the mean excess force `F` of the measured roll; thrust is `F` and the
 *   resistance together, and is scaled as the disc's thrust at 0.7 of lift-off speed. SFTE handbook ch. 12; NACA TN-557
 *   (abstract) for what matters being thrust near 0.7 V rather than static thrust.
 * - Climb: `P_required = P_thrust - W ROC` before; after, its induced part follows weight squared and its parasite part
 *   the drag factor. FAA-H-8083-25C ch. 11.
 * - Level: `P_thrust(V) = a V^3 + b / V` with `a` from the measured run and `b` from span and Oswald's factor.
 *
 * @returns undefined when the assumed set contradicts the measurements (say, negative drag): such a set is not possible
 */
export function predict(
  before: Airframe,
  after: Airframe,
  baseline: MeasuredBaseline,
  alteration: Alteration,
  unknowns: Unknowns,
  askedRateMps: number,
): Predicted | undefined {
  const drag = alteration.parasiteDragFactor ** unknowns.alterationShare;
  const lift = alteration.liftCoefficientFactor ** unknowns.alterationShare;
  const matchRolling = changedPower(before, after) ? Math.exp(unknowns.thrustMatchRolling) : 1;
  const matchFlying = changedPower(before, after) ? Math.exp(unknowns.thrustMatchFlying) : 1;

  const roll = groundRoll(before, after, baseline, unknowns, lift, drag, matchRolling);
  if (roll === undefined) return undefined;

  const climbDensity = baseline.climbDensityRatio;
  const powerBefore = thrustPower(before, climbDensity, baseline.climbTasMps, unknowns);
  const requiredBefore = powerBefore - before.massKg * gravityMps2 * baseline.rateOfClimbMps;
  const inducedBefore = inducedPower(before, climbDensity, baseline.climbTasMps, unknowns.oswald);
  const parasiteBefore = requiredBefore - inducedBefore;
  if (!(parasiteBefore > 0)) return undefined;
  const rateAt = (densityRatio: number): number => {
    // Same equivalent airspeed at every height: V rises with 1/sqrt(sigma), and so do both parts of the required power.
    const speed = baseline.climbTasMps * Math.sqrt(climbDensity / densityRatio);
    const stretch = Math.sqrt(climbDensity / densityRatio);
    const required =
      stretch *
      (parasiteBefore * drag + inducedBefore * (after.massKg / before.massKg) ** 2 * (before.spanM / after.spanM) ** 2);
    return rateOfClimbMps(matchFlying * thrustPower(after, densityRatio, speed, unknowns), required, after.massKg);
  };

  const level = levelSpeed(before, after, baseline, unknowns, drag, matchFlying);
  if (level === undefined) return undefined;
  return {
    groundRollM: roll,
    rateOfClimbMps: rateAt(climbDensity),
    levelTasMps: level,
    ceilingDensityRatio: densityRatioWhere(rateAt, askedRateMps),
  };
}

function changedPower(before: Airframe, after: Airframe): boolean {
  return (
    before.ratedPowerW !== after.ratedPowerW ||
    before.propellerDiameterM !== after.propellerDiameterM ||
    before.propeller !== after.propeller ||
    before.criticalDensityRatio !== after.criticalDensityRatio
  );
}

function fullPowerW(airframe: Airframe, densityRatio: number): number {
  return airframe.ratedPowerW * powerShare(densityRatio, airframe.criticalDensityRatio);
}

function thrustPower(airframe: Airframe, densityRatio: number, speedMps: number, unknowns: Unknowns): number {
  const density = densityRatio * seaLevelDensityKgM3;
  const power = fullPowerW(airframe, densityRatio);
  return speedMps * thrustN(power, airframe.propellerDiameterM, density, speedMps, unknowns.usefulShareFlying);
}

/** Induced power, W: `2 W^2 / (pi e b^2 rho V)`. Lifting-line theory, as in the SFTE handbook ch. 12. */
function inducedPower(airframe: Airframe, densityRatio: number, speedMps: number, oswald: number): number {
  const weight = airframe.massKg * gravityMps2;
  const density = densityRatio * seaLevelDensityKgM3;
  return (2 * weight ** 2) / (Math.PI * oswald * airframe.spanM ** 2 * density * speedMps);
}

function groundRoll(
  before: Airframe,
  after: Airframe,
  baseline: MeasuredBaseline,
  unknowns: Unknowns,
  lift: number,
  drag: number,
  match: number,
): number | undefined {
  const ratio = baseline.takeoffDensityRatio;
  const density = ratio * seaLevelDensityKgM3;
  const speedBefore = baseline.liftoffTasMps;
  const speedAfter = speedBefore * Math.sqrt(after.massKg / before.massKg / lift);
  const discThrust = (airframe: Airframe, speed: number) =>
    thrustN(
      fullPowerW(airframe, ratio),
      airframe.propellerDiameterM,
      density,
      MEAN_ROLL_SPEED * speed,
      unknowns.usefulShareRolling,
    );
  const excessBefore = (before.massKg * speedBefore ** 2) / (2 * baseline.groundRollM);
  const resistance = unknowns.rollResistance * before.massKg * gravityMps2;
  const thrustBefore = excessBefore + resistance;
  // An ideal disc of this power and diameter cannot pull more: then the roll, the power or the speed is misstated.
  if (thrustBefore > discThrust(before, speedBefore) / unknowns.usefulShareRolling) return undefined;
  const thrustAfter = (match * thrustBefore * discThrust(after, speedAfter)) / discThrust(before, speedBefore);
  const friction = unknowns.frictionShare * resistance * (after.massKg / before.massKg);
  const airDrag = (1 - unknowns.frictionShare) * resistance * drag * (speedAfter / speedBefore) ** 2;
  const excessAfter = thrustAfter - friction - airDrag;
  if (!(excessAfter > 0)) return undefined;
  return (after.massKg * speedAfter ** 2) / (2 * excessAfter);
}

function levelSpeed(
  before: Airframe,
  after: Airframe,
  baseline: MeasuredBaseline,
  unknowns: Unknowns,
  drag: number,
  match: number,
): number | undefined {
  const ratio = baseline.levelDensityRatio;
  const density = ratio * seaLevelDensityKgM3;
  const set = (airframe: Airframe) =>
    baseline.levelPowerShare >= 1 ? fullPowerW(airframe, ratio) : airframe.ratedPowerW * baseline.levelPowerShare;
  const available = (airframe: Airframe, speed: number) =>
    speed * thrustN(set(airframe), airframe.propellerDiameterM, density, speed, unknowns.usefulShareFlying);
  const induced = (airframe: Airframe, speed: number) => inducedPower(airframe, ratio, speed, unknowns.oswald);
  const parasite =
    (available(before, baseline.levelTasMps) - induced(before, baseline.levelTasMps)) / baseline.levelTasMps ** 3;
  if (!(parasite > 0)) return undefined;
  const shortfall = (speed: number) =>
    parasite * drag * speed ** 3 + induced(after, speed) - match * available(after, speed);
  return bisect(shortfall, 0.6 * baseline.levelTasMps, 1.8 * baseline.levelTasMps);
}

/** Lowest density ratio of the troposphere's standard atmosphere (11 km): beyond it the model is not asked. */
const LEAST_DENSITY_RATIO = 0.2971;

function densityRatioWhere(rateAt: (densityRatio: number) => number, askedRateMps: number): number | undefined {
  if (rateAt(1) <= askedRateMps) return undefined;
  return bisect((densityRatio) => askedRateMps - rateAt(densityRatio), 1, LEAST_DENSITY_RATIO);
}

/** Root between two ends at which the function has different signs, the first negative; undefined where it has not. */
function bisect(value: (at: number) => number, from: number, to: number): number | undefined {
  let low = from;
  let high = to;
  if (value(low) > 0 || value(high) < 0) return undefined;
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2;
    if (value(middle) < 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
