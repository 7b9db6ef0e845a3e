import { densityAltitude } from './air.ts';
import type { RunwayEnd } from './airfield.ts';
import type { Pilot } from './pilot.ts';
import { stepS } from './simulation.ts';
import type { TakeoffTechnique, TrueTakeoff } from './truth.ts';

/** Screen heights of every simulated take-off: 35, 50 and 100 ft above the point of lift-off. */
export const screenHeightsM = [10.668, 15.24, 30.48] as const;

export interface TakeoffPlan {
  readonly runway: RunwayEnd;
  readonly technique: TakeoffTechnique;
  readonly kind: TrueTakeoff['kind'];
  /** Throttle closed at this share of the rotation speed. */
  readonly rejectAt?: number;
}

/**
 * Runs the take-off from line-up (or from the roll of a touch-and-go) until 100 ft and three seconds. Times are those of
 * the simulation. Returns undefined when the aeroplane cannot fly off (60 s without lift-off).
 */
export function takeOff(pilot: Pilot, plan: TakeoffPlan): TrueTakeoff {
  const { sim } = pilot;
  const { aeroplane, air } = sim.setup;
  const { technique, runway } = plan;
  sim.headingRad = runway.headingRad;
  sim.touchdownHeadingRad = runway.headingRad;
  sim.flaps = 1;
  sim.rpmWanted = aeroplane.engine.ratedRpm;
  // Power against the brakes first, if that is the way it is done.
  if (plan.kind === 'standing' && technique.holdOnBrakesS > 0) {
    const held = sim.timeS + technique.holdOnBrakesS;
    while (sim.timeS < held) {
      pilot.moveThrottle(1, 1 / technique.throttleRampS);
      sim.stepTaxi(0, sim.headingRad);
    }
  }
  const start = { timeS: sim.timeS, pathM: sim.pathM, speedMps: sim.groundSpeedMps };
  const startState = {
    massKg: sim.massKg,
    densityKgM3: air.densityKgM3,
    temperatureK: air.temperatureK,
    densityAltitudeM: densityAltitude(air.densityKgM3),
  };
  let firstMotionS = start.speedMps > 0.1 ? start.timeS : Number.NaN;
  let windSum = 0;
  let windSteps = 0;
  let rotating = technique.style === 'three-point' || technique.style === 'soft-field';
  let lift = running(pilot, technique);
  let liftoff: { timeS: number; pathM: number; heightM: number; groundMps: number; tasMps: number } | undefined;
  let wasOnGround = true;
  let screens: { heightM: number; timeS: number; distanceM: number }[] = [];
  let before = { timeS: sim.timeS, heightM: sim.heightM, pathM: sim.pathM };
  let stoppedS: number | undefined;
  sim.brake = 0;
  pilot.look();
  const cutOffMps = plan.rejectAt === undefined ? Number.POSITIVE_INFINITY : plan.rejectAt * technique.rotationMps;
  let rejecting = false;
  for (;;) {
    if (!rejecting) pilot.moveThrottle(1, 1 / technique.throttleRampS);
    if (sim.onGround) {
      if (!rotating && sim.easMps > technique.rotationMps) rotating = true;
      const most =
        technique.style === 'nosewheel'
          ? Math.min(1.65, aeroplane.maximumLiftTakeoff)
          : aeroplane.maximumLiftTakeoff * 0.93;
      if (rotating && technique.style !== 'three-point') lift = Math.min(most, lift + technique.rotationRate * stepS);
      if (rotating && technique.style === 'three-point' && sim.easMps > technique.rotationMps) {
        lift = Math.min(most, lift + technique.rotationRate * stepS);
      }
      sim.wantedLift = rejecting ? 0.2 : lift;
      sim.step();
      pilot.look();
    } else {
      const low = pilot.aboveGround() < 6 && !technique.settles;
      pilot.holdSpeed(technique.climbAwayMps, technique.accelerateShare, 0.5, low ? runway.slope + 0.012 : -0.25);
      pilot.steer({ trackRad: runway.headingRad, maximumBankRad: 0.12 });
      if (pilot.aboveGround() < 1) sim.wantedBankRad *= 0.3;
      pilot.step();
    }
    if (Number.isNaN(firstMotionS) && sim.groundSpeedMps > 0.1) firstMotionS = sim.timeS;
    if (sim.onGround) {
      windSum -=
        sim.windField.eastMps * Math.sin(runway.headingRad) + sim.windField.northMps * Math.cos(runway.headingRad);
      windSteps++;
    }
    if (wasOnGround && !sim.onGround) {
      liftoff = {
        timeS: before.timeS,
        pathM: before.pathM,
        heightM: before.heightM,
        groundMps: sim.groundSpeedMps,
        tasMps: sim.tasMps,
      };
      screens = [];
    }
    wasOnGround = sim.onGround;
    if (liftoff && !sim.onGround) {
      for (const heightM of screenHeightsM) {
        const wanted = liftoff.heightM + heightM;
        if (screens.some((screen) => screen.heightM === heightM) || sim.heightM < wanted) continue;
        const part = (wanted - before.heightM) / Math.max(1e-9, sim.heightM - before.heightM);
        screens.push({
          heightM,
          timeS: before.timeS + part * (sim.timeS - before.timeS),
          distanceM: before.pathM + part * (sim.pathM - before.pathM) - start.pathM,
        });
      }
      if (screens.length === screenHeightsM.length && sim.timeS > screens[screens.length - 1].timeS + 3) break;
      if (sim.timeS > liftoff.timeS + 180) break;
    }
    if (sim.onGround && !rejecting && sim.easMps > cutOffMps) rejecting = true;
    if (rejecting) {
      pilot.moveThrottle(0, 1.5);
      sim.brake = Math.min(0.8, sim.brake + 0.5 * stepS);
      if (sim.groundSpeedMps < 0.05) {
        stoppedS = sim.timeS;
        break;
      }
    }
    if (sim.timeS - start.timeS > 300) break;
    before = { timeS: sim.timeS, heightM: sim.heightM, pathM: sim.pathM };
  }
  sim.brake = 0;
  let outcome: TrueTakeoff['outcome'] = 'flown';
  if (!liftoff) outcome = 'rejected';
  else if (plan.kind === 'touch-and-go') outcome = 'touch-and-go';
  return {
    kind: plan.kind,
    outcome,
    technique: technique.style,
    rollStartS: start.timeS,
    firstMotionS,
    startSpeedMps: start.speedMps,
    ...(liftoff && {
      liftoffS: liftoff.timeS,
      groundRollM: liftoff.pathM - start.pathM,
      liftoffGroundSpeedMps: liftoff.groundMps,
      liftoffTasMps: liftoff.tasMps,
    }),
    screens,
    headwindMps: windSteps > 0 ? windSum / windSteps : 0,
    headingRad: runway.headingRad,
    slope: runway.slope,
    rollingFriction: sim.rollingFriction,
    ...startState,
    ...(stoppedS !== undefined && { stoppedS }),
  };
}

function running(pilot: Pilot, technique: TakeoffTechnique): number {
  const { aeroplane } = pilot.sim.setup;
  if (technique.style === 'three-point') return aeroplane.threePointLift;
  if (technique.style === 'soft-field') return aeroplane.threePointLift * 0.9;
  return aeroplane.runningLift;
}
