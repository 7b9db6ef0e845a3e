import type { Aeroplane } from './aeroplane.ts';

/** What an owner does to an aeroplane, as factors on the simulated one. All absent: nothing at all. */
export interface Modification {
  readonly name: string;
  readonly massKg?: number;
  readonly power?: number;
  readonly zeroLiftDrag?: number;
  /** Factor on the lift coefficient at which it stalls and is rotated, flaps for take-off and up. */
  readonly maximumLift?: number;
  readonly threePointLift?: number;
  readonly rollingFriction?: number;
  /** A drooped leading edge: lifts further, costs drag away from its best lift coefficient. */
  readonly camber?: { readonly drag: number; readonly bestLift: number };
}

export const modifications = {
  none: { name: 'nothing that flies: new upholstery of the same weight' },
  'vortex-generators': { name: 'vortex generators', maximumLift: 1.09, zeroLiftDrag: 1.015, massKg: 1 },
  'leading-edge-cuffs': {
    name: 'drooped leading edge',
    maximumLift: 1.13,
    camber: { drag: 0.0125, bestLift: 0.72 },
    massKg: 4,
  },
  lighter: { name: 'lighter interior', massKg: -28 },
  fairings: { name: 'wheel fairings', zeroLiftDrag: 0.9, massKg: 6 },
  'large-tyres': { name: 'large tyres', zeroLiftDrag: 1.1, massKg: 9, rollingFriction: 0.85 },
  'more-power': { name: 'more power', power: 1.12 },
} as const satisfies Record<string, Modification>;

export type ModificationName = keyof typeof modifications;

export function modified(aeroplane: Aeroplane, change: Modification): Aeroplane {
  const lift = change.maximumLift ?? 1;
  return {
    ...aeroplane,
    emptyMassKg: aeroplane.emptyMassKg + (change.massKg ?? 0),
    zeroLiftDrag: aeroplane.zeroLiftDrag * (change.zeroLiftDrag ?? 1),
    maximumLiftTakeoff: aeroplane.maximumLiftTakeoff * lift,
    // The pilot keeps the climb speed: vortex generators lower the stall, not the speed of best climb.
    maximumLiftClean: aeroplane.maximumLiftClean * lift,
    climbFactor: aeroplane.climbFactor * Math.sqrt(lift),
    ...(change.camber && { camber: change.camber }),
    threePointLift: aeroplane.threePointLift * (change.threePointLift ?? 1),
    engine: { ...aeroplane.engine, ratedPowerW: aeroplane.engine.ratedPowerW * (change.power ?? 1) },
  };
}
