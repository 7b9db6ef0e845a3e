import { type Aeroplane } from './aeroplane.ts';
import type { Airfield } from './airfield.ts';
import { GaussMarkov, type Random } from './random.ts';
import type { TruthTable } from './recorder.ts';
import { WheelShake } from './wheel-shake.ts';

/**
 * What the accelerometer of a camera feels that is fixed to the aeroplane somehow: specific force (acceleration less
 * gravity) of the simulated motion in body axes, with all that shakes a camera, turned by an unknown mounting.
 *
 * Sizes are our own choice within what is ordinary (no source but where named): they are drawn anew for each recording.
 * Left out: the way from the centre of gravity to the camera (0.1 m/s2 at 10 degrees a second and a metre), bending of
 * the airframe.
 */
export interface AccelerometerKind {
  /** Samples a second by the camera's own clock, and how far off that clock is, one sigma. */
  readonly rateHz: number;
  readonly rateSigma: number;
  /** Per axis, one sigma: constant error, error of scale, noise of a sample. */
  readonly biasMps2: number;
  readonly scaleSigma: number;
  readonly noiseMps2: number;
  /** The sensor's own filter, one pole. */
  readonly cutOffHz: number;
  /** Written in steps of. */
  readonly stepMps2: number;
  /** Share of cameras on a mount that swings (12 to 25 Hz, five times at resonance). */
  readonly softMount: number;
  /** How much earlier than the receiver's own clock says a force is written, at most: the fix is late into the film. */
  readonly mostLeadS: number;
}

/** 200 samples a second, steps of 1/417 m/s2. */
export const cameraAccelerometer: AccelerometerKind = {
  rateHz: 200,
  rateSigma: 0.003,
  biasMps2: 0.15,
  scaleSigma: 0.01,
  noiseMps2: 0.06,
  cutOffHz: 80,
  stepMps2: 1 / 417,
  softMount: 0.2,
  mostLeadS: 0.4,
};

/** Samples in the camera's axes, m/s2, at true times. */
export interface RecordedForce {
  readonly timeS: Float64Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
  /** The film shows a force so much earlier than the receiver's stamps say. */
  readonly leadS: number;
}

const gravityMps2 = 9.80665;
/** Lift-curve slope of a wing of aspect ratio 6 to 7 (thin-wing theory with its correction for aspect ratio), 1/rad. */
const liftSlope = 4.8;
/** The tail of a tailwheel aeroplane comes up at so much airspeed, where the pilot raises it. */
const tailUpMps = 9;

export function feel(
  table: TruthTable,
  aeroplane: Aeroplane,
  field: Airfield,
  gustSigmaMps: number,
  kind: AccelerometerKind,
  random: Random,
): RecordedForce {
  const motion = new BodyMotion(table, aeroplane);
  const shake = new Shake(table, aeroplane, field, gustSigmaMps, random.fork('shake'));
  const draw = random.fork('sensor');
  const mounting = randomRotation(draw);
  const stepS = 1 / (kind.rateHz * (1 + draw.normal(0, kind.rateSigma)));
  const mount = draw.chance(kind.softMount) ? draw.uniform(12, 25) : undefined;
  const axes = [0, 1, 2].map(() => new SensorAxis(kind, stepS, mount, draw));
  const startS = table.timeS[0] + draw.uniform(0, stepS);
  const count = Math.floor((table.timeS[table.timeS.length - 1] - startS) / stepS);
  const timeS = Float64Array.from({ length: count }, (_, k) => startS + k * stepS);
  const columns = [0, 1, 2].map(() => new Float64Array(count));
  for (let k = 0; k < count; k++) {
    const body = motion.at(timeS[k]);
    const more = shake.advance(stepS, motion.row, body.loadShare);
    const force = [body.forward + more.forward, body.right + more.right, body.up + more.up];
    for (let axis = 0; axis < 3; axis++) {
      const turned = mounting[axis][0] * force[0] + mounting[axis][1] * force[1] + mounting[axis][2] * force[2];
      columns[axis][k] = axes[axis].sample(turned);
    }
  }
  return { timeS, x: columns[0], y: columns[1], z: columns[2], leadS: draw.uniform(0, kind.mostLeadS) };
}

interface BodyForce {
  readonly forward: number;
  readonly right: number;
  readonly up: number;
  /** Share of the weight that the wheels carry. */
  readonly loadShare: number;
}

/** Direction of motion is told above this. */
const stoppedMps = 1e-4;

/** Specific force of the motion, from the rows of the truth, in body axes: pitch is flight path and angle of attack. */
class BodyMotion {
  row = 0;
  private pitch: number;
  /** Of the ground under the wheels; standing, it is that of the way here. */
  private slope = 0;
  private force: BodyForce = { forward: 0, right: 0, up: gravityMps2, loadShare: 1 };
  private next: BodyForce = this.force;
  private readonly standing: number;

  constructor(
    private readonly table: TruthTable,
    private readonly aeroplane: Aeroplane,
  ) {
    this.standing = aeroplane.gear === 'tailwheel' ? (aeroplane.threePointLift - aeroplane.runningLift) / liftSlope : 0;
    this.pitch = this.standing;
  }

  /** Times must not go back. */
  at(timeS: number): BodyForce {
    const { table } = this;
    while (this.row + 2 < table.timeS.length && table.timeS[this.row + 1] <= timeS) {
      this.row++;
      this.force = this.next;
      this.next = this.ofRow(this.row + 1);
    }
    const part = (timeS - table.timeS[this.row]) / (table.timeS[this.row + 1] - table.timeS[this.row]);
    const mix = (a: number, b: number): number => a + Math.max(0, Math.min(1, part)) * (b - a);
    const { force, next } = this;
    return {
      forward: mix(force.forward, next.forward),
      right: mix(force.right, next.right),
      up: mix(force.up, next.up),
      loadShare: next.loadShare,
    };
  }

  private ofRow(row: number): BodyForce {
    const { table, aeroplane } = this;
    const before = row - 1;
    const spanS = table.timeS[row] - table.timeS[before];
    const rate = (name: 'eastMps' | 'northMps' | 'upMps'): number => (table[name][row] - table[name][before]) / spanS;
    const speed = Math.hypot(table.eastMps[row], table.northMps[row]);
    const tas = table.tasMps[row];
    const grounded = table.onGround[row] === 1;
    const lift = table.liftCoefficient[row];
    const attack = (lift - aeroplane.runningLift) / liftSlope;
    let along = 0;
    let right = 0;
    if (speed > stoppedMps) {
      const east = table.eastMps[row] / speed;
      const north = table.northMps[row] / speed;
      along = rate('eastMps') * east + rate('northMps') * north;
      right = rate('eastMps') * north - rate('northMps') * east;
    }
    // Wheels meeting the ground in one step of the simulation are the shake's affair.
    const touched = grounded !== (table.onGround[before] === 1);
    const upward = touched ? 0 : rate('upMps');
    if (touched) along = 0;
    let wanted = attack + Math.atan2(table.upMps[row] - table.windUpMps[row], Math.max(5, tas));
    if (grounded) {
      if (speed > 0.3) this.slope = table.upMps[row] / speed;
      wanted = this.slope + (tas < tailUpMps ? this.standing : Math.max(0, Math.min(attack, this.standing || attack)));
      this.pitch += (wanted - this.pitch) * Math.min(1, spanS / 0.3);
    } else this.pitch += (wanted - this.pitch) * Math.min(1, spanS / 0.1);
    const sine = Math.sin(this.pitch);
    const cosine = Math.cos(this.pitch);
    // A turn in the air is banked: the side force becomes load along the body's own upward axis.
    const upright = grounded ? gravityMps2 + upward : Math.hypot(gravityMps2 + upward, right);
    const q = 0.5 * table.densityKgM3[row] * tas * tas;
    const carried = (q * aeroplane.wingAreaM2 * lift) / (table.massKg[row] * gravityMps2);
    return {
      forward: cosine * along + sine * upright,
      right: grounded ? right : 0,
      up: cosine * upright - sine * along,
      loadShare: grounded ? Math.max(0, 1 - Math.max(0, carried)) : 0,
    };
  }
}

/** Engine, wheels, gusts and buffeting. */
class Shake {
  private phase = 0;
  private readonly wheels: WheelShake;
  private readonly wheelsAside: WheelShake;
  private readonly gust: GaussMarkov;
  private gustFollowed = 0;
  private buffet = { forward: 0, right: 0, up: 0 };
  private readonly orders: readonly {
    readonly order: number;
    readonly idle: number;
    readonly full: number;
    readonly axis: readonly number[];
    readonly phase: number;
  }[];
  private readonly buffetMps2: number;

  constructor(
    private readonly table: TruthTable,
    private readonly aeroplane: Aeroplane,
    field: Airfield,
    gustSigmaMps: number,
    private readonly random: Random,
  ) {
    // Roughness of the ground by the classes of ISO 8608: paved A to B, grass C to D (from memory).
    const rough = field.surface === 'paved' ? 4e-6 * 8 ** random.next() : 64e-6 * 8 ** random.next();
    this.wheels = new WheelShake(rough, random.fork('wheels'));
    this.wheelsAside = new WheelShake(rough, random.fork('wheels-aside'));
    // Vertical gusts a few metres above the ground: a third of those along it, ten metres long.
    this.gust = new GaussMarkov(random.fork('gust'), 0.35 * gustSigmaMps, 0.4);
    this.buffetMps2 = random.uniform(0.1, 0.3);
    // Per revolution: half (one cylinder unlike the rest, strongest at idle), one (balance), two (firing of four cylinders and blades of the propeller).
    this.orders = [
      { order: 0.5, idle: random.uniform(0.1, 0.5), full: random.uniform(0.05, 0.2) },
      { order: 1, idle: random.uniform(0.1, 0.3), full: random.uniform(0.2, 0.7) },
      { order: 2, idle: random.uniform(0.2, 0.6), full: random.uniform(0.6, 2) },
    ].map((each) => ({
      ...each,
      axis: [0.5 * random.normal(), random.normal(), random.normal()],
      phase: random.uniform(0, 2 * Math.PI),
    }));
  }

  advance(stepS: number, row: number, loadShare: number): { forward: number; right: number; up: number } {
    const { table, aeroplane, random } = this;
    const share = Math.min(1.1, table.rpm[row] / aeroplane.engine.ratedRpm);
    const speed = Math.hypot(table.eastMps[row], table.northMps[row]);
    const tas = Math.max(0, table.tasMps[row]);
    this.phase += 2 * Math.PI * (table.rpm[row] / 60) * stepS;
    let [forward, right, up] = [0, 0, 0];
    for (const { order, idle, full, axis, phase } of this.orders) {
      const size = (idle + (full - idle) * share * share) * Math.sin(order * this.phase + phase);
      forward += size * axis[0];
      right += size * axis[1];
      up += size * axis[2];
    }
    const bump = this.wheels.advance(stepS, speed, loadShare);
    const aside = this.wheelsAside.advance(stepS, speed, loadShare);
    // Wheels that meet bumps are pushed back by them as well.
    forward += 0.25 * bump + 0.15 * aside;
    right += 0.5 * aside;
    up += bump;
    if (tas > 3) {
      const q = (tas / 25) ** 2;
      const gust = this.gust.advance(stepS);
      const mass = table.massKg[row];
      const followS = (2 * mass) / (table.densityKgM3[row] * tas * aeroplane.wingAreaM2 * liftSlope);
      this.gustFollowed += (gust - this.gustFollowed) * Math.min(1, stepS / followS);
      up += (gust - this.gustFollowed) / followS;
      const size = this.buffetMps2 * Math.min(2, q);
      const keep = Math.exp(-stepS * 2 * Math.PI * 8);
      const kick = size * Math.sqrt(1 - keep * keep);
      for (const axis of ['forward', 'right', 'up'] as const)
        this.buffet[axis] = keep * this.buffet[axis] + kick * random.normal();
      forward += this.buffet.forward;
      right += this.buffet.right;
      up += this.buffet.up;
    }
    return { forward, right, up };
  }
}

/** One axis of the sensor, behind the swinging of its mount if there is one. */
class SensorAxis {
  private readonly bias: number;
  private readonly scale: number;
  private readonly keep: number;
  private filtered = Number.NaN;
  private place = 0;
  private speed = 0;

  constructor(
    private readonly kind: AccelerometerKind,
    private readonly stepS: number,
    private readonly mountHz: number | undefined,
    private readonly random: Random,
  ) {
    this.bias = random.normal(0, kind.biasMps2);
    this.scale = 1 + random.normal(0, kind.scaleSigma);
    this.keep = Math.exp(-stepS * 2 * Math.PI * kind.cutOffHz);
  }

  sample(force: number): number {
    const { kind, random } = this;
    let felt = force;
    if (this.mountHz !== undefined) {
      // A mass on a spring: what it feels is what the spring and its damping give.
      const omega = 2 * Math.PI * this.mountHz;
      const substeps = 4;
      const dt = this.stepS / substeps;
      for (let i = 0; i < substeps; i++) {
        felt = omega * omega * this.place + 0.2 * omega * this.speed;
        this.speed += (force - felt) * dt;
        this.place += this.speed * dt;
      }
    }
    if (Number.isNaN(this.filtered)) this.filtered = felt;
    this.filtered = this.keep * this.filtered + (1 - this.keep) * felt;
    const read = this.bias + this.scale * this.filtered + random.normal(0, kind.noiseMps2);
    return Math.round(read / kind.stepMps2) * kind.stepMps2;
  }
}

/** A rotation drawn evenly (a unit quaternion of four normal deviates). */
function randomRotation(random: Random): number[][] {
  const four = [random.normal(), random.normal(), random.normal(), random.normal()];
  const size = Math.hypot(...four);
  const [w, x, y, z] = four.map((value) => value / size);
  return [
    [1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y)],
    [2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x)],
    [2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)],
  ];
}
