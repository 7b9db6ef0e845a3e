import type { TruthTable } from './recorder.ts';

/** What truly happened in a simulated flight. Times are Unix seconds (UTC); the rest SI. Heights are of the wheels. */
export type TruePhaseKind =
  | 'standing'
  | 'taxi'
  | 'takeoff-roll'
  | 'initial-climb'
  | 'climb'
  | 'cruise'
  | 'descent'
  | 'approach'
  | 'landing-roll';

export interface TruePhase {
  readonly kind: TruePhaseKind;
  readonly startS: number;
  readonly endS: number;
}

export interface TrueTakeoff {
  readonly kind: 'standing' | 'rolling' | 'touch-and-go';
  readonly outcome: 'flown' | 'rejected' | 'touch-and-go';
  readonly technique: TakeoffTechnique['style'];
  /** Brakes released or, on the move, the throttle begins to open. */
  readonly rollStartS: number;
  /** First moment above 0.1 m/s: a little later than the release when standing. */
  readonly firstMotionS: number;
  readonly startSpeedMps: number;
  /** Last contact of the wheels. Absent when rejected. */
  readonly liftoffS?: number;
  readonly groundRollM?: number;
  readonly liftoffGroundSpeedMps?: number;
  readonly liftoffTasMps?: number;
  /** Wheels that high above the point of lift-off; distance along the ground from the start of the roll. */
  readonly screens: readonly { readonly heightM: number; readonly timeS: number; readonly distanceM: number }[];
  /** Mean over the roll, at the height of the wing; positive ahead. */
  readonly headwindMps: number;
  readonly headingRad: number;
  readonly slope: number;
  readonly rollingFriction: number;
  readonly massKg: number;
  readonly densityKgM3: number;
  readonly temperatureK: number;
  readonly densityAltitudeM: number;
  /** When a rejected take-off came to rest or to taxiing speed. */
  readonly stoppedS?: number;
}

export interface TrueLanding {
  readonly touchdownS: number;
  readonly touchdownGroundSpeedMps: number;
  /** End of the braking: standing or taxiing speed. Absent on a touch-and-go. */
  readonly stopS?: number;
  readonly groundRollM?: number;
  readonly headingRad: number;
}

export interface TrueBand {
  /** True height above mean sea level. */
  readonly fromHeightM: number;
  readonly toHeightM: number;
  readonly startS: number;
  readonly endS: number;
  readonly rateOverGroundMps: number;
  readonly rateThroughAirMps: number;
  /** Through the air, with the gain of kinetic energy counted in. */
  readonly energyRateMps: number;
  readonly densityAltitudeM: number;
  readonly massKg: number;
  readonly tasMps: number;
  /** What the aeroplane would do there without any disturbance. */
  readonly steadyStillAirMps: number;
}

export interface TrueClimb {
  readonly startS: number;
  readonly endS: number;
  readonly fromHeightM: number;
  readonly toHeightM: number;
  readonly rateOverGroundMps: number;
  readonly rateThroughAirMps: number;
  readonly bands: readonly TrueBand[];
}

export interface TrueLevelRun {
  readonly kind: 'leg' | 'turn';
  readonly setting: string;
  readonly startS: number;
  readonly endS: number;
  readonly tasMps: number;
  readonly groundSpeedMps: number;
  readonly windEastMps: number;
  readonly windNorthMps: number;
  readonly airUpMps: number;
  readonly heightM: number;
  readonly densityAltitudeM: number;
  readonly massKg: number;
  readonly rpm: number;
  readonly shaftPowerW: number;
  readonly fuelFlowM3ps: number;
}

export interface FlightTruth {
  readonly epochS: number;
  readonly phases: readonly TruePhase[];
  readonly takeoffs: readonly TrueTakeoff[];
  readonly landings: readonly TrueLanding[];
  readonly climbs: readonly TrueClimb[];
  readonly levelRuns: readonly TrueLevelRun[];
  readonly fuelUsedM3: number;
  readonly takeoffMassKg: number;
}

/** How a pilot takes off. Speeds are equivalent airspeeds. */
export interface TakeoffTechnique {
  readonly style: 'three-point' | 'tail-high' | 'nosewheel' | 'soft-field';
  /** Seconds from idle to full throttle. */
  readonly throttleRampS: number;
  /** Power set against the brakes for so long before they are released; 0: released as the throttle opens. */
  readonly holdOnBrakesS: number;
  readonly rotationMps: number;
  /** Rise of the lift coefficient while rotating, a second. */
  readonly rotationRate: number;
  /** Share of the excess power that goes into speed rather than height after lift-off. */
  readonly accelerateShare: number;
  readonly climbAwayMps: number;
  /** Lets it down after lift-off to gain speed: in gusts or with little power it may touch once more. */
  readonly settles: boolean;
  /** Ground speed as the throttle opens; 0 for a standing start. */
  readonly startSpeedMps: number;
}

export interface Flown {
  readonly table: TruthTable;
  readonly truth: FlightTruth;
}
