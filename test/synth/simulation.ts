import { type Aeroplane, profileDrag } from './aeroplane.ts';
import { Air } from './air.ts';
import { type Airfield, groundHeight } from './airfield.ts';
import { Powerplant } from './powerplant.ts';
import type { Random } from './random.ts';
import { Recorder } from './recorder.ts';
import { inducedFactor } from './steady.ts';
import { WindField, type WindPlan } from './wind-field.ts';

/**
 * One aeroplane as a point mass in moving air, stepped at 50 Hz. Inertia is counted over the ground and forces through
 * the air, so gusts and wind shear act as they do in life. On the ground it runs on its wheels along its heading.
 */
export const stepS = 0.02;
const gravityMps2 = 9.80665;
const liftLagS = 0.25;
const bankRateRadps = 0.25;

export interface SimulationSetup {
  readonly aeroplane: Aeroplane;
  readonly field: Airfield;
  readonly air: Air;
  readonly wind: WindPlan;
  /** People, baggage on top of the empty mass, kg. */
  readonly loadKg: number;
  readonly fuelM3: number;
  readonly fuelDensityKgM3: number;
  readonly random: Random;
  /** Rolling friction of this day (a wet or long surface has more). */
  readonly rollingFriction?: number;
}

export class Simulation {
  timeS = 0;
  eastM = 0;
  northM = 0;
  heightM: number;
  eastMps = 0;
  northMps = 0;
  upMps = 0;
  /** On the ground: where it points. In the air it flies where it points. */
  headingRad = 0;
  onGround = true;
  bankRad = 0;
  lift = 0;
  tasMps = 0;
  massKg: number;
  fuelM3: number;
  fuelUsedM3 = 0;
  /** Length of the path over the ground since the start, metres. */
  pathM = 0;
  /** Drag beyond the clean polar: flaps. */
  flaps = 0;
  readonly recorder = new Recorder();
  readonly plant: Powerplant;
  readonly windField: WindField;
  readonly rollingFriction: number;
  private turnRateRadps = 0;
  private readonly induced: number;
  // What the pilot asks for.
  throttle = 0;
  rpmWanted: number;
  wantedLift = 0;
  wantedBankRad = 0;
  brake = 0;

  constructor(readonly setup: SimulationSetup) {
    this.plant = new Powerplant(setup.aeroplane);
    this.windField = new WindField(setup.wind, setup.random.fork('wind'));
    this.fuelM3 = setup.fuelM3;
    this.massKg = setup.aeroplane.emptyMassKg + setup.loadKg + setup.fuelM3 * setup.fuelDensityKgM3;
    this.heightM = setup.field.elevationM;
    this.rpmWanted = setup.aeroplane.engine.ratedRpm;
    this.induced = inducedFactor(setup.aeroplane);
    this.rollingFriction = setup.rollingFriction ?? setup.field.rollingFriction;
  }

  get groundSpeedMps(): number {
    return Math.hypot(this.eastMps, this.northMps);
  }

  get easMps(): number {
    return this.tasMps * Math.sqrt(this.setup.air.densityKgM3 / 1.225);
  }

  get heightAboveGroundM(): number {
    return this.heightM - groundHeight(this.setup.field, this.eastM, this.northM);
  }

  get thrustN(): number {
    return this.plant.thrustN;
  }

  /** Drag at the present speed with the lift coefficient in use, newton. */
  dragN(): number {
    const { aeroplane, air } = this.setup;
    const q = 0.5 * air.densityKgM3 * this.tasMps * this.tasMps;
    const nearness = (16 * (aeroplane.wingHeightM + Math.max(0, this.heightAboveGroundM))) / aeroplane.spanM;
    const groundEffect = (nearness * nearness) / (1 + nearness * nearness);
    return (
      q *
      aeroplane.wingAreaM2 *
      (profileDrag(aeroplane, this.lift) +
        this.flaps * aeroplane.flapDrag +
        this.induced * groundEffect * this.lift * this.lift)
    );
  }

  private surroundings(): void {
    const { air, aeroplane } = this.setup;
    air.set(this.heightM);
    this.windField.advance(stepS, this.heightAboveGroundM + aeroplane.wingHeightM, this.tasMps);
    this.plant.advance(
      stepS,
      this.throttle,
      this.tasMps,
      air.densityKgM3,
      air.dryDensityKgM3,
      this.heightM,
      this.rpmWanted,
    );
    const used = Math.min(this.fuelM3, this.plant.fuelFlowM3ps * stepS);
    this.fuelM3 -= used;
    this.fuelUsedM3 += used;
    this.massKg -= used * this.setup.fuelDensityKgM3;
  }

  private record(): void {
    const { air } = this.setup;
    const { windField, plant } = this;
    const row = this.recorder.next();
    const { columns } = this.recorder;
    columns.timeS[row] = this.timeS;
    columns.eastM[row] = this.eastM;
    columns.northM[row] = this.northM;
    columns.heightM[row] = this.heightM;
    columns.eastMps[row] = this.eastMps;
    columns.northMps[row] = this.northMps;
    columns.upMps[row] = this.upMps;
    columns.tasMps[row] = this.tasMps;
    columns.easMps[row] = this.easMps;
    columns.pressurePa[row] = air.pressurePa;
    columns.temperatureK[row] = air.temperatureK;
    columns.densityKgM3[row] = air.densityKgM3;
    columns.windEastMps[row] = windField.eastMps;
    columns.windNorthMps[row] = windField.northMps;
    columns.windUpMps[row] = windField.upMps;
    columns.rpm[row] = plant.rpm;
    columns.fuelFlowM3ps[row] = plant.fuelFlowM3ps;
    columns.shaftPowerW[row] = plant.shaftPowerW;
    columns.massKg[row] = this.massKg;
    columns.turnRateRadps[row] = this.turnRateRadps;
    columns.onGround[row] = this.onGround ? 1 : 0;
    columns.liftCoefficient[row] = this.lift;
    columns.pathM[row] = this.pathM;
  }

  /** Taxiing: speed and heading are given, physics is not asked. Moves one step. */
  stepTaxi(speedMps: number, headingRad: number): void {
    this.surroundings();
    this.turnRateRadps = wrapAngle(headingRad - this.headingRad) / stepS;
    const before = { east: this.eastMps, north: this.northMps, height: this.heightM };
    this.headingRad = headingRad;
    this.eastMps = speedMps * Math.sin(headingRad);
    this.northMps = speedMps * Math.cos(headingRad);
    const east = ((before.east + this.eastMps) / 2) * stepS;
    const north = ((before.north + this.northMps) / 2) * stepS;
    this.eastM += east;
    this.northM += north;
    this.pathM += Math.hypot(east, north);
    this.heightM = groundHeight(this.setup.field, this.eastM, this.northM);
    this.upMps = (this.heightM - before.height) / stepS;
    this.tasMps = Math.max(0, speedMps - this.tailwind());
    this.lift = 0;
    this.timeS += stepS;
    this.record();
  }

  private tailwind(): number {
    return this.windField.eastMps * Math.sin(this.headingRad) + this.windField.northMps * Math.cos(this.headingRad);
  }

  /** One step under power on the wheels along `headingRad`, or in the air. */
  step(): void {
    this.surroundings();
    if (this.onGround) this.rollStep();
    else this.airStep();
    this.timeS += stepS;
    this.record();
  }

  private rollStep(): void {
    const { aeroplane, air, field } = this.setup;
    const along = { east: Math.sin(this.headingRad), north: Math.cos(this.headingRad) };
    const slope = field.slope * Math.cos(this.headingRad - field.headingRad);
    const cosine = 1 / Math.sqrt(1 + slope * slope);
    // The stored speeds are horizontal; the roll is along the slope.
    const speed = (this.eastMps * along.east + this.northMps * along.north) / cosine;
    this.tasMps = Math.max(0, speed - this.tailwind());
    this.lift += (this.wantedLift - this.lift) * Math.min(1, stepS / 0.05);
    const q = 0.5 * air.densityKgM3 * this.tasMps * this.tasMps;
    const liftN = q * aeroplane.wingAreaM2 * this.lift;
    const weight = this.massKg * gravityMps2;
    const onWheels = weight * cosine - liftN;
    if (onWheels <= 0) {
      this.onGround = false;
      this.airStep();
      return;
    }
    const resisting = (this.rollingFriction + this.brake * aeroplane.brakingFriction) * onWheels;
    const pulling = this.plant.thrustN - this.dragN() - weight * slope * cosine;
    let next: number;
    if (speed <= 0 && Math.abs(pulling) <= resisting) next = 0;
    else next = Math.max(0, speed + ((pulling - resisting) / this.massKg) * stepS);
    const moved = ((speed + next) / 2) * stepS * cosine;
    this.eastM += moved * along.east;
    this.northM += moved * along.north;
    this.pathM += moved;
    this.eastMps = next * cosine * along.east;
    this.northMps = next * cosine * along.north;
    this.upMps = next * cosine * slope;
    this.heightM = groundHeight(field, this.eastM, this.northM);
    this.turnRateRadps = 0;
  }

  private airStep(): void {
    const { windField } = this;
    this.lift += (this.wantedLift - this.lift) * (stepS / liftLagS);
    const change = Math.max(-1, Math.min(1, (this.wantedBankRad - this.bankRad) / (bankRateRadps * stepS)));
    this.bankRad += change * bankRateRadps * stepS;
    // Midpoint rule: a force across the path must not add energy.
    this.accelerate(this.eastMps, this.northMps, this.upMps);
    const half = stepS / 2;
    const { aeast, anorth, aup } = this;
    this.accelerate(this.eastMps + aeast * half, this.northMps + anorth * half, this.upMps + aup * half);
    const nextEast = this.eastMps + this.aeast * stepS;
    const nextNorth = this.northMps + this.anorth * stepS;
    const nextUp = this.upMps + this.aup * stepS;
    this.tasMps = Math.hypot(nextEast - windField.eastMps, nextNorth - windField.northMps, nextUp - windField.upMps);
    const movedEast = ((this.eastMps + nextEast) / 2) * stepS;
    const movedNorth = ((this.northMps + nextNorth) / 2) * stepS;
    this.eastM += movedEast;
    this.northM += movedNorth;
    this.pathM += Math.hypot(movedEast, movedNorth);
    this.heightM += ((this.upMps + nextUp) / 2) * stepS;
    this.eastMps = nextEast;
    this.northMps = nextNorth;
    this.upMps = nextUp;
    const heading = Math.atan2(nextEast - windField.eastMps, nextNorth - windField.northMps);
    this.turnRateRadps = wrapAngle(heading - this.headingRad) / stepS;
    this.headingRad = heading;
    const ground = groundHeight(this.setup.field, this.eastM, this.northM);
    if (this.heightM <= ground) this.touch(ground);
  }

  private aeast = 0;
  private anorth = 0;
  private aup = 0;

  /** Acceleration over the ground at a velocity: thrust and drag along the path through the air, lift across it. */
  private accelerate(eastMps: number, northMps: number, upMps: number): void {
    const { aeroplane, air } = this.setup;
    const { windField } = this;
    const east = eastMps - windField.eastMps;
    const north = northMps - windField.northMps;
    const up = upMps - windField.upMps;
    const flat = Math.hypot(east, north);
    const tas = Math.hypot(flat, up);
    this.tasMps = tas;
    const q = 0.5 * air.densityKgM3 * tas * tas;
    const lift = (q * aeroplane.wingAreaM2 * Math.min(this.lift, aeroplane.maximumLiftTakeoff)) / this.massKg;
    const forward = (this.plant.thrustN - this.dragN()) / this.massKg;
    const liftUp = lift * Math.cos(this.bankRad);
    const liftRight = lift * Math.sin(this.bankRad);
    const headingEast = east / flat;
    const headingNorth = north / flat;
    const sine = up / tas;
    this.aeast = forward * (east / tas) - liftUp * sine * headingEast + liftRight * headingNorth;
    this.anorth = forward * (north / tas) - liftUp * sine * headingNorth - liftRight * headingEast;
    this.aup = forward * sine + (liftUp * flat) / tas - gravityMps2;
  }

  /** The wheels meet the ground: the vertical motion is taken up, the sideways one scrubbed off. */
  private touch(groundM: number): void {
    this.onGround = true;
    this.heightM = groundM;
    this.bankRad = 0;
    this.headingRad = this.touchdownHeadingRad ?? Math.atan2(this.eastMps, this.northMps);
    const speed = this.eastMps * Math.sin(this.headingRad) + this.northMps * Math.cos(this.headingRad);
    this.eastMps = speed * Math.sin(this.headingRad);
    this.northMps = speed * Math.cos(this.headingRad);
    // Along the slope, or it could never leave a runway that rises under it.
    this.upMps = speed * this.setup.field.slope * Math.cos(this.headingRad - this.setup.field.headingRad);
  }

  /** Runway heading onto which the aeroplane is straightened when it touches. */
  touchdownHeadingRad: number | undefined;
}

/** An angle brought into -pi..pi. */
export function wrapAngle(angle: number): number {
  return angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));
}
