import type { Air } from './air.ts';
import { standardAir } from './air.ts';
import { type Aeroplane, profileDrag } from './aeroplane.ts';
import { Powerplant } from './powerplant.ts';

/** Steady flight in still air, solved directly: the standard answers that a campaign's true change is taken from. */
const gravityMps2 = 9.80665;

/** Drag in free air, newton. */
export function drag(aeroplane: Aeroplane, massKg: number, densityKgM3: number, airspeedMps: number, load = 1): number {
  const q = 0.5 * densityKgM3 * airspeedMps * airspeedMps;
  const lift = (load * massKg * gravityMps2) / (q * aeroplane.wingAreaM2);
  return q * aeroplane.wingAreaM2 * (profileDrag(aeroplane, lift) + inducedFactor(aeroplane) * lift * lift);
}

export function inducedFactor(aeroplane: Aeroplane): number {
  return 1 / (Math.PI * aeroplane.spanEfficiency * (aeroplane.spanM ** 2 / aeroplane.wingAreaM2));
}

/** The powerplant run until its speed is steady. */
export function settled(
  aeroplane: Aeroplane,
  air: Air,
  heightM: number,
  throttle: number,
  airspeedMps: number,
  rpmWanted?: number,
): Powerplant {
  air.set(heightM);
  const plant = new Powerplant(aeroplane);
  plant.rpm = aeroplane.engine.ratedRpm * 0.9;
  for (let i = 0; i < 500; i++) {
    const before = plant.rpm;
    plant.advance(0.03, throttle, airspeedMps, air.densityKgM3, air.dryDensityKgM3, heightM, rpmWanted);
    if (i > 5 && Math.abs(plant.rpm - before) < 1e-7 * plant.rpm) break;
  }
  return plant;
}

/**
 * Rate of climb through still air at full throttle and a constant equivalent airspeed, m/s, with the acceleration that
 * keeping EAS while climbing costs.
 */
export function steadyClimb(aeroplane: Aeroplane, air: Air, heightM: number, massKg: number, easMps: number): number {
  air.set(heightM);
  const tas = easMps * Math.sqrt(1.225 / air.densityKgM3);
  const plant = settled(aeroplane, air, heightM, 1, tas);
  air.set(heightM + 50);
  const tasAbove = easMps * Math.sqrt(1.225 / air.densityKgM3);
  air.set(heightM - 50);
  const tasBelow = easMps * Math.sqrt(1.225 / air.densityKgM3);
  air.set(heightM);
  const accelerationFactor = (tas / gravityMps2) * ((tasAbove - tasBelow) / 100);
  // Lift is W cos(gamma): a short iteration settles it.
  let sine = 0;
  for (let i = 0; i < 6; i++) {
    const load = Math.sqrt(1 - sine * sine);
    const excess = (plant.thrustN - drag(aeroplane, massKg, air.densityKgM3, tas, load)) / (massKg * gravityMps2);
    sine = excess / (1 + accelerationFactor);
  }
  return tas * sine;
}

/** How the engine is set in level flight. */
export type PowerSetting =
  | { readonly kind: 'full-throttle' }
  | { readonly kind: 'rpm'; readonly rpm: number }
  | { readonly kind: 'power'; readonly share: number };

/** Level true airspeed at a setting in still air, m/s; undefined when the engine cannot give it there. */
export function levelSpeed(
  aeroplane: Aeroplane,
  air: Air,
  heightM: number,
  massKg: number,
  setting: PowerSetting,
): number | undefined {
  let low = 20;
  let high = 140;
  const throttleFor = (speed: number): number => throttleOf(aeroplane, air, heightM, setting, speed);
  if (throttleFor(45) > 1.0001) return undefined;
  for (let i = 0; i < 36; i++) {
    const middle = (low + high) / 2;
    const plant = settled(aeroplane, air, heightM, Math.min(1, throttleFor(middle)), middle, rpmOf(aeroplane, setting));
    if (plant.thrustN > drag(aeroplane, massKg, air.densityKgM3, middle)) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

export function rpmOf(aeroplane: Aeroplane, setting: PowerSetting): number {
  return setting.kind === 'full-throttle' ? aeroplane.engine.ratedRpm : aeroplane.engine.ratedRpm * 0.89;
}

/** Throttle that gives the setting at that speed (more than 1: it cannot be reached). */
export function throttleOf(
  aeroplane: Aeroplane,
  air: Air,
  heightM: number,
  setting: PowerSetting,
  airspeedMps: number,
): number {
  if (setting.kind === 'full-throttle') return 1;
  const reading = (throttle: number): number => {
    const plant = settled(aeroplane, air, heightM, throttle, airspeedMps, rpmOf(aeroplane, setting));
    return setting.kind === 'rpm'
      ? plant.rpm / setting.rpm
      : plant.shaftPowerW / aeroplane.engine.ratedPowerW / setting.share;
  };
  if (reading(1) < 1) return 1.01;
  let low = 0;
  let high = 1;
  for (let i = 0; i < 16; i++) {
    const middle = (low + high) / 2;
    if (reading(middle) < 1) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Density altitude up to which the steady climb (at constant EAS) is at least `rateMps`, metres; undefined below sea level. */
export function climbHeldTo(aeroplane: Aeroplane, massKg: number, easMps: number, rateMps: number): number | undefined {
  const air = standardAir(0);
  if (steadyClimb(aeroplane, air, 0, massKg, easMps) < rateMps) return undefined;
  let low = 0;
  let high = 6400;
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2;
    if (steadyClimb(aeroplane, air, middle, massKg, easMps) > rateMps) low = middle;
    else high = middle;
  }
  return low > 6390 ? undefined : low;
}
