/**
 * Invented aeroplanes as point masses. Lift and drag follow a parabolic polar; sizes were chosen by hand so that speeds
 * and distances are those of ordinary light aeroplanes (the trends are checked in test/unit/synth).
 */
export interface Engine {
  readonly ratedPowerW: number;
  readonly ratedRpm: number;
  /** Height up to which rated power is kept (turbocharged); absent for a normally aspirated engine. */
  readonly criticalAltitudeM?: number;
  /** Fuel used per unit of shaft power when leaned, m3/J, and the idle flow, m3/s. */
  readonly fuelM3PerJ: number;
  readonly idleFuelM3ps: number;
}

export interface FixedPitchPropeller {
  readonly kind: 'fixed-pitch';
  readonly diameterM: number;
  readonly pitchM: number;
}

export interface ConstantSpeedPropeller {
  readonly kind: 'constant-speed';
  readonly diameterM: number;
  /** Share of the ideal (momentum theory) thrust reached standing still and at cruise. */
  readonly staticMerit: number;
  readonly cruiseMerit: number;
}

export type Propeller = FixedPitchPropeller | ConstantSpeedPropeller;

export interface Aeroplane {
  readonly name: string;
  readonly gear: 'tailwheel' | 'nosewheel';
  readonly emptyMassKg: number;
  readonly maximumMassKg: number;
  readonly usableFuelM3: number;
  readonly wingAreaM2: number;
  readonly spanM: number;
  readonly spanEfficiency: number;
  /** Height of the wing above the ground when standing, metres: for ground effect. */
  readonly wingHeightM: number;
  readonly zeroLiftDrag: number;
  /** Drag of a section away from the lift coefficient it is shaped for: `drag x (lift - bestLift)^2`. */
  readonly camber?: { readonly drag: number; readonly bestLift: number };
  /** Added with flaps in the take-off position (kept to 100 ft or flap retraction). */
  readonly flapDrag: number;
  readonly maximumLiftTakeoff: number;
  readonly maximumLiftClean: number;
  /** Lift coefficient while running on the main wheels before rotation, and standing on three points. */
  readonly runningLift: number;
  readonly threePointLift: number;
  /** Speeds as multiples of the stalling speed in the configuration used. */
  readonly rotationFactor: number;
  readonly climbAwayFactor: number;
  readonly climbFactor: number;
  readonly brakingFriction: number;
  readonly engine: Engine;
  readonly propeller: Propeller;
}

const avgasEngine = { fuelM3PerJ: 1.06e-10, idleFuelM3ps: 1.3e-6 } as const;

/** Short rolls: about 90 m when light. */
export const shortFieldTwoSeater: Aeroplane = {
  name: 'Larkholm Sedge',
  gear: 'tailwheel',
  emptyMassKg: 355,
  maximumMassKg: 600,
  usableFuelM3: 0.09,
  wingAreaM2: 16.6,
  spanM: 10.2,
  spanEfficiency: 0.76,
  wingHeightM: 1.9,
  zeroLiftDrag: 0.045,
  flapDrag: 0.012,
  maximumLiftTakeoff: 1.95,
  maximumLiftClean: 1.55,
  runningLift: 0.35,
  threePointLift: 1.5,
  rotationFactor: 1.02,
  climbAwayFactor: 1.25,
  climbFactor: 1.55,
  brakingFriction: 0.35,
  engine: { ratedPowerW: 52_000, ratedRpm: 2600, ...avgasEngine },
  propeller: { kind: 'fixed-pitch', diameterM: 1.72, pitchM: 1.0 },
};

/** A nosewheel trainer with a fixed-pitch propeller. */
export const trainer: Aeroplane = {
  name: 'Petrel Bay Tutor',
  gear: 'nosewheel',
  emptyMassKg: 660,
  maximumMassKg: 1060,
  usableFuelM3: 0.14,
  wingAreaM2: 15.8,
  spanM: 10.8,
  spanEfficiency: 0.75,
  wingHeightM: 2.1,
  zeroLiftDrag: 0.033,
  flapDrag: 0.01,
  maximumLiftTakeoff: 1.7,
  maximumLiftClean: 1.5,
  runningLift: 0.6,
  threePointLift: 1.2,
  rotationFactor: 1.06,
  climbAwayFactor: 1.25,
  climbFactor: 1.45,
  brakingFriction: 0.35,
  engine: { ratedPowerW: 104_000, ratedRpm: 2700, ...avgasEngine },
  propeller: { kind: 'fixed-pitch', diameterM: 1.88, pitchM: 1.35 },
};

/** A four-seater with a constant-speed propeller. */
export const tourer: Aeroplane = {
  name: 'Saltmarsh Courier',
  gear: 'nosewheel',
  emptyMassKg: 880,
  maximumMassKg: 1430,
  usableFuelM3: 0.24,
  wingAreaM2: 16.4,
  spanM: 11,
  spanEfficiency: 0.76,
  wingHeightM: 1.3,
  zeroLiftDrag: 0.027,
  flapDrag: 0.012,
  maximumLiftTakeoff: 1.75,
  maximumLiftClean: 1.5,
  runningLift: 0.55,
  threePointLift: 1.1,
  rotationFactor: 1.06,
  climbAwayFactor: 1.25,
  climbFactor: 1.45,
  brakingFriction: 0.4,
  engine: { ratedPowerW: 149_000, ratedRpm: 2700, ...avgasEngine },
  propeller: { kind: 'constant-speed', diameterM: 1.93, staticMerit: 0.5, cruiseMerit: 0.88 },
};

/** Little power, a cruise propeller, a small wing: rolls of many hundred metres high up. */
export const longRunner: Aeroplane = {
  name: 'Cormorant Ferry',
  gear: 'nosewheel',
  emptyMassKg: 610,
  maximumMassKg: 1010,
  usableFuelM3: 0.15,
  wingAreaM2: 14.2,
  spanM: 11.2,
  spanEfficiency: 0.78,
  wingHeightM: 1.1,
  zeroLiftDrag: 0.026,
  flapDrag: 0.008,
  maximumLiftTakeoff: 1.62,
  maximumLiftClean: 1.42,
  runningLift: 0.5,
  threePointLift: 1,
  rotationFactor: 1.07,
  climbAwayFactor: 1.22,
  climbFactor: 1.35,
  brakingFriction: 0.35,
  engine: { ratedPowerW: 84_000, ratedRpm: 2700, ...avgasEngine },
  propeller: { kind: 'fixed-pitch', diameterM: 1.83, pitchM: 1.4 },
};

/** A turbocharged cross-country aeroplane: climb without a slope up to the critical altitude. */
export const turboTourer: Aeroplane = {
  ...tourer,
  name: 'Saltmarsh Courier T',
  emptyMassKg: 905,
  engine: { ratedPowerW: 149_000, ratedRpm: 2600, criticalAltitudeM: 4500, ...avgasEngine },
};

export const fleet = { shortFieldTwoSeater, trainer, tourer, longRunner, turboTourer } as const;
export type FleetName = keyof typeof fleet;

/** Drag coefficient of the clean aeroplane in free air less the induced part. */
export function profileDrag(aeroplane: Aeroplane, lift: number): number {
  const { camber } = aeroplane;
  return aeroplane.zeroLiftDrag + (camber ? camber.drag * (lift - camber.bestLift) ** 2 : 0);
}

/** Equivalent airspeed at which the lift coefficient is `lift` in level flight, m/s. */
export function equivalentSpeed(massKg: number, wingAreaM2: number, lift: number): number {
  return Math.sqrt((2 * massKg * 9.80665) / (1.225 * wingAreaM2 * lift));
}

export interface Speeds {
  readonly rotationMps: number;
  readonly climbAwayMps: number;
  readonly climbMps: number;
  readonly approachMps: number;
  readonly stallCleanMps: number;
}

/** The speeds (equivalent airspeed) that its pilot uses at that mass. */
export function speedsOf(aeroplane: Aeroplane, massKg: number): Speeds {
  const stallTakeoff = equivalentSpeed(massKg, aeroplane.wingAreaM2, aeroplane.maximumLiftTakeoff);
  const stallClean = equivalentSpeed(massKg, aeroplane.wingAreaM2, aeroplane.maximumLiftClean);
  return {
    rotationMps: aeroplane.rotationFactor * stallTakeoff,
    climbAwayMps: aeroplane.climbAwayFactor * stallTakeoff,
    climbMps: aeroplane.climbFactor * stallClean,
    approachMps: 1.35 * stallTakeoff,
    stallCleanMps: stallClean,
  };
}
