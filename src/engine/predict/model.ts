import { gravityMps2, seaLevelDensityKgM3 } from '../atmosphere/constants.ts';
import { fixedPitchChange, type FixedPitchChange } from './fixed-pitch.ts';
import { powerShare, rateOfClimbMps } from './power.ts';
import { thrustN } from './propeller.ts';
import { type AirDistance, airDistanceM, groundRollM, type RollThrust } from './take-off.ts';
import { matchHalfWidth, type PropellerKind, type Unknowns } from './unknowns.ts';

/** What is known of an aeroplane's engine, propeller and wing, before or after a change. */
export interface Airframe {
  readonly massKg: number;
  readonly ratedPowerW: number;
  readonly propellerDiameterM: number;
  /** Geometric pitch of a fixed-pitch propeller, as stamped on its hub. */
  readonly propellerPitchM?: number;
  readonly propeller: PropellerKind;
  readonly spanM: number;
  /** Density ratio down to which a turbocharged engine keeps its power. */
  readonly criticalDensityRatio?: number;
}

/** What was measured of the aeroplane as it is, each at its own density ratio, level, in still air, at `massKg`. */
export interface MeasuredBaseline {
  readonly groundRollM: number;
  readonly liftoffTasMps: number;
  readonly takeoffDensityRatio: number;
  /** From the start of the roll to each screen that was measured. */
  readonly screens: readonly { readonly heightM: number; readonly distanceM: number }[];
  readonly rateOfClimbMps: number;
  readonly climbTasMps: number;
  readonly climbDensityRatio: number;
  readonly levelTasMps: number;
  /**
   * Share of rated power set in the level run, at that density ratio; 1 with full throttle means the lapse applies; absent
   * where nobody wrote it down.
   */
  readonly levelPowerShare?: number;
  readonly levelDensityRatio: number;
}

/** What a candidate alters beside power, propeller, span and mass, as factors (1 is unchanged). */
export interface Alteration {
  /** Drag area without lift: 0.95 is five per cent less. */
  readonly parasiteDragFactor: number;
  /** Greatest lift coefficient as used at lift-off. */
  readonly liftCoefficientFactor: number;
  /** Rolling friction; 1 if absent. */
  readonly rollingFrictionFactor?: number;
}

export interface Predicted {
  readonly groundRollM: number;
  /** To the screens of the baseline, in their order; undefined where the changed aeroplane does not climb away. */
  readonly screensM: readonly (number | undefined)[];
  readonly rateOfClimbMps: number;
  readonly levelTasMps: number;
  /** Density ratio at which the rate of climb has fallen to the asked rate; undefined above the model's range. */
  readonly ceilingDensityRatio?: number;
}

/**
 * Runs the changed aeroplane through the physics, anchored on what was measured: whatever the model leaves out cancels as
 * far as it is the same before and after.
 *
 * - Ground roll and air distance: see `take-off.ts`.
 * - Climb: `P_required = P_thrust - W ROC` before; after, its induced part follows weight squared and its parasite part
 *   the drag factor. FAA-H-8083-25C ch. 11.
 * - Level: `P_thrust(V) = a V^3 + b / V` with `a` from the measured run and `b` from span and Oswald's factor, at the same share
 *   of rated power.
 *
 * @returns 'contradiction' when the assumed set contradicts the measurements (say, negative drag): such a set is not possible;
 * 'no flight' when the changed aeroplane does not take off, or does not hold level flight near the speed it was flown at
 */
export function predict(
  before: Airframe,
  after: Airframe,
  baseline: MeasuredBaseline,
  alteration: Alteration,
  unknowns: Unknowns,
  askedRateMps: number,
): Predicted | 'contradiction' | 'no flight' {
  const drag = alteration.parasiteDragFactor ** unknowns.dragClaim;
  const takeOff = {
    before,
    after,
    drag,
    lift: alteration.liftCoefficientFactor ** unknowns.liftClaim,
    friction: (alteration.rollingFrictionFactor ?? 1) ** unknowns.frictionClaim,
    unknowns,
  };
  const change = fixedPitch(before, after, unknowns);
  const thrust: RollThrust = { ratio: rollingRatio(before, after, baseline.takeoffDensityRatio, change, unknowns) };
  const rateAt = climb(before, after, baseline, drag, change, unknowns);
  const roll = groundRollM(takeOff, baseline, thrust, (speed) =>
    idealThrust(before, baseline.takeoffDensityRatio, speed, unknowns),
  );
  const level = levelSpeed(before, after, baseline, unknowns, drag);
  if (rateAt === undefined || roll === 'contradiction' || level === 'contradiction') return 'contradiction';
  if (roll === undefined || level === undefined) return 'no flight';
  return {
    groundRollM: roll,
    screensM: baseline.screens.map(({ heightM, distanceM }) => {
      const air: AirDistance = { measuredM: distanceM - baseline.groundRollM, screenHeightM: heightM };
      const airM = airDistanceM(takeOff, baseline.liftoffTasMps, air, thrust);
      return airM === undefined ? undefined : roll + airM;
    }),
    rateOfClimbMps: rateAt(baseline.climbDensityRatio),
    levelTasMps: level,
    ceilingDensityRatio: densityRatioWhere(rateAt, askedRateMps),
  };
}

/** Whether engine or propeller differ at all. */
export function changedPower(before: Airframe, after: Airframe): boolean {
  return (
    before.ratedPowerW !== after.ratedPowerW ||
    before.propellerDiameterM !== after.propellerDiameterM ||
    (after.propellerPitchM !== undefined && before.propellerPitchM !== after.propellerPitchM) ||
    before.propeller !== after.propeller ||
    before.criticalDensityRatio !== after.criticalDensityRatio
  );
}

/** The change of a fixed-pitch propeller or of the engine behind it; undefined where there is none. */
function fixedPitch(before: Airframe, after: Airframe, unknowns: Unknowns): FixedPitchChange | undefined {
  const both = before.propeller === 'fixed-pitch' && after.propeller === 'fixed-pitch';
  return both && changedPower(before, after) ? fixedPitchChange(before, after, unknowns) : undefined;
}

/** Factor for the match of engine and propeller after a change of either. */
function match(before: Airframe, after: Airframe, drawn: number, level = false): number {
  if (!changedPower(before, after)) return 1;
  const kept =
    before.propeller === after.propeller &&
    before.propellerDiameterM === after.propellerDiameterM &&
    before.propellerPitchM !== undefined &&
    before.propellerPitchM === after.propellerPitchM;
  const fixed = !kept && (before.propeller === 'fixed-pitch' || after.propeller === 'fixed-pitch');
  const width = matchHalfWidth[fixed ? 'fixed-pitch' : 'constant-speed'];
  return Math.exp(drawn * (level ? Math.min(width, matchHalfWidth.level) : width));
}

function fullPowerW(airframe: Airframe, densityRatio: number): number {
  return airframe.ratedPowerW * powerShare(densityRatio, airframe.criticalDensityRatio);
}

/** Thrust of the ideal disc into which all of the power goes that this engine and propeller can give while rolling. */
function idealThrust(airframe: Airframe, densityRatio: number, speedMps: number, unknowns: Unknowns): number {
  const speed = airframe.propeller === 'fixed-pitch' ? unknowns.fixedPitchSpeedRolling : 1;
  const density = densityRatio * seaLevelDensityKgM3;
  return thrustN(speed * fullPowerW(airframe, densityRatio), airframe.propellerDiameterM, density, speedMps, 1);
}

/** Thrust after over thrust before while rolling, each at its own speed. */
function rollingRatio(
  before: Airframe,
  after: Airframe,
  densityRatio: number,
  change: FixedPitchChange | undefined,
  unknowns: Unknowns,
): RollThrust['ratio'] {
  const density = densityRatio * seaLevelDensityKgM3;
  const matched = match(before, after, unknowns.thrustMatchRolling);
  const disc = (airframe: Airframe, powerW: number, speed: number): number => {
    const shaft = airframe.propeller === 'fixed-pitch' ? unknowns.fixedPitchSpeedRolling : 1;
    const useful = unknowns.useful[airframe.propeller].rolling;
    return thrustN(shaft * powerW, airframe.propellerDiameterM, density, speed, useful);
  };
  return (speedBefore, speedAfter) => {
    const was = disc(before, fullPowerW(before, densityRatio), speedBefore);
    if (change === undefined) return (matched * disc(after, fullPowerW(after, densityRatio), speedAfter)) / was;
    const byMerit = disc(after, change.powerRolling * fullPowerW(before, densityRatio), speedAfter) / was;
    // By the coefficient at equal speed; the difference of the speeds as the disc has it.
    const slowed = disc(before, fullPowerW(before, densityRatio), speedAfter) / was;
    return matched * blend(change.thrustRolling * slowed, byMerit, unknowns.fixedPitchLaw);
  };
}

function blend(byCoefficient: number, byMerit: number, law: number): number {
  return byCoefficient ** (1 - law) * byMerit ** law;
}

/** US Standard Atmosphere 1976: how far the power line is said to be good. */
const DENSITY_RATIO_AT_15000_FT = 0.629;

/** Rate of climb after, as a function of the density ratio; undefined where the set contradicts the measured climb. */
function climb(
  before: Airframe,
  after: Airframe,
  baseline: MeasuredBaseline,
  drag: number,
  change: FixedPitchChange | undefined,
  unknowns: Unknowns,
): ((densityRatio: number) => number) | undefined {
  const { climbDensityRatio, climbTasMps } = baseline;
  const thrustPower = (airframe: Airframe, powerW: number, densityRatio: number, speedMps: number): number => {
    const shaft = airframe.propeller === 'fixed-pitch' ? unknowns.fixedPitchSpeedClimbing : 1;
    // Faster through thinner air: nearer to the advance ratio at which the propeller is best.
    const rise = (speedMps / climbTasMps) ** unknowns.efficiencyRise[airframe.propeller];
    const useful = Math.min(0.96, unknowns.useful[airframe.propeller].climbing * rise);
    const density = densityRatio * seaLevelDensityKgM3;
    const thinner = (climbDensityRatio - densityRatio) / (1 - DENSITY_RATIO_AT_15000_FT);
    const power = shaft * powerW * (1 + unknowns.powerLapse * thinner);
    return speedMps * thrustN(power, airframe.propellerDiameterM, density, speedMps, useful);
  };
  const availableBefore = (densityRatio: number, speedMps: number, more = 1): number =>
    thrustPower(before, more * fullPowerW(before, densityRatio), densityRatio, speedMps);
  const matched = match(before, after, unknowns.thrustMatchClimbing);
  const availableAfter = (densityRatio: number, speedMps: number): number => {
    if (change === undefined) {
      return matched * thrustPower(after, fullPowerW(after, densityRatio), densityRatio, speedMps);
    }
    const was = availableBefore(densityRatio, speedMps);
    const merit =
      thrustPower(after, change.powerClimbing * fullPowerW(before, densityRatio), densityRatio, speedMps) / was;
    return matched * was * blend(change.thrustClimbing, merit, unknowns.fixedPitchLaw);
  };
  const inducedBefore = inducedPower(before, climbDensityRatio, climbTasMps, unknowns.oswald);
  const requiredBefore =
    availableBefore(climbDensityRatio, climbTasMps) - before.massKg * gravityMps2 * baseline.rateOfClimbMps;
  const parasiteBefore = requiredBefore - inducedBefore;
  if (!(parasiteBefore > 0)) return undefined;
  const mass = after.massKg / before.massKg;
  const faster = mass ** unknowns.climbSpeedExponent;
  const span = before.spanM / after.spanM;
  return (densityRatio) => {
    // Same equivalent airspeed at every height: V rises with 1/sqrt(sigma), and so do both parts of the required power.
    const stretch = Math.sqrt(climbDensityRatio / densityRatio);
    const required = stretch * (parasiteBefore * drag * faster ** 3 + (inducedBefore * mass ** 2 * span ** 2) / faster);
    const rate = rateOfClimbMps(availableAfter(densityRatio, climbTasMps * stretch * faster), required, after.massKg);
    // An error of the exponent is one of the rate that was measured.
    return rate + baseline.rateOfClimbMps * (mass ** unknowns.climbMassExponent - 1);
  };
}

/** Induced power, W: `2 W^2 / (pi e b^2 rho V)`. Lifting-line theory, as in the SFTE handbook ch. 12. */
function inducedPower(airframe: Airframe, densityRatio: number, speedMps: number, oswald: number): number {
  const weight = airframe.massKg * gravityMps2;
  const density = densityRatio * seaLevelDensityKgM3;
  return (2 * weight ** 2) / (Math.PI * oswald * airframe.spanM ** 2 * density * speedMps);
}

function levelSpeed(
  before: Airframe,
  after: Airframe,
  baseline: MeasuredBaseline,
  unknowns: Unknowns,
  drag: number,
): number | undefined | 'contradiction' {
  const ratio = baseline.levelDensityRatio;
  const density = ratio * seaLevelDensityKgM3;
  const share = baseline.levelPowerShare ?? unknowns.levelPowerShare;
  const set = (airframe: Airframe) => (share >= 1 ? fullPowerW(airframe, ratio) : airframe.ratedPowerW * share);
  const available = (airframe: Airframe, speed: number) =>
    speed *
    thrustN(set(airframe), airframe.propellerDiameterM, density, speed, unknowns.useful[airframe.propeller].level);
  const induced = (airframe: Airframe, speed: number) => inducedPower(airframe, ratio, speed, unknowns.oswald);
  const parasite =
    (available(before, baseline.levelTasMps) - induced(before, baseline.levelTasMps)) / baseline.levelTasMps ** 3;
  if (!(parasite > 0)) return 'contradiction';
  const matched = match(before, after, unknowns.thrustMatchLevel, true);
  const shortfall = (speed: number) =>
    parasite * drag * speed ** 3 + induced(after, speed) - matched * available(after, speed);
  return rootBetween(shortfall, 0.6 * baseline.levelTasMps, 1.8 * baseline.levelTasMps);
}

/** Lowest density ratio of the troposphere's standard atmosphere (11 km): beyond it the model is not asked. */
const LEAST_DENSITY_RATIO = 0.2971;

function densityRatioWhere(rateAt: (densityRatio: number) => number, askedRateMps: number): number | undefined {
  if (rateAt(1) <= askedRateMps) return undefined;
  return rootBetween((densityRatio) => askedRateMps - rateAt(densityRatio), 1, LEAST_DENSITY_RATIO);
}

/** Down to a trillionth of the interval: nothing changed must be no change at all. */
const ROOT_SHARE = 1e-12;
const MOST_STEPS = 60;

/**
 * Root between two ends at which the function has different signs, the first negative; undefined where it has not. False position with
 * the end that stays halved (the Illinois algorithm: M. Dowell and P. Jarratt, BIT 11 (1971), from memory).
 */
function rootBetween(value: (at: number) => number, from: number, to: number): number | undefined {
  let low = { at: from, value: value(from) };
  let high = { at: to, value: value(to) };
  if (low.value > 0 || high.value < 0) return undefined;
  if (low.value === 0) return from;
  let stayed = 0;
  for (let step = 0; step < MOST_STEPS && Math.abs(high.at - low.at) > ROOT_SHARE * Math.abs(to - from); step += 1) {
    const at = (low.at * high.value - high.at * low.value) / (high.value - low.value);
    const found = value(at);
    if (found === 0) return at;
    if (found < 0) {
      low = { at, value: found };
      if (stayed < 0) high = { at: high.at, value: high.value / 2 };
      stayed = -1;
    } else {
      high = { at, value: found };
      if (stayed > 0) low = { at: low.at, value: low.value / 2 };
      stayed = 1;
    }
    if (Math.abs(found) < ROOT_SHARE * Math.max(Math.abs(low.value), Math.abs(high.value))) return at;
  }
  return Math.abs(low.value) < Math.abs(high.value) ? low.at : high.at;
}
