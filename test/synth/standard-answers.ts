import { type Aeroplane, speedsOf } from './aeroplane.ts';
import { type AirColumn, Air, standardAir } from './air.ts';
import { type Airfield, runwayEnds } from './airfield.ts';
import { drawTechnique } from './draw-plan.ts';
import { Pilot } from './pilot.ts';
import { Random } from './random.ts';
import { Simulation } from './simulation.ts';
import { climbHeldTo, levelSpeed, steadyClimb } from './steady.ts';
import { takeOff } from './take-off.ts';
import type { TakeoffTechnique, TrueTakeoff } from './truth.ts';
import { stillAir } from './wind-field.ts';

/** The conditions of a standard answer: still air, level runway, nominal technique from a standing start. */
export interface Standard {
  readonly densityAltitudeM: number;
  readonly climbDensityAltitudeM: number;
  readonly cruiseDensityAltitudeM: number;
  readonly rollingFriction: number;
  readonly style: TakeoffTechnique['style'];
  readonly cruisePowerShare: number;
  /** Rate for `climb-held-to`, m/s. */
  readonly heldRateMps: number;
}

export interface StandardAnswers {
  readonly 'ground-roll': number;
  readonly 'distance-over-15m': number;
  readonly 'distance-over-30m': number;
  readonly 'liftoff-speed': number;
  readonly 'rate-of-climb': number;
  readonly 'climb-held-to': number | undefined;
  readonly 'level-speed': number;
}

const flat = (elevationM: number): Airfield => ({
  name: 'standard',
  latDeg: 0,
  lonDeg: 0,
  elevationM,
  headingRad: 0,
  lengthM: 4000,
  slope: 0,
  surface: 'paved',
  rollingFriction: 0.02,
  geoidHeightM: 0,
});

export function standardAnswers(aeroplane: Aeroplane, massKg: number, standard: Standard): StandardAnswers {
  const run = nominalTakeoff(aeroplane, massKg, {
    air: standardAir(standard.densityAltitudeM),
    field: flat(standard.densityAltitudeM),
    runwayEnd: 0,
    headwindMps: 0,
    rollingFriction: standard.rollingFriction,
    style: standard.style,
  });
  const distance = (heightM: number): number =>
    run.screens.find((screen) => Math.abs(screen.heightM - heightM) < 0.01)?.distanceM ?? Number.NaN;
  const eas = speedsOf(aeroplane, massKg).climbMps;
  const climbAir = standardAir(standard.climbDensityAltitudeM);
  const cruiseAir = standardAir(standard.cruiseDensityAltitudeM);
  return {
    'ground-roll': run.groundRollM ?? Number.NaN,
    'distance-over-15m': distance(15.24),
    'distance-over-30m': distance(30.48),
    'liftoff-speed': run.liftoffTasMps ?? Number.NaN,
    'rate-of-climb': steadyClimb(aeroplane, climbAir, standard.climbDensityAltitudeM, massKg, eas),
    'climb-held-to': climbHeldTo(aeroplane, massKg, eas, standard.heldRateMps),
    'level-speed':
      levelSpeed(aeroplane, cruiseAir, standard.cruiseDensityAltitudeM, massKg, {
        kind: 'power',
        share: standard.cruisePowerShare,
      }) ?? Number.NaN,
  };
}

/** The take-off that nominal technique gives in a steady wind along the runway. */
export function nominalTakeoff(
  aeroplane: Aeroplane,
  massKg: number,
  at: {
    readonly air: Air;
    readonly field: Airfield;
    readonly runwayEnd: 0 | 1;
    /** At the height of the wing. */
    readonly headwindMps: number;
    readonly rollingFriction: number;
    readonly style: TakeoffTechnique['style'];
  },
): TrueTakeoff {
  const runway = runwayEnds(at.field)[at.runwayEnd];
  const speedAtTen = at.headwindMps / (Math.log((aeroplane.wingHeightM + 0.01) / 0.03) / Math.log(10 / 0.03));
  const setup = {
    aeroplane,
    field: at.field,
    air: at.air,
    wind: {
      ...stillAir,
      fromRad: speedAtTen < 0 ? runway.headingRad + Math.PI : runway.headingRad,
      speedMps: Math.abs(speedAtTen),
      upperFactor: 1.5,
    },
    loadKg: massKg - aeroplane.emptyMassKg,
    fuelM3: 1e-4,
    fuelDensityKgM3: 0,
    random: new Random('nominal'),
    rollingFriction: at.rollingFriction,
  };
  const sim = new Simulation(setup);
  sim.eastM = runway.startEastM;
  sim.northM = runway.startNorthM;
  sim.headingRad = runway.headingRad;
  const pilot = new Pilot(sim, new Random('nominal'), { speedSigmaMps: 0, heightSigmaM: 0 });
  pilot.stand(2, 0.02);
  const technique = drawTechnique(setup, new Random('nominal'), at.style, true);
  return takeOff(pilot, { runway, technique, kind: 'standing' });
}

/** The same air column with nothing moving in it. */
export function airOf(column: AirColumn): Air {
  return new Air(column);
}
