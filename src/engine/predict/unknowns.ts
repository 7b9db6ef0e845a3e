import type { SurfaceKind } from '../spec/types.ts';

export type PropellerKind = 'fixed-pitch' | 'constant-speed';

/** Share of the shaft power that reaches the ideal disc: rolling, in the climb, in level cruise. */
export interface UsefulShare {
  readonly rolling: number;
  readonly climbing: number;
  readonly level: number;
}

/**
 * What nobody measured and a prediction has to assume. Each run of the prediction draws one set from {@link ranges}, and the
 * width of the answer is what these unknowns make of it. Logarithms and shares are dimensionless.
 */
export interface Unknowns {
  readonly useful: Readonly<Record<PropellerKind, UsefulShare>>;
  /** Exponent with which the useful share rises with true airspeed above that of the climb (thinner air). */
  readonly efficiencyRise: Readonly<Record<PropellerKind, number>>;
  /** Engine speed of a fixed-pitch propeller over the rated one, rolling and climbing. */
  readonly fixedPitchSpeedRolling: number;
  readonly fixedPitchSpeedClimbing: number;
  /** Error of the power line of an engine in thinner air: share of the power lost or kept by 15,000 ft. */
  readonly powerLapse: number;
  /** 1: a changed fixed-pitch propeller keeps its figure of merit; 0: it keeps its thrust coefficient. */
  readonly fixedPitchLaw: number;
  /** Where between re-matched (0) and as its old pitch has it (1) the engine speed of a changed fixed-pitch propeller settles. */
  readonly fixedPitchSettling: number;
  /** Logarithm of the error of that engine speed. */
  readonly fixedPitchSpeedError: number;
  /** Exponents with pitch: of the static power and thrust coefficients, of the thrust while climbing. */
  readonly powerWithPitch: number;
  readonly thrustWithPitch: number;
  readonly climbThrustWithPitch: number;
  /** Error of the thrust after a change of power or propeller, -1 to 1, times the width of its kind. */
  readonly thrustMatchRolling: number;
  readonly thrustMatchClimbing: number;
  readonly thrustMatchLevel: number;
  /** Oswald's factor. */
  readonly oswald: number;
  /** Error of the claims: the logarithm of the stated factor is multiplied by this. */
  readonly dragClaim: number;
  readonly liftClaim: number;
  readonly frictionClaim: number;
  /** Friction coefficient of the roll, and the mean share of the weight that is on the wheels. */
  readonly friction: number;
  readonly wheelLoad: number;
  /** Mean drag in the roll over the weight, and how much of it comes from lift. */
  readonly rollDrag: number;
  readonly rollInducedShare: number;
  /** Part of the roll that goes by while the throttle opens and the nose comes up, whatever the thrust. */
  readonly unscaledRoll: number;
  /** Error of the exponent of mass in the roll, in the air distance and in the rate of climb. */
  readonly rollMassExponent: number;
  readonly airMassExponent: number;
  readonly climbMassExponent: number;
  /** Drag over weight between lift-off and the screen, how much of it comes from lift, and the speed there over that at lift-off. */
  readonly airDrag: number;
  readonly airInducedShare: number;
  readonly screenSpeed: number;
  /** Exponent of mass in the climb speed: 0 is the same speed, 0.5 the same lift coefficient. */
  readonly climbSpeedExponent: number;
  /** Share of rated power in the level run where it was not stated. */
  readonly levelPowerShare: number;
}

type Range = readonly [low: number, high: number];

/**
 * Ranges of what a prediction has to assume, each with its reason. Uniform between the ends.
 *
 * - Useful share of the power at the mean speed of the roll: a figure of merit of 0.6 to 0.8 for propellers not stalled
 *   (second-hand), 0.4 to 0.6 standing still for a pitch chosen for cruise (stalled), and the share of cruise reached half way
 *   from there. In flight 0.8 to 0.92 of the ideal disc (real cruise
 *   efficiencies of 0.75 to 0.85 against Froude's 0.92 to 0.95: from memory); a fixed pitch off its best advance ratio less.
 * - Rise of the useful share with speed: a fixed pitch climbs below the advance ratio of its best efficiency and comes nearer
 *   to it as the air gets thinner; 0.05 to 0.1 of efficiency for a third more speed (from memory of propeller charts).
 * - Power line of the engine: good to a few per cent up to 15,000 ft (SFTE handbook ch. 10).
 * - Engine speed of a fixed pitch while rolling 0.8 to 0.96 of the rated, climbing 0.86 to 1 (static limits of type-certificate
 *   data sheets of 0.78 to 0.93, from memory, and the rise with speed).
 * - A changed fixed-pitch propeller, see `fixed-pitch.ts`; its engine speed settles within 5 % of what is reckoned.
 * - Match of engine and propeller after a change of either: installation, cooling, tips (own judgement).
 * - A stated change of drag, lift or friction is somebody's claim: 0.4 to 1.55 of it, which is right within a third about two
 *   times in three, and rather too great than too small. Of a greater lift
 *   coefficient nothing to one and a quarter: the angle at which it is reached is often more than the attitude on the wheels
 *   or a pilot's rotation gives (own judgement, stated).
 * - Friction 0.015 to 0.025 on hard ground (SFTE handbook ch. 12), let reach 0.03 for tyres that are not new; 0.04 to 0.1 on
 *   grass and 0.02 to 0.1 where the surface is not known (from memory). Mean load on the wheels: lift goes with speed squared
 *   and carries 0.2 to 0.7 of the weight before lift-off, so 0.65 to 0.9 in the mean.
 * - Drag of the roll 0.005 to 0.05 of the weight in the mean: half of what it is at lift-off, where the aeroplane has a lift-to-drag
 *   ratio of 7 to 12 if the wing carries it, and a third of that with the wing held flat in ground
 *   effect; a tenth to seven tenths of it come from lift, most in a three-point attitude.
 * - Throttle opening and rotation take two to three seconds that more thrust does not shorten: up to 0.15 of the roll.
 * - Exponent of mass, as one standard deviation: 0.2 for the roll (the FAA's text example implies 2.27, its table 2.40 to
 *   2.55, the flight-test handbook has 2.4 and 2.6), 0.4 for the air distance (with density the FAA's
 *   table has -3.8 where the handbook has -2.2; with mass nobody published a second figure), 0.15 for the rate
 *   of climb (rules between -1.3 and -2, from memory).
 * - Between lift-off and screen: lift-to-drag 6 to 11 with the flaps out (from memory); near the speed of least power three
 *   quarters of the drag come from lift (SFTE handbook ch. 12), less in ground effect and faster; 1.2 of the stall at the screen
 *   over 1.0 to 1.15 at lift-off (14 CFR 23.51, 2003).
 * - Climb at the same speed or at the same lift coefficient when the mass changes: pilots do either.
 * - Oswald's factor of straight wings with struts or fuselage: 0.6 to 0.88 (from memory of text-book tables, as for the
 *   correction of climbs to another weight).
 * - Level cruise at 55 to 80 % of rated power (common practice, no source).
 */
export const ranges = {
  usefulRolling: { 'fixed-pitch': [0.55, 0.8], 'constant-speed': [0.6, 0.85] },
  usefulClimbing: { 'fixed-pitch': [0.75, 0.9], 'constant-speed': [0.77, 0.92] },
  usefulLevel: { 'fixed-pitch': [0.75, 0.92], 'constant-speed': [0.8, 0.93] },
  efficiencyRise: { 'fixed-pitch': [0, 0.3], 'constant-speed': [0, 0.15] },
  powerLapse: [-0.04, 0.04],
  fixedPitchSpeedRolling: [0.8, 0.96],
  fixedPitchSpeedClimbing: [0.86, 1],
  fixedPitchLaw: [0, 1],
  fixedPitchSettling: [0, 1],
  fixedPitchSpeedError: [-0.05, 0.05],
  powerWithPitch: [0.7, 1.4],
  thrustWithPitch: [0, 0.6],
  climbThrustWithPitch: [0.1, 0.9],
  oswald: [0.6, 0.88],
  dragClaim: [0.4, 1.55],
  liftClaim: [0, 1.25],
  frictionClaim: [0.4, 1.55],
  wheelLoad: [0.65, 0.9],
  rollDrag: [0.005, 0.05],
  rollInducedShare: [0.1, 0.7],
  unscaledRoll: [0, 0.15],
  airDrag: [0.09, 0.17],
  airInducedShare: [0.4, 0.75],
  screenSpeed: [1.05, 1.25],
  climbSpeedExponent: [0, 0.5],
  levelPowerShare: [0.55, 0.8],
} as const satisfies Record<string, Range | Record<PropellerKind, Range>>;

/** One sigma of the exponents of mass (see {@link ranges}). */
const massExponentSigma = { roll: 0.2, air: 0.4, climb: 0.15 } as const;

/** Half widths of the logarithm of the thrust after a change of power or propeller. */
export const matchHalfWidth = {
  /** A constant-speed propeller takes up the power wherever it is. */
  'constant-speed': 0.04,
  /** A changed fixed-pitch propeller, on top of what `fixed-pitch.ts` leaves open: shape and stall of its blades. */
  'fixed-pitch': 0.1,
  /** In level cruise either kind works near its best efficiency, which differs little from one propeller to the next. */
  level: 0.06,
} as const;

/** Friction coefficients by surface. */
export function frictionRange(surface: SurfaceKind | undefined): Range {
  if (surface === 'paved') return [0.015, 0.03];
  return surface === 'grass' ? [0.04, 0.1] : [0.02, 0.1];
}

/** How many uniform numbers {@link drawUnknowns} takes. */
export const unknownsTaken = 37;

/**
 * One set of unknowns from {@link unknownsTaken} numbers between 0 and 1.
 *
 * @param normalScore turns one of them into a standard normal deviate
 */
export function drawUnknowns(
  uniform: readonly number[],
  surface: SurfaceKind | undefined,
  normalScore: (probability: number) => number,
): Unknowns {
  let taken = 0;
  const next = (): number => uniform[taken++];
  const of = ([low, high]: Range): number => low + (high - low) * next();
  const shares = (kind: PropellerKind): UsefulShare => ({
    rolling: of(ranges.usefulRolling[kind]),
    climbing: of(ranges.usefulClimbing[kind]),
    level: of(ranges.usefulLevel[kind]),
  });
  return {
    useful: { 'fixed-pitch': shares('fixed-pitch'), 'constant-speed': shares('constant-speed') },
    efficiencyRise: {
      'fixed-pitch': of(ranges.efficiencyRise['fixed-pitch']),
      'constant-speed': of(ranges.efficiencyRise['constant-speed']),
    },
    powerLapse: of(ranges.powerLapse),
    fixedPitchSpeedRolling: of(ranges.fixedPitchSpeedRolling),
    fixedPitchSpeedClimbing: of(ranges.fixedPitchSpeedClimbing),
    fixedPitchLaw: of(ranges.fixedPitchLaw),
    fixedPitchSettling: of(ranges.fixedPitchSettling),
    fixedPitchSpeedError: of(ranges.fixedPitchSpeedError),
    powerWithPitch: of(ranges.powerWithPitch),
    thrustWithPitch: of(ranges.thrustWithPitch),
    climbThrustWithPitch: of(ranges.climbThrustWithPitch),
    thrustMatchRolling: of([-1, 1]),
    thrustMatchClimbing: of([-1, 1]),
    thrustMatchLevel: of([-1, 1]),
    oswald: of(ranges.oswald),
    dragClaim: of(ranges.dragClaim),
    liftClaim: of(ranges.liftClaim),
    frictionClaim: of(ranges.frictionClaim),
    friction: of(frictionRange(surface)),
    wheelLoad: of(ranges.wheelLoad),
    rollDrag: of(ranges.rollDrag),
    rollInducedShare: of(ranges.rollInducedShare),
    unscaledRoll: of(ranges.unscaledRoll),
    rollMassExponent: massExponentSigma.roll * normalScore(next()),
    airMassExponent: massExponentSigma.air * normalScore(next()),
    climbMassExponent: massExponentSigma.climb * normalScore(next()),
    airDrag: of(ranges.airDrag),
    airInducedShare: of(ranges.airInducedShare),
    screenSpeed: of(ranges.screenSpeed),
    climbSpeedExponent: of(ranges.climbSpeedExponent),
    levelPowerShare: of(ranges.levelPowerShare),
  };
}
