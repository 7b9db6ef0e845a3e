import { groundHeight, type RunwayEnd } from './airfield.ts';
import { GaussMarkov, type Random } from './random.ts';
import { type Simulation, stepS, wrapAngle } from './simulation.ts';
import { type PowerSetting, rpmOf, throttleOf } from './steady.ts';

/** Hands and feet: the control laws by which the simulated pilot flies. Procedures (take-off, landing ...) use them. */
const gravityMps2 = 9.80665;

export interface Steering {
  /** Ground track, air heading, or a bank to hold. */
  readonly trackRad?: number;
  readonly headingRad?: number;
  readonly bankRad?: number;
  readonly maximumBankRad?: number;
}

export class Pilot {
  /** Airspeed and climb as the pilot reads them: a second late. */
  readTasMps = 0;
  private readUpMps = 0;
  private readonly speedWander: GaussMarkov;
  private readonly heightWander: GaussMarkov;
  private wanderS = 0;

  constructor(
    readonly sim: Simulation,
    readonly random: Random,
    steadiness: { readonly speedSigmaMps: number; readonly heightSigmaM: number },
  ) {
    this.speedWander = new GaussMarkov(random.fork('speed-wander'), steadiness.speedSigmaMps, 30);
    this.heightWander = new GaussMarkov(random.fork('height-wander'), steadiness.heightSigmaM, 60);
  }

  /** One step in the air. */
  step(): void {
    const { sim } = this;
    sim.step();
    this.readTasMps += (sim.tasMps - this.readTasMps) * (stepS / 0.8);
    this.readUpMps += (sim.upMps - this.readUpMps) * (stepS / 0.8);
    this.wanderS += stepS;
    if (this.wanderS >= 0.5) {
      this.speedWander.advance(this.wanderS);
      this.heightWander.advance(this.wanderS);
      this.wanderS = 0;
    }
  }

  /** Reads the instruments afresh, at the start of a flight phase. */
  look(): void {
    this.readTasMps = this.sim.tasMps;
    this.readUpMps = this.sim.upMps;
  }

  steer(how: Steering): void {
    const { sim } = this;
    const limit = how.maximumBankRad ?? 0.45;
    if (how.bankRad !== undefined) {
      sim.wantedBankRad = how.bankRad;
      return;
    }
    const error =
      how.trackRad !== undefined
        ? wrapAngle(how.trackRad - Math.atan2(sim.eastMps, sim.northMps))
        : wrapAngle((how.headingRad ?? sim.headingRad) - sim.headingRad);
    sim.wantedBankRad = Math.max(-limit, Math.min(limit, 1.3 * error));
  }

  /** Asks for the lift that bends the path at `pathRate` rad/s upward. */
  private pull(pathRateRadps: number, sineOfPath: number, least = 0.6, most = 1.4): void {
    const { sim } = this;
    const { aeroplane, air } = sim.setup;
    const load =
      Math.sqrt(1 - sineOfPath * sineOfPath) / Math.cos(sim.bankRad) + (this.readTasMps / gravityMps2) * pathRateRadps;
    const q = 0.5 * air.densityKgM3 * Math.max(10, sim.tasMps) ** 2;
    const lift =
      (Math.max(least, Math.min(most / Math.cos(sim.bankRad), load)) * sim.massKg * gravityMps2) /
      (q * aeroplane.wingAreaM2);
    const ceiling = 0.96 * (sim.flaps > 0 ? aeroplane.maximumLiftTakeoff : aeroplane.maximumLiftClean);
    sim.wantedLift = Math.max(0.05, Math.min(ceiling, lift));
  }

  /**
   * Elevator holds an equivalent airspeed; the height comes of itself. `share` limits how much excess goes into speed;
   * the path is not let below `leastSine` (close to the ground nobody pushes).
   */
  holdSpeed(easMps: number, share = 1, softness = 0.2, leastSine = -0.25): void {
    const { sim } = this;
    const wanted = (easMps + this.speedWander.value) * Math.sqrt(1.225 / sim.setup.air.densityKgM3);
    const excess = (sim.thrustN - sim.dragN()) / (sim.massKg * gravityMps2);
    const most = excess > 0 ? Math.min(0.12, share * excess) : 0.12;
    const acceleration = Math.max(-0.06, Math.min(most, (softness * (wanted - this.readTasMps)) / gravityMps2));
    const sine = Math.max(leastSine, Math.min(0.3, excess - acceleration));
    const now = Math.max(-0.5, Math.min(0.5, (this.readUpMps - sim.windField.upMps) / Math.max(10, this.readTasMps)));
    this.pull(0.75 * (sine - now), now);
  }

  /** Elevator holds a vertical speed over the ground, as read from the instruments. */
  holdVerticalSpeed(upMps: number, gain = 0.7): void {
    const { sim } = this;
    const speed = Math.max(12, this.readTasMps);
    const now = Math.max(-0.5, Math.min(0.5, (sim.upMps - sim.windField.upMps) / speed));
    this.pull((gain * (upMps - this.readUpMps)) / speed, now);
  }

  holdHeight(heightM: number, mostMps = 3): void {
    const error = heightM + this.heightWander.value - this.sim.heightM;
    this.holdVerticalSpeed(Math.max(-mostMps, Math.min(mostMps, 0.14 * error)), 0.6);
  }

  /** Throttle held so that the airspeed is kept (approach). */
  throttleForSpeed(easMps: number, base: number): void {
    const wanted = easMps * Math.sqrt(1.225 / this.sim.setup.air.densityKgM3);
    const error = wanted - this.readTasMps;
    this.moveThrottle(Math.max(0, Math.min(1, base + 0.09 * error)), 0.35);
  }

  moveThrottle(wanted: number, ratePerS: number): void {
    const { sim } = this;
    const most = ratePerS * stepS;
    sim.throttle += Math.max(-most, Math.min(most, wanted - sim.throttle));
  }

  /** Throttle position that gives a cruise setting at about the present height and speed. */
  throttleFor(setting: PowerSetting): number {
    const { sim } = this;
    sim.rpmWanted = rpmOf(sim.setup.aeroplane, setting);
    const throttle = throttleOf(sim.setup.aeroplane, sim.setup.air, sim.heightM, setting, this.readTasMps);
    sim.setup.air.set(sim.heightM);
    return Math.min(1, throttle);
  }

  // ------------------------------------------------------------------------------------------------- on the ground

  /** Stands with the engine running. */
  stand(seconds: number, throttle = 0): void {
    const { sim } = this;
    sim.throttle = throttle;
    const until = sim.timeS + seconds;
    while (sim.timeS < until) sim.stepTaxi(0, sim.headingRad);
  }

  /** Taxis along points at about `speedMps`, slower in turns; stops at the last one when told so. */
  taxi(points: readonly { eastM: number; northM: number }[], speedMps: number, stopAtEnd: boolean): void {
    const { sim } = this;
    let speed = sim.groundSpeedMps;
    const started = sim.timeS;
    let pace = speedMps;
    for (let k = 0; k < points.length; k++) {
      const target = points[k];
      const last = k === points.length - 1;
      for (;;) {
        const east = target.eastM - sim.eastM;
        const north = target.northM - sim.northM;
        const distance = Math.hypot(east, north);
        if (distance < (last ? 1.5 : 6) || sim.timeS - started > 900) break;
        const error = wrapAngle(Math.atan2(east, north) - sim.headingRad);
        if (distance < 14 && Math.abs(error) > 1.4) break;
        pace += (speedMps - pace) * (stepS / 8) + 0.35 * Math.sqrt(stepS) * 0.2 * this.random.normal();
        let wanted = Math.max(1.2, pace) * (Math.abs(error) > 0.3 ? 0.45 : 1);
        if (stopAtEnd && last) wanted = Math.min(wanted, Math.sqrt(2 * 0.7 * Math.max(0.4, distance - 1)));
        speed += Math.max(-1.1 * stepS, Math.min(0.6 * stepS, wanted - speed));
        const mostTurn = Math.min(0.45, speed / 4);
        const turn = Math.max(-mostTurn, Math.min(mostTurn, 1.4 * error));
        sim.throttle = 0.04;
        sim.stepTaxi(speed, sim.headingRad + turn * stepS);
      }
    }
    if (!stopAtEnd) return;
    while (speed > 0) {
      speed = Math.max(0, speed - 1.3 * stepS);
      sim.stepTaxi(speed, sim.headingRad);
    }
  }

  /** Turns slowly on the spot (creeping) onto a heading. */
  lineUp(runway: RunwayEnd, alongM: number, keepRolling: number): void {
    const { sim } = this;
    const cosine = Math.cos(runway.headingRad);
    const sine = Math.sin(runway.headingRad);
    this.taxi(
      [
        { eastM: runway.startEastM + alongM * sine, northM: runway.startNorthM + alongM * cosine },
        { eastM: runway.startEastM + (alongM + 12) * sine, northM: runway.startNorthM + (alongM + 12) * cosine },
      ],
      keepRolling > 0 ? Math.max(2.5, keepRolling * 0.6) : 3,
      keepRolling === 0,
    );
    // The last degrees of the turn, and the pace at which a rolling start begins.
    let speed = sim.groundSpeedMps;
    while (Math.abs(wrapAngle(runway.headingRad - sim.headingRad)) > 0.002 || speed < keepRolling) {
      const error = wrapAngle(runway.headingRad - sim.headingRad);
      if (keepRolling > 0) speed += Math.max(-0.6 * stepS, Math.min(0.5 * stepS, keepRolling - speed));
      sim.stepTaxi(speed, sim.headingRad + Math.max(-0.3, Math.min(0.3, 2.5 * error)) * stepS);
      if (keepRolling === 0 && Math.abs(error) < 0.02) break;
    }
    sim.headingRad = runway.headingRad;
  }

  aboveGround(): number {
    return this.sim.heightM - groundHeight(this.sim.setup.field, this.sim.eastM, this.sim.northM);
  }
}
