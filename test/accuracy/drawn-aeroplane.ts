import { type Aeroplane, fleet, type FleetName, speedsOf } from '../synth/aeroplane.ts';
import { standardAir } from '../synth/air.ts';
import type { Random } from '../synth/random.ts';
import { settled, steadyClimb } from '../synth/steady.ts';

const planes: readonly FleetName[] = ['shortFieldTwoSeater', 'trainer', 'tourer', 'longRunner', 'turboTourer'];

/** An aeroplane near one of the fleet: size, wing, drag, power and propeller are drawn so far apart as light aeroplanes lie. */
export function drawAeroplane(random: Random, only: readonly FleetName[] = planes): Aeroplane {
  for (;;) {
    const base = fleet[random.pick(only)];
    const around = (share: number): number => 1 + random.uniform(-share, share);
    const size = around(0.12);
    const propeller = base.propeller;
    const aeroplane: Aeroplane = {
      ...base,
      emptyMassKg: Math.round(base.emptyMassKg * size),
      maximumMassKg: Math.round(base.maximumMassKg * size),
      wingAreaM2: base.wingAreaM2 * around(0.1),
      spanM: Number((base.spanM * around(0.08)).toFixed(2)),
      spanEfficiency: random.uniform(0.66, 0.84),
      zeroLiftDrag: base.zeroLiftDrag * around(0.2),
      flapDrag: base.flapDrag * around(0.4),
      maximumLiftTakeoff: base.maximumLiftTakeoff * around(0.08),
      runningLift: base.runningLift * around(0.25),
      rotationFactor: base.rotationFactor * around(0.02),
      climbAwayFactor: base.climbAwayFactor * around(0.03),
      climbFactor: base.climbFactor * around(0.06),
      engine: { ...base.engine, ratedPowerW: Math.round(base.engine.ratedPowerW * around(0.15)) },
      propeller:
        propeller.kind === 'fixed-pitch'
          ? {
              ...propeller,
              diameterM: Number((propeller.diameterM * around(0.04)).toFixed(2)),
              pitchM: propeller.pitchM * around(0.09),
            }
          : {
              ...propeller,
              diameterM: Number((propeller.diameterM * around(0.05)).toFixed(2)),
              staticMerit: random.uniform(0.44, 0.6),
              cruiseMerit: random.uniform(0.82, 0.92),
            },
    };
    if (ordinary(aeroplane)) return aeroplane;
  }
}

/** Climbs as light aeroplanes do, and does not overspeed or labour standing still. */
function ordinary(aeroplane: Aeroplane): boolean {
  const massKg = referenceMassOf(aeroplane);
  const air = standardAir(0);
  const rateMps = steadyClimb(aeroplane, air, 0, massKg, speedsOf(aeroplane, massKg).climbMps);
  const staticShare = settled(aeroplane, air, 0, 1, 0).rpm / aeroplane.engine.ratedRpm;
  return rateMps > 2 && rateMps < 8 && staticShare > 0.76 && staticShare < 1.01;
}

/** Two people and half of the fuel, as in the simulated campaigns. */
export function referenceMassOf(aeroplane: Aeroplane): number {
  return Math.round(aeroplane.emptyMassKg + 0.62 * (aeroplane.maximumMassKg - aeroplane.emptyMassKg));
}

/** Static rpm at full throttle, sea level. */
export function staticRpm(aeroplane: Aeroplane): number {
  return settled(aeroplane, standardAir(0), 0, 1, 0).rpm;
}
