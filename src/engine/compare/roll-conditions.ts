import { densityRatio, standardAtmosphere } from '../atmosphere/index.ts';
import type { ReducedDistance, Uncertain } from '../corrections/index.ts';
import type { Surface } from '../spec/types.ts';
import { applied } from './applied.ts';
import type { CollectionRequest, UsableFlight } from './flight-runs.ts';
import type { ReducedRun, RunKinds, Target } from './run.ts';
import { airOf, headwindOf, isKnown, massOf, type SharedQuantity, slopeOf, totalSigma } from './run-conditions.ts';
import { addShifts } from './shift-sum.ts';

/** What a take-off may be of, besides brake release and full power on a dry, short, firm surface; usual size of the shift in distance. */
const usualShift = { start: 0.1, technique: 0.1, surface: 0.2 } as const;

/** Density ratio of the standard atmosphere at a density altitude. */
export function standardDensityRatio(densityAltitudeM: number): number {
  const { pressurePa, temperatureK } = standardAtmosphere(densityAltitudeM);
  return densityRatio({ pressurePa, temperatureK });
}

function surfaceState(surface: Surface | undefined): string | undefined {
  if (surface === undefined) return undefined;
  const words = [surface.wet ? 'wet' : '', surface.soft ? 'soft' : '', surface.long ? 'long' : ''].filter(
    (word) => word,
  );
  return words.length > 0 ? words.join(', ') : 'dry';
}

/** Kinds of a take-off or landing. */
export function kindsOfRoll(flight: UsableFlight, rolling: boolean | undefined): RunKinds {
  const { runway, technique, start } = flight.entry.conditions;
  const startWord =
    rolling === undefined ? undefined : rolling || start === 'rolling' ? 'rolling start' : 'standing start';
  return {
    strict: { surface: runway?.surface?.kind ?? 'surface not noted' },
    soft: {
      ...(rolling === undefined ? {} : { start: { value: startWord, usualShift: usualShift.start } }),
      'state of the surface': { value: surfaceState(runway?.surface), usualShift: usualShift.surface },
      technique: { value: technique?.trim().toLowerCase(), usualShift: usualShift.technique },
    },
  };
}

/** Conditions of a roll with all that is known of their errors; or why they are not enough. */
export interface RollConditions {
  readonly headwind: SharedQuantity;
  readonly slope: SharedQuantity;
  readonly mass: SharedQuantity;
  readonly densityRatio: SharedQuantity;
  readonly targetMass: Uncertain;
}

/** All conditions that a roll needs to be brought to the target. */
export function rollConditions(
  flight: UsableFlight,
  headingRad: number,
  timeS: number,
  { spec }: CollectionRequest,
  target: Target,
): RollConditions | string {
  const configuration = flight.entry.configuration;
  const headwind = headwindOf(flight, headingRad, timeS);
  const air = airOf(flight);
  const mass = massOf(flight, spec, timeS);
  const targetMass = target.massOf(configuration);
  if (!isKnown(headwind)) return headwind;
  if (!isKnown(air)) return air;
  if (!isKnown(mass)) return mass;
  if (targetMass === undefined) return 'The reference weight is not known for this configuration.';
  return { headwind, slope: slopeOf(flight, headingRad), mass, densityRatio: air.densityRatio, targetMass };
}

/** The conditions as the corrections take them. */
export function asUncertain(quantity: SharedQuantity): Uncertain {
  return { value: quantity.value, sigma: totalSigma(quantity) };
}

/** Names of errors that all runs with the same kind of propeller share. */
export function modelName(name: string, propeller: string): string {
  return `${name}, ${propeller}`;
}

/** Takes the errors of a reduced distance apart: what is the run's own, and what it shares with others and by which name. */
export function distanceRun(
  reduced: ReducedDistance,
  conditions: RollConditions,
  propeller: string,
  configuration: string,
): ReducedRun {
  const { shiftsM, valueM } = reduced;
  const shared: Record<string, number> = {};
  const spread = (shift: number | undefined, quantity: SharedQuantity): void => {
    const sigma = totalSigma(quantity);
    if (shift !== undefined && sigma > 0) addShifts(shared, quantity.shifts, shift / sigma);
  };
  spread(shiftsM.headwind, conditions.headwind);
  spread(shiftsM.slope, conditions.slope);
  spread(shiftsM.mass, conditions.mass);
  spread(shiftsM.density, conditions.densityRatio);
  addShifts(
    shared,
    {
      'wind exponent': shiftsM.windExponent ?? 0,
      [modelName('weight exponent', propeller)]: shiftsM.weightExponent ?? 0,
      [modelName('density exponent', propeller)]: shiftsM.densityExponent ?? 0,
      // An empty weight that is wrong moves the reference mass of its configuration the other way.
      [`empty mass ${configuration}`]:
        (shiftsM.mass ?? 0) === 0 || totalSigma(conditions.mass) === 0
          ? 0
          : (-shiftsM.mass / totalSigma(conditions.mass)) * conditions.targetMass.sigma,
    },
    1,
  );
  const own = Object.entries(shiftsM).filter(([source]) => ['distance', 'speed', 'total', 'roll'].includes(source));
  return {
    value: valueM,
    ownSigma: Math.hypot(...own.map(([, shift]) => shift)),
    shared,
    corrections: reduced.corrections.map(applied),
  };
}
