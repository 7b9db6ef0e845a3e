import type { RunwayEnd } from './airfield.ts';
import type { Pilot } from './pilot.ts';
import { stepS } from './simulation.ts';
import type { TrueLanding } from './truth.ts';

export interface CircuitPlan {
  readonly runway: RunwayEnd;
  /** Height above the field, metres. */
  readonly heightM: number;
  /** +1: circuits to the right of the landing direction. */
  readonly side: 1 | -1;
  readonly approachMps: number;
  readonly glideSlope: number;
}

/** A point in the frame of a runway: along its direction and to the right of it. */
function place(runway: RunwayEnd, alongM: number, rightM: number): { east: number; north: number } {
  const sine = Math.sin(runway.headingRad);
  const cosine = Math.cos(runway.headingRad);
  return {
    east: runway.startEastM + alongM * sine + rightM * cosine,
    north: runway.startNorthM + alongM * cosine - rightM * sine,
  };
}

export function inRunwayFrame(pilot: Pilot, runway: RunwayEnd): { along: number; right: number } {
  const east = pilot.sim.eastM - runway.startEastM;
  const north = pilot.sim.northM - runway.startNorthM;
  const sine = Math.sin(runway.headingRad);
  const cosine = Math.cos(runway.headingRad);
  return { along: east * sine + north * cosine, right: east * cosine - north * sine };
}

/** Flies over the ground to a point with the vertical law given; ends within `nearM` of it or when it is abeam. */
export function flyTo(
  pilot: Pilot,
  to: { east: number; north: number },
  vertical: () => void,
  nearM: number,
  bankRad = 0.42,
): void {
  const { sim } = pilot;
  const until = sim.timeS + 1500;
  let least = Number.POSITIVE_INFINITY;
  while (sim.timeS < until) {
    const east = to.east - sim.eastM;
    const north = to.north - sim.northM;
    const distance = Math.hypot(east, north);
    least = Math.min(least, distance);
    if (distance < nearM || (least < 3 * nearM && distance > least + 60)) return;
    pilot.steer({ trackRad: Math.atan2(east, north), maximumBankRad: bankRad });
    vertical();
    pilot.step();
  }
}

/** Joins downwind and flies downwind and base; leaves the aeroplane near the final approach. */
export function circuit(pilot: Pilot, plan: CircuitPlan): void {
  const { sim } = pilot;
  const { runway, side } = plan;
  const targetHeight = runway.elevationM + plan.heightM;
  const level = (): void => {
    pilot.throttleForSpeed(plan.approachMps * 1.25, 0.42);
    pilot.holdHeight(targetHeight);
  };
  // Final is as long as the glide from circuit height, less what is lost on base.
  const finalM = (0.72 * plan.heightM) / plan.glideSlope;
  flyTo(pilot, place(runway, 300, side * 1100), level, 120);
  flyTo(pilot, place(runway, 300 - finalM * 0.9, side * 1000), level, 100);
  sim.flaps = 1;
  const down = (): void => {
    // Slower over the ground, slower down; and never below what final is flown from.
    const low = pilot.aboveGround() < 0.45 * plan.heightM;
    pilot.throttleForSpeed(plan.approachMps * 1.1, low ? 0.4 : 0.25);
    pilot.holdVerticalSpeed(low ? 0 : -sim.groundSpeedMps * plan.glideSlope * 0.75);
  };
  flyTo(pilot, place(runway, 100 - finalM, side * 320), down, 150);
}

/** Down the final approach to `untilHeightM` above the field. */
export function finalApproach(pilot: Pilot, plan: CircuitPlan, untilHeightM: number): void {
  const { sim } = pilot;
  const aim = 70;
  const aimHeight = plan.runway.elevationM + plan.runway.slope * aim;
  const until = sim.timeS + 600;
  while (sim.timeS < until && pilot.aboveGround() > untilHeightM && !sim.onGround) {
    const { along, right } = inRunwayFrame(pilot, plan.runway);
    const toGo = Math.max(30, aim - along);
    const wantedHeight = toGo * plan.glideSlope;
    const height = sim.heightM - aimHeight;
    const down = -sim.groundSpeedMps * plan.glideSlope + 0.16 * (wantedHeight - height);
    pilot.throttleForSpeed(plan.approachMps, 0.2);
    pilot.holdVerticalSpeed(Math.max(-5, Math.min(0.5, down)));
    const offTrack = Math.max(-0.6, Math.min(0.6, 0.0035 * right));
    pilot.steer({ trackRad: plan.runway.headingRad - offTrack, maximumBankRad: right * right > 2500 ? 0.4 : 0.2 });
    pilot.step();
  }
}

/** Flares and touches; then either brakes to `stopMps` or leaves the aeroplane rolling for a touch-and-go. */
export function land(
  pilot: Pilot,
  plan: CircuitPlan,
  after: { readonly stopMps: number; readonly braking: number } | { readonly rollS: number },
): TrueLanding {
  const { sim } = pilot;
  sim.touchdownHeadingRad = plan.runway.headingRad;
  finalApproach(pilot, plan, 5);
  const until = sim.timeS + 60;
  while (!sim.onGround && sim.timeS < until) {
    pilot.moveThrottle(0, 0.5);
    const height = pilot.aboveGround();
    pilot.holdVerticalSpeed(-Math.max(0.45, Math.min(2.2, 0.42 * height)), 1.6);
    const { right } = inRunwayFrame(pilot, plan.runway);
    pilot.steer({
      trackRad: plan.runway.headingRad - Math.max(-0.1, Math.min(0.1, 0.004 * right)),
      maximumBankRad: 0.1,
    });
    pilot.step();
  }
  const touch = { timeS: sim.timeS, pathM: sim.pathM, speedMps: sim.groundSpeedMps };
  const fixed = {
    touchdownS: touch.timeS,
    touchdownGroundSpeedMps: touch.speedMps,
    headingRad: plan.runway.headingRad,
  };
  if ('rollS' in after) {
    const rollUntil = sim.timeS + after.rollS;
    while (sim.timeS < rollUntil) {
      pilot.moveThrottle(0, 1);
      sim.wantedLift = sim.setup.aeroplane.runningLift;
      sim.step();
    }
    return fixed;
  }
  const stopUntil = sim.timeS + 240;
  while (sim.timeS < stopUntil) {
    pilot.moveThrottle(0, 1);
    sim.wantedLift = Math.max(0.1, sim.lift - 6 * stepS);
    sim.brake = Math.min(after.braking, sim.brake + 0.12 * stepS);
    sim.step();
    if (sim.onGround && sim.groundSpeedMps <= Math.max(0.03, after.stopMps)) break;
  }
  sim.brake = 0;
  return { ...fixed, stopS: sim.timeS, groundRollM: sim.pathM - touch.pathM };
}
