import { densityAltitude } from './air.ts';
import { type Aeroplane, speedsOf } from './aeroplane.ts';
import type { Airfield } from './airfield.ts';
import { runwayEnds } from './airfield.ts';
import { type CircuitPlan, circuit, finalApproach, flyTo, land } from './landing.ts';
import { Pilot } from './pilot.ts';
import type { Random } from './random.ts';
import { meanOver, type TruthTable, valueAt } from './recorder.ts';
import { Simulation, type SimulationSetup, stepS, wrapAngle } from './simulation.ts';
import { type PowerSetting, steadyClimb } from './steady.ts';
import { type TakeoffPlan, takeOff } from './take-off.ts';
import type {
  FlightTruth,
  Flown,
  TakeoffTechnique,
  TrueBand,
  TrueClimb,
  TrueLanding,
  TrueLevelRun,
  TruePhase,
  TruePhaseKind,
  TrueTakeoff,
} from './truth.ts';

/** What is to be flown, in order. Heights are above the field. */
export interface FlightPlan {
  /** Unix time at which the simulation begins, seconds. */
  readonly epochS: number;
  /** Which of the runway's two directions. */
  readonly runwayEnd: 0 | 1;
  readonly technique: TakeoffTechnique;
  /** Metres beyond the threshold at which the roll begins. */
  readonly lineUpM: number;
  readonly startKind: 'standing' | 'rolling';
  /** A first attempt broken off at this share of the rotation speed. */
  readonly rejectFirstAt?: number;
  /** Circuits before the flight: each ends in a full stop with another take-off, or a touch-and-go. */
  readonly circuits: readonly ('touch-and-go' | 'stop-and-go' | 'go-around')[];
  readonly climbToM: number;
  /** Levels off on the way up for so many seconds at these heights. */
  readonly levelOffs: readonly { readonly atM: number; readonly seconds: number }[];
  readonly climbEasMps: number;
  readonly cruise: readonly {
    readonly setting: PowerSetting;
    readonly settingName: string;
    readonly headingsRad: readonly number[];
    readonly legS: number;
    /** Full turns at the end. */
    readonly turns: number;
  }[];
  readonly goArounds: number;
  readonly landing: { readonly stopMps: number; readonly braking: number };
  readonly standAtStartS: number;
  readonly runUp: boolean;
  readonly standAtEndS: number;
  /** The simulation ends with the last level run: no way home. */
  readonly endsAloft?: boolean;
  readonly steadiness: { readonly speedSigmaMps: number; readonly heightSigmaM: number };
}

/** Time constant over which the true vertical speed is judged when a phase changes, and its threshold: 200 ft/min. */
const levelRateMps = 1.016;

/** Flies the plan from parking to parking. */
export function fly(setup: SimulationSetup, plan: FlightPlan): Flown {
  return new FlightInProgress(setup, plan).run();
}

class FlightInProgress {
  private readonly sim: Simulation;
  private readonly pilot: Pilot;
  private readonly phases: { kind: TruePhaseKind; startS: number }[] = [];
  private readonly takeoffs: TrueTakeoff[] = [];
  private readonly landings: TrueLanding[] = [];
  private readonly climbSpans: { startS: number; endS: number }[] = [];
  private readonly runs: { kind: 'leg' | 'turn'; setting: string; startS: number; endS: number }[] = [];
  private readonly plane: Aeroplane;
  private readonly field: Airfield;
  private readonly random: Random;

  constructor(
    private readonly setup: SimulationSetup,
    private readonly plan: FlightPlan,
  ) {
    this.sim = new Simulation(setup);
    this.plane = setup.aeroplane;
    this.field = setup.field;
    this.random = setup.random.fork('flight');
    this.pilot = new Pilot(this.sim, setup.random.fork('pilot'), plan.steadiness);
  }

  private get runway() {
    return runwayEnds(this.field)[this.plan.runwayEnd];
  }

  private phase(kind: TruePhaseKind, startS = this.sim.timeS): void {
    const last = this.phases.at(-1);
    if (last?.kind === kind) return;
    this.phases.push({ kind, startS });
  }

  private beside(alongM: number, rightM: number): { eastM: number; northM: number } {
    const { runway } = this;
    const sine = Math.sin(runway.headingRad);
    const cosine = Math.cos(runway.headingRad);
    return {
      eastM: runway.startEastM + alongM * sine + rightM * cosine,
      northM: runway.startNorthM + alongM * cosine - rightM * sine,
    };
  }

  run(): Flown {
    const { sim, pilot, plan } = this;
    const park = this.beside(this.field.lengthM * 0.35, 95);
    sim.eastM = park.eastM;
    sim.northM = park.northM;
    sim.headingRad = this.random.uniform(0, 2 * Math.PI);
    this.phase('standing');
    pilot.stand(plan.standAtStartS, 0.02);
    this.taxiOut(true);
    if (plan.rejectFirstAt !== undefined) {
      this.depart('standing', plan.rejectFirstAt);
      this.phase('taxi');
      this.taxiOut(false);
    }
    this.depart(plan.startKind);
    for (const kind of plan.circuits) {
      this.initialClimb(220, false);
      this.oneCircuit(kind);
    }
    this.initialClimb(plan.climbToM, true);
    this.cruise();
    if (plan.endsAloft !== true) this.home();
    return this.finish();
  }

  private taxiOut(first: boolean): void {
    const { pilot, plan } = this;
    const { along } = this.frame();
    const hold = this.beside(plan.lineUpM - 4, 38);
    this.phase('taxi');
    pilot.taxi([this.beside(along, 60), this.beside(plan.lineUpM + 30, 55), hold], this.random.uniform(5, 8), true);
    this.phase('standing');
    if (first && plan.runUp) {
      pilot.stand(this.random.uniform(5, 20), 0.03);
      pilot.stand(this.random.uniform(10, 25), 0.4);
      pilot.stand(this.random.uniform(5, 20), 0.03);
    } else pilot.stand(this.random.uniform(6, 20), 0.03);
    this.phase('taxi');
  }

  private frame(): { along: number; right: number } {
    const { runway, sim } = this;
    const east = sim.eastM - runway.startEastM;
    const north = sim.northM - runway.startNorthM;
    const sine = Math.sin(runway.headingRad);
    const cosine = Math.cos(runway.headingRad);
    return { along: east * sine + north * cosine, right: east * cosine - north * sine };
  }

  private depart(kind: 'standing' | 'rolling', rejectAt?: number): void {
    const { pilot, plan, runway } = this;
    pilot.lineUp(runway, plan.lineUpM, kind === 'rolling' ? plan.technique.startSpeedMps : 0);
    if (kind === 'standing') {
      this.phase('standing');
      pilot.stand(this.random.uniform(1.5, 9), 0.02);
    }
    this.takeOff({ kind, runway, technique: plan.technique, ...(rejectAt !== undefined && { rejectAt }) });
  }

  private takeOff(plan: TakeoffPlan): void {
    const { sim } = this;
    this.phase('takeoff-roll');
    const truth = takeOff(this.pilot, plan);
    this.takeoffs.push(truth);
    if (truth.liftoffS !== undefined) this.phase('initial-climb', truth.liftoffS);
    else {
      this.phase('standing', truth.stoppedS ?? sim.timeS);
      this.pilot.stand(this.random.uniform(3, 12), 0.02);
    }
  }

  /** From 100 ft up to a height above the field. A `long` climb turns on course, levels off and counts as a climb. */
  private initialClimb(toM: number, long: boolean): void {
    const { sim, pilot, plan, plane } = this;
    const speeds = speedsOf(plane, sim.massKg);
    const target = this.field.elevationM + toM;
    let course: number = this.runway.headingRad;
    const turnAt = this.random.uniform(150, 320);
    const newCourse = course + (this.random.chance(0.5) ? 1 : -1) * this.random.uniform(0.9, 1.7);
    const pending = long ? [...plan.levelOffs] : [];
    let flapsUp = false;
    let climbStart = Number.NaN;
    let turned = false;
    const until = sim.timeS + 2400;
    while (sim.heightM < target && sim.timeS < until) {
      const height = sim.heightM - this.field.elevationM;
      if (!flapsUp && height > 90) {
        flapsUp = true;
        sim.flaps = 0;
      }
      if (long && !turned && height > turnAt) {
        turned = true;
        course = newCourse;
        this.phase('climb');
      }
      if (height > 304.8) this.phase('climb');
      if (Number.isNaN(climbStart) && height > 100) climbStart = sim.timeS;
      pilot.moveThrottle(1, 0.5);
      pilot.holdSpeed(height < 60 ? plan.technique.climbAwayMps : flapsUp ? plan.climbEasMps : speeds.climbAwayMps);
      if (long && turned) pilot.steer({ headingRad: course, maximumBankRad: 0.3 });
      else pilot.steer({ trackRad: course, maximumBankRad: 0.25 });
      pilot.step();
      const next = pending[0];
      if (next && sim.heightM - this.field.elevationM > next.atM) {
        pending.shift();
        if (!Number.isNaN(climbStart)) this.climbSpans.push({ startS: climbStart, endS: sim.timeS });
        this.levelFor(sim.heightM, next.seconds, course);
        climbStart = sim.timeS;
        this.phase('climb');
      }
    }
    if (long && !Number.isNaN(climbStart)) this.climbSpans.push({ startS: climbStart, endS: sim.timeS });
  }

  /** Levels off for a while on the way up. */
  private levelFor(heightM: number, seconds: number, headingRad: number): void {
    const { sim, pilot } = this;
    const until = sim.timeS + seconds;
    let level = false;
    const throttle = pilot.throttleFor({ kind: 'power', share: 0.6 });
    while (sim.timeS < until) {
      pilot.moveThrottle(throttle, 0.25);
      pilot.holdHeight(heightM);
      pilot.steer({ headingRad, maximumBankRad: 0.3 });
      pilot.step();
      if (!level && sim.upMps < levelRateMps) {
        level = true;
        this.phase('cruise');
      }
    }
    sim.rpmWanted = this.plane.engine.ratedRpm;
  }

  private oneCircuit(kind: 'touch-and-go' | 'stop-and-go' | 'go-around'): void {
    const { sim, pilot, runway } = this;
    const plan = this.circuitPlan();
    this.leaveRunway(plan);
    this.phase('approach');
    circuit(pilot, plan);
    if (kind === 'go-around') {
      finalApproach(pilot, plan, this.random.uniform(20, 70));
      this.phase('climb');
      return;
    }
    if (kind === 'touch-and-go') {
      const landing = land(pilot, plan, { rollS: this.random.uniform(1.5, 4) });
      this.landings.push(landing);
      this.phase('landing-roll', landing.touchdownS);
      this.takeOff({ kind: 'touch-and-go', runway, technique: this.plan.technique });
      return;
    }
    this.fullStop(plan, 0);
    this.phase('standing');
    pilot.stand(this.random.uniform(4, 10), 0.02);
    this.phase('taxi');
    this.taxiOut(false);
    this.depart('standing');
    sim.touchdownHeadingRad = runway.headingRad;
  }

  /** Levels off at circuit height and flies beyond the runway's end. Cruise begins when the climb has ended. */
  private leaveRunway(plan: CircuitPlan): void {
    const { sim, pilot } = this;
    const far = this.beside(this.field.lengthM + 900, 0);
    let level = false;
    flyTo(
      pilot,
      { east: far.eastM, north: far.northM },
      () => {
        pilot.throttleForSpeed(plan.approachMps * 1.3, 0.6);
        pilot.holdHeight(plan.runway.elevationM + plan.heightM);
        if (!level && sim.upMps < levelRateMps) {
          level = true;
          this.phase('cruise');
        }
      },
      200,
    );
  }

  private fullStop(plan: CircuitPlan, stopMps: number): void {
    const landing = land(this.pilot, plan, { stopMps, braking: this.plan.landing.braking });
    this.landings.push(landing);
    this.phase('landing-roll', landing.touchdownS);
    this.phase(stopMps > 0 ? 'taxi' : 'standing', landing.stopS);
  }

  private circuitPlan(): CircuitPlan {
    return {
      runway: this.runway,
      heightM: 230 + this.random.uniform(-15, 15),
      side: this.random.chance(0.5) ? 1 : -1,
      // In a strong wind more speed is carried, as everybody does.
      approachMps:
        speedsOf(this.plane, this.sim.massKg).approachMps +
        Math.min(2, 0.15 * this.setup.wind.speedMps) +
        0.3 * Math.max(0, this.setup.wind.speedMps - 8),
      glideSlope: this.random.uniform(0.07, 0.1),
    };
  }

  private cruise(): void {
    const { sim, pilot, plan } = this;
    const heightM = this.field.elevationM + plan.climbToM;
    let levelMarked = false;
    const level = (): void => {
      if (!levelMarked && sim.upMps < levelRateMps) {
        levelMarked = true;
        this.phase('cruise');
      }
    };
    for (const part of plan.cruise) {
      const fly = (seconds: number, heading: number): void => {
        const until = sim.timeS + seconds;
        while (sim.timeS < until) {
          pilot.holdHeight(heightM);
          pilot.steer({ headingRad: heading, maximumBankRad: 0.4 });
          pilot.step();
          level();
        }
      };
      for (let leg = 0; leg < part.headingsRad.length; leg++) {
        const heading = part.headingsRad[leg];
        // Turn, then set the power and let the speed settle: the setting is made at the speed that comes of it.
        while (Math.abs(wrapAngle(heading - sim.headingRad)) > 0.03) fly(0.5, heading);
        if (leg === 0) {
          fly(12, heading);
          for (let i = 0; i < 3; i++) {
            sim.throttle = pilot.throttleFor(part.setting);
            fly(14, heading);
          }
          sim.throttle = pilot.throttleFor(part.setting);
          fly(12, heading);
        } else fly(16, heading);
        const startS = sim.timeS;
        fly(part.legS + this.random.uniform(-8, 15), heading);
        this.runs.push({ kind: 'leg', setting: part.settingName, startS, endS: sim.timeS });
      }
      if (part.turns > 0) this.turns(part.turns, heightM, part.settingName);
    }
  }

  private turns(count: number, heightM: number, setting: string): void {
    const { sim, pilot } = this;
    const bankRad = this.random.uniform(0.4, 0.55) * (this.random.chance(0.5) ? 1 : -1);
    let turned = 0;
    let before = sim.headingRad;
    const startS = sim.timeS;
    const until = sim.timeS + 400;
    while (Math.abs(turned) < count * 2 * Math.PI && sim.timeS < until) {
      pilot.holdHeight(heightM);
      pilot.steer({ bankRad });
      pilot.step();
      turned += wrapAngle(sim.headingRad - before);
      before = sim.headingRad;
    }
    this.runs.push({ kind: 'turn', setting, startS, endS: sim.timeS });
  }

  private home(): void {
    const { sim, pilot, plan, random } = this;
    const elevation = this.field.elevationM;
    const plans = this.circuitPlan();
    const join = this.beside(300, plans.side * 2200);
    const field = this.beside(300, 0);
    const top = sim.timeS;
    let descending = false;
    const down = (): void => {
      const above = sim.heightM - (elevation + plans.heightM);
      if (above > 12 && sim.timeS > top + 4) {
        pilot.throttleForSpeed(plan.climbEasMps * 1.25, 0.3);
        pilot.holdVerticalSpeed(-Math.min(3.3, 0.4 + 0.09 * above));
      } else {
        pilot.throttleForSpeed(plan.climbEasMps * 1.15, 0.42);
        pilot.holdHeight(elevation + plans.heightM);
      }
      if (!descending && sim.upMps < -levelRateMps) {
        descending = true;
        this.phase('descent');
      }
      // Approach: from circuit entry to the flare (CAST/ICAO phase of flight taxonomy): at circuit height, within 3 NM.
      const near = Math.hypot(sim.eastM - field.eastM, sim.northM - field.northM) < 5556;
      if (descending && near && above < 40 && sim.upMps > -levelRateMps) this.phase('approach');
    };
    flyTo(pilot, { east: join.eastM, north: join.northM }, down, 250);
    // Lose what height is left in a wide orbit.
    const until = sim.timeS + 900;
    while (sim.heightM > elevation + plans.heightM + 40 && sim.timeS < until) {
      pilot.steer({ bankRad: plans.side * 0.3 });
      down();
      pilot.step();
    }
    this.phase('approach');
    circuit(pilot, plans);
    for (let i = 0; i < plan.goArounds; i++) {
      finalApproach(pilot, plans, random.uniform(15, 80));
      this.phase('climb');
      this.initialClimb(200, false);
      this.leaveRunway(plans);
      this.phase('approach');
      circuit(pilot, plans);
    }
    this.fullStop(plans, plan.landing.stopMps);
    if (plan.landing.stopMps <= 0) pilot.stand(random.uniform(3, 8), 0.02);
    this.phase('taxi');
    const { along } = this.frame();
    pilot.taxi(
      [this.beside(along + 25, 10), this.beside(along + 35, 55), this.beside(this.field.lengthM * 0.35, 95)],
      random.uniform(5, 8),
      true,
    );
    this.phase('standing');
    pilot.stand(plan.standAtEndS, 0.02);
  }

  private finish(): Flown {
    const { sim, plan } = this;
    const table = sim.recorder.table();
    const times = table.timeS;
    for (let i = 0; i < times.length; i++) times[i] += plan.epochS;
    const at = plan.epochS;
    const endS = times[times.length - 1];
    const phases: TruePhase[] = this.phases.map((phase, i) => ({
      kind: phase.kind,
      startS: phase.startS + at,
      endS: i + 1 < this.phases.length ? this.phases[i + 1].startS + at : endS,
    }));
    const truth: FlightTruth = {
      epochS: at,
      phases: phases.filter((phase) => phase.endS - phase.startS > stepS / 2),
      takeoffs: this.takeoffs.map((takeoff) => ({
        ...takeoff,
        rollStartS: takeoff.rollStartS + at,
        firstMotionS: takeoff.firstMotionS + at,
        ...(takeoff.liftoffS !== undefined && { liftoffS: takeoff.liftoffS + at }),
        ...(takeoff.stoppedS !== undefined && { stoppedS: takeoff.stoppedS + at }),
        screens: takeoff.screens.map((screen) => ({ ...screen, timeS: screen.timeS + at })),
      })),
      landings: this.landings.map((landing) => ({
        ...landing,
        touchdownS: landing.touchdownS + at,
        ...(landing.stopS !== undefined && { stopS: landing.stopS + at }),
      })),
      climbs: this.climbSpans
        .filter((span) => span.endS - span.startS > 20)
        .map((span) => this.climb(table, span.startS + at, span.endS + at)),
      levelRuns: this.runs.map((run) => levelRun(table, run.kind, run.setting, run.startS + at, run.endS + at)),
      fuelUsedM3: sim.fuelUsedM3,
      takeoffMassKg: this.takeoffs.find((takeoff) => takeoff.liftoffS !== undefined)?.massKg ?? sim.massKg,
    };
    return { table, truth };
  }

  private climb(table: TruthTable, startS: number, endS: number): TrueClimb {
    const from = valueAt(table, 'heightM', startS);
    const to = valueAt(table, 'heightM', endS);
    const bandM = 152.4;
    const bands: TrueBand[] = [];
    for (let low = Math.ceil(from / bandM) * bandM; low + bandM <= to; low += bandM) {
      const bandStart = crossing(table, low, startS, endS);
      const bandEnd = crossing(table, low + bandM, bandStart, endS);
      bands.push(this.band(table, low, low + bandM, bandStart, bandEnd));
    }
    const rate = (to - from) / (endS - startS);
    return {
      startS,
      endS,
      fromHeightM: from,
      toHeightM: to,
      rateOverGroundMps: rate,
      rateThroughAirMps: rate - meanOver(table, 'windUpMps', startS, endS),
      bands,
    };
  }

  private band(table: TruthTable, from: number, to: number, startS: number, endS: number): TrueBand {
    const rate = (to - from) / (endS - startS);
    const through = rate - meanOver(table, 'windUpMps', startS, endS);
    const first = valueAt(table, 'tasMps', startS);
    const last = valueAt(table, 'tasMps', endS);
    const density = meanOver(table, 'densityKgM3', startS, endS);
    const massKg = meanOver(table, 'massKg', startS, endS);
    return {
      fromHeightM: from,
      toHeightM: to,
      startS,
      endS,
      rateOverGroundMps: rate,
      rateThroughAirMps: through,
      energyRateMps: through + (last * last - first * first) / (2 * 9.80665 * (endS - startS)),
      densityAltitudeM: densityAltitude(density),
      massKg,
      tasMps: meanOver(table, 'tasMps', startS, endS),
      steadyStillAirMps: steadyClimb(this.plane, this.setup.air, (from + to) / 2, massKg, this.plan.climbEasMps),
    };
  }
}

/** First time at which the height is reached going up. */
function crossing(table: TruthTable, heightM: number, fromS: number, toS: number): number {
  const { timeS, heightM: heights } = table;
  for (let i = 1; i < timeS.length; i++) {
    if (timeS[i] < fromS || timeS[i] > toS) continue;
    if (heights[i] >= heightM) {
      const part = (heightM - heights[i - 1]) / Math.max(1e-9, heights[i] - heights[i - 1]);
      return timeS[i - 1] + Math.max(0, Math.min(1, part)) * (timeS[i] - timeS[i - 1]);
    }
  }
  return toS;
}

function levelRun(
  table: TruthTable,
  kind: 'leg' | 'turn',
  setting: string,
  startS: number,
  endS: number,
): TrueLevelRun {
  const mean = (column: Parameters<typeof meanOver>[1]): number => meanOver(table, column, startS, endS);
  const speeds = { east: mean('eastMps'), north: mean('northMps') };
  return {
    kind,
    setting,
    startS,
    endS,
    tasMps: mean('tasMps'),
    groundSpeedMps: Math.hypot(speeds.east, speeds.north),
    windEastMps: mean('windEastMps'),
    windNorthMps: mean('windNorthMps'),
    airUpMps: mean('windUpMps'),
    heightM: mean('heightM'),
    densityAltitudeM: densityAltitude(mean('densityKgM3')),
    massKg: mean('massKg'),
    rpm: mean('rpm'),
    shaftPowerW: mean('shaftPowerW'),
    fuelFlowM3ps: mean('fuelFlowM3ps'),
  };
}
