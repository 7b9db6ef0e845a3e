import assert from 'node:assert/strict';
import { type Aeroplane, fleet, speedsOf } from '../../synth/aeroplane.ts';
import { standardAir } from '../../synth/air.ts';
import { airfields } from '../../synth/airfield.ts';
import { Random } from '../../synth/random.ts';
import { Simulation, stepS } from '../../synth/simulation.ts';
import { drag, inducedFactor, levelSpeed, steadyClimb } from '../../synth/steady.ts';
import { profileFactor, stillAir } from '../../synth/wind-field.ts';
import { near } from '../../tools/near.ts';

/** An aeroplane without drag or lift whose propeller gives constant thrust: a block on wheels. */
function simulation(aeroplane: Aeroplane, wind = stillAir, slope = 0): Simulation {
  return new Simulation({
    aeroplane,
    field: { ...airfields.longHaven, slope, headingRad: 0, elevationM: 0 },
    air: standardAir(0),
    wind,
    loadKg: 100,
    fuelM3: 0.05,
    fuelDensityKgM3: 720,
    random: new Random('simulation'),
    rollingFriction: 0.03,
  });
}

const glider: Aeroplane = {
  ...fleet.trainer,
  engine: { ...fleet.trainer.engine, ratedPowerW: 1e-6, idleFuelM3ps: 0, fuelM3PerJ: 0 },
  propeller: { kind: 'constant-speed', diameterM: 1e-6, staticMerit: 0.7, cruiseMerit: 0.7 },
};

describe('synth/simulation', () => {
  it('a coasting block without drag stops in v^2 / (2 g (mu + slope))', () => {
    const block: Aeroplane = { ...glider, zeroLiftDrag: 0, flapDrag: 0, spanEfficiency: 1e9 };
    const slope = 0.02;
    const sim = simulation(block, stillAir, slope);
    sim.headingRad = 0;
    sim.northMps = 20;
    let steps = 0;
    while (sim.groundSpeedMps > 0 && steps++ < 20_000) sim.step();
    const cosine = 1 / Math.sqrt(1 + slope * slope);
    const deceleration = 9.80665 * cosine * (0.03 + slope);
    near(sim.pathM, (20 / cosine) ** 2 / (2 * deceleration), 0.25);
    near(steps * stepS, 20 / deceleration, 0.1);
  });

  it('keeps the sum of height and kinetic energy but for drag and thrust', () => {
    const sim = simulation(fleet.trainer);
    sim.onGround = false;
    sim.heightM = 800;
    sim.northMps = 45;
    sim.throttle = 1;
    const energy = (): number => 9.80665 * sim.heightM + 0.5 * (sim.groundSpeedMps ** 2 + sim.upMps ** 2);
    const power = (): number => ((sim.thrustN - sim.dragN()) / mass) * Math.hypot(sim.northMps, sim.eastMps, sim.upMps);
    let work = 0;
    sim.wantedLift = 0.45;
    sim.step();
    const first = energy();
    const mass = sim.massKg;
    for (let i = 0; i < 3000; i++) {
      sim.wantedLift = 0.42 + 0.12 * Math.sin(i / 150);
      const before = power();
      sim.step();
      // In still air the force along the path does work at F V.
      work += ((before + power()) / 2) * stepS;
    }
    const change = energy() - first;
    // J/kg; first-order steps leave a few parts in a thousand.
    near(change, work, 0.01 * Math.abs(change), 'energy against work');
    assert.ok(Math.abs(change) > 1000, 'the case must move energy to say anything');
  });

  it('flies off a rising runway as soon as its lift exceeds its weight', () => {
    const sim = simulation(fleet.trainer, stillAir, 0.03);
    sim.headingRad = 0;
    sim.throttle = 1;
    let lifted = 0;
    let back = 0;
    for (let i = 0; i < 3000 && sim.heightAboveGroundM < 3; i++) {
      sim.wantedLift = sim.groundSpeedMps > 27 ? 1.6 : 0.4;
      const before = sim.onGround;
      sim.step();
      if (before && !sim.onGround) lifted++;
      if (!before && sim.onGround) back++;
    }
    assert.ok(sim.heightAboveGroundM >= 3);
    assert.equal(lifted, 1);
    assert.equal(back, 0);
  });

  it('a steady wind only adds to the ground speed', () => {
    const still = simulation(fleet.trainer);
    const windy = simulation(fleet.trainer, { ...stillAir, fromRad: Math.PI, speedMps: 10, upperFactor: 1.3 });
    for (const sim of [still, windy]) {
      sim.onGround = false;
      sim.heightM = 1500;
      sim.throttle = 0.6;
      sim.northMps = 50;
      sim.wantedLift = 0.35;
    }
    // Above 1,000 m the profile is constant: 10 m/s x the factor there, from the south.
    const factor = profileFactor(1500, 1.3);
    windy.northMps += 10 * factor;
    for (let i = 0; i < 1000; i++) {
      still.step();
      windy.step();
    }
    near(windy.heightM, still.heightM, 0.02);
    near(windy.northM - still.northM, 10 * factor * 1000 * stepS, 0.02);
    near(windy.tasMps, still.tasMps, 1e-3);
  });

  it('steady climb satisfies rate = (thrust - drag) V / W less the acceleration factor (handbook value 0.0081 at 75 kt EAS, 3,000 ft)', () => {
    const aeroplane = fleet.trainer;
    const air = standardAir(0);
    const eas = (75 * 1852) / 3600;
    air.set(3000 * 0.3048);
    const tas = eas * Math.sqrt(1.225 / air.densityKgM3);
    const rate = steadyClimb(aeroplane, air, 3000 * 0.3048, 900, eas);
    assert.ok(rate > 3 && rate < 6, `rate ${rate}`);
    // Against the same energy balance written out.
    const sine = rate / tas;
    const needed =
      drag(aeroplane, 900, air.densityKgM3, tas, Math.sqrt(1 - sine * sine)) + 900 * 9.80665 * sine * 1.00813;
    const sim = simulation(aeroplane);
    sim.plant.rpm = 2400;
    for (let i = 0; i < 2000; i++) {
      sim.plant.advance(0.02, 1, tas, air.densityKgM3, air.dryDensityKgM3, 3000 * 0.3048);
    }
    near(sim.thrustN / needed, 1, 0.002);
  });

  it('level speed goes with the cube root of power near top speed (FAA-H-8083-25C ch. 11: doubling speed takes 8 x power)', () => {
    // Little induced drag: a light, long wing.
    const sleek: Aeroplane = { ...fleet.tourer, spanM: 60 };
    const air = standardAir(0);
    const slow = levelSpeed(sleek, air, 0, 700, { kind: 'power', share: 0.6 });
    const fast = levelSpeed(sleek, air, 0, 700, { kind: 'power', share: 0.72 });
    assert.ok(slow && fast);
    // +20 % power: +6.27 % speed; the propeller's efficiency still rises a little, 0.4 points.
    near(fast / slow - 1, 0.0627, 0.006);
  });

  it('a turn needs lift / cos(bank) and turns at g tan(bank) / V', () => {
    const sim = simulation(fleet.tourer);
    sim.onGround = false;
    sim.heightM = 1000;
    sim.northMps = 60;
    sim.throttle = 0.6;
    sim.tasMps = 60;
    sim.wantedBankRad = 0.5;
    for (let i = 0; i < 500; i++) {
      const q = 0.5 * sim.setup.air.densityKgM3 * sim.tasMps ** 2;
      const load = (1 - 0.05 * sim.upMps) / Math.cos(sim.bankRad);
      sim.wantedLift = (load * sim.massKg * 9.80665) / (q * 16.4);
      sim.step();
    }
    const table = sim.recorder.table();
    const last = table.timeS.length - 1;
    near(table.turnRateRadps[last], (9.80665 * Math.tan(0.5)) / sim.tasMps, 0.004);
  });

  it('the wing of each aeroplane has the induced drag of its polar', () => {
    for (const aeroplane of Object.values(fleet)) {
      near(
        inducedFactor(aeroplane) * Math.PI * aeroplane.spanEfficiency * (aeroplane.spanM ** 2 / aeroplane.wingAreaM2),
        1,
        1e-12,
      );
      const speeds = speedsOf(aeroplane, aeroplane.maximumMassKg);
      assert.ok(speeds.rotationMps < speeds.climbAwayMps && speeds.climbAwayMps < speeds.climbMps);
    }
  });
});
