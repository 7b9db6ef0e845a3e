import type { Airfield } from './airfield.ts';
import type { Random } from './random.ts';
import { truthColumns, type TruthTable } from './recorder.ts';

/**
 * Journeys that never leave the ground (or the water): what a recorder carried on in a car, train or boat writes, and what
 * an aeroplane does on the ground without taking off. Nothing may be called a take-off or a landing in them, save as
 * `brokenOff` says. Sizes are our own choice from everyday practice: a car pulls away at 1 to 3 m/s2 and brakes at 1.5 to
 * 4, roads rise by up to 8 %, mountain roads by up to 12 %, railways by 2.5 %.
 */
const stepS = 0.02;
const degree = Math.PI / 180;

class Vehicle {
  private readonly rows: number[][] = [];
  private timeS: number;
  private eastM: number;
  private northM: number;
  private heightM: number;
  private speedMps = 0;
  gradient = 0;

  constructor(
    readonly random: Random,
    start: { readonly timeS: number; readonly eastM: number; readonly northM: number; readonly heightM: number },
    public headingRad: number,
  ) {
    this.timeS = start.timeS;
    this.eastM = start.eastM;
    this.northM = start.northM;
    this.heightM = start.heightM;
  }

  private step(acceleration: number, turnRate: number): void {
    this.speedMps = Math.max(0, this.speedMps + acceleration * stepS);
    this.headingRad += turnRate * stepS;
    const moved = this.speedMps * stepS;
    this.eastM += moved * Math.sin(this.headingRad);
    this.northM += moved * Math.cos(this.headingRad);
    this.heightM += moved * this.gradient;
    this.timeS += stepS;
    this.rows.push([this.timeS, this.eastM, this.northM, this.heightM, this.speedMps, this.headingRad, turnRate]);
  }

  stand(seconds: number): this {
    this.speedMps = 0;
    for (let at = 0; at < seconds; at += stepS) this.step(0, 0);
    return this;
  }

  /** To a speed at an acceleration that falls as the speed is approached, as drivers do. */
  to(speedMps: number, mps2: number): this {
    const up = speedMps > this.speedMps;
    while (up ? this.speedMps < speedMps - 0.05 : this.speedMps > speedMps + 0.05) {
      const left = Math.abs(speedMps - this.speedMps);
      this.step((up ? 1 : -1) * mps2 * Math.min(1, 0.25 + left / 2), 0);
    }
    return this;
  }

  /** Speed held (within a per cent or so) while the road winds gently; `gradient` as a function of the seconds since. */
  hold(seconds: number, turnSigmaRadps = 0.004, gradient?: (seconds: number) => number): this {
    let turn = 0;
    let push = 0;
    for (let at = 0; at < seconds; at += stepS) {
      turn += (-turn / 6) * stepS + turnSigmaRadps * Math.sqrt((2 * stepS) / 6) * this.random.normal();
      push += (-push / 8) * stepS + 0.06 * Math.sqrt((2 * stepS) / 8) * this.random.normal();
      if (gradient !== undefined) this.gradient = gradient(at);
      this.step(push, turn);
    }
    return this;
  }

  turn(angleRad: number, radiusM: number): this {
    const rate = (Math.sign(angleRad) * this.speedMps) / radiusM;
    const until = this.headingRad + angleRad;
    while (Math.sign(angleRad) * (until - this.headingRad) > 0) this.step(0, rate);
    return this;
  }

  /** Every column of the simulator's truth; those of air and engine are those of still air and no engine. */
  table(): TruthTable {
    const table = Object.fromEntries(
      truthColumns.map((name) => [name, new Float64Array(this.rows.length)]),
    ) as unknown as Record<(typeof truthColumns)[number], Float64Array>;
    let pathM = 0;
    for (const [row, [timeS, eastM, northM, heightM, speedMps, headingRad, turnRate]] of this.rows.entries()) {
      pathM += speedMps * stepS;
      table.timeS[row] = timeS;
      table.eastM[row] = eastM;
      table.northM[row] = northM;
      table.heightM[row] = heightM;
      table.eastMps[row] = speedMps * Math.sin(headingRad);
      table.northMps[row] = speedMps * Math.cos(headingRad);
      table.upMps[row] = row === 0 ? 0 : (heightM - this.rows[row - 1][3]) / stepS;
      table.tasMps[row] = speedMps;
      table.pressurePa[row] = 101_325 * (1 - heightM / 44_331) ** 5.2559;
      table.temperatureK[row] = 288.15 - 0.0065 * heightM;
      table.turnRateRadps[row] = turnRate;
      table.onGround[row] = 1;
      table.pathM[row] = pathM;
    }
    return table;
  }
}

type Drive = (vehicle: Vehicle) => void;

/** A road that rises and falls: so steep at most, over hills so many seconds long. */
function hills(random: Random, steepest: number, lengthS: number): (seconds: number) => number {
  const phase = random.uniform(0, 2 * Math.PI);
  return (seconds) => steepest * Math.sin(phase + (2 * Math.PI * seconds) / lengthS);
}

function town(vehicle: Vehicle): void {
  const { random } = vehicle;
  for (let block = 0; block < 14; block += 1) {
    const limit = random.pick([8.3, 13.9, 13.9, 16.7]) * random.uniform(0.92, 1.08);
    vehicle.gradient = random.normal(0, 0.015);
    vehicle.to(limit, random.uniform(1.2, 2.8)).hold(random.uniform(1, 25), 0.01);
    if (random.chance(0.5)) {
      vehicle
        .to(random.uniform(4, 6), random.uniform(1.5, 3))
        .turn(random.pick([-90, 90]) * degree, random.uniform(8, 14));
    } else vehicle.to(0, random.uniform(1.5, 3.2)).stand(random.uniform(3, 40));
  }
  vehicle.to(0, 2).stand(20);
}

/** Stop-and-go between lights on one straight street: each run is straight, hard and short. */
function straightStreet(vehicle: Vehicle): void {
  const { random } = vehicle;
  for (let block = 0; block < 10; block += 1) {
    vehicle.to(random.uniform(11, 15), random.uniform(1.5, 2.8)).hold(random.uniform(0, 6), 0.002);
    vehicle.to(0, random.uniform(1.8, 3.5)).stand(random.uniform(8, 50));
  }
}

function motorway(vehicle: Vehicle): void {
  const { random } = vehicle;
  for (let part = 0; part < 2; part += 1) {
    vehicle.to(13, 1.8).turn(random.uniform(40, 120) * degree, 60);
    vehicle.to(random.uniform(29, 36), random.uniform(1, 2));
    for (let stretch = 0; stretch < 5; stretch += 1) {
      vehicle.hold(random.uniform(50, 110), 0.004, hills(random, random.uniform(0.01, 0.05), random.uniform(50, 160)));
      vehicle.to(random.uniform(24, 36), 0.7);
    }
    vehicle
      .to(14, 1.5)
      .turn(-90 * degree, 60)
      .to(0, 2)
      .stand(60);
  }
}

/** A fast road over steep hills, with stops. */
function hillRoad(vehicle: Vehicle): void {
  const { random } = vehicle;
  for (let leg = 0; leg < 4; leg += 1) {
    const speed = random.uniform(20, 31);
    vehicle
      .to(speed, 2)
      .hold(random.uniform(60, 150), 0.003, hills(random, random.uniform(0.04, 0.08), 94))
      .to(0, 2)
      .stand(25);
  }
}

/** Up a pass and down again: hairpins at 6 m/s, straights at up to 20. */
function mountainRoad(vehicle: Vehicle): void {
  const { random } = vehicle;
  for (const side of [1, -1]) {
    for (let bend = 0; bend < 9; bend += 1) {
      vehicle.gradient = side * random.uniform(0.06, 0.12);
      vehicle.to(random.uniform(13, 20), 1.8).hold(random.uniform(8, 35), 0.012);
      vehicle.to(random.uniform(5, 8), random.uniform(1.2, 2.5));
      vehicle.turn((bend % 2 === 0 ? 1 : -1) * random.uniform(130, 180) * degree, random.uniform(10, 18));
    }
    vehicle.to(0, 2).stand(90);
  }
}

function train(vehicle: Vehicle): void {
  const { random } = vehicle;
  for (let station = 0; station < 3; station += 1) {
    vehicle.to(random.uniform(28, 45), random.uniform(0.4, 0.9));
    vehicle.hold(
      random.uniform(120, 260),
      0.002,
      hills(random, random.uniform(0.008, 0.025), random.uniform(150, 400)),
    );
    vehicle.gradient = 0;
    vehicle.to(0, random.uniform(0.5, 0.8)).stand(50);
  }
}

function boat(vehicle: Vehicle): void {
  const { random } = vehicle;
  for (let leg = 0; leg < 5; leg += 1) {
    vehicle.to(random.uniform(9, 17), random.uniform(0.8, 1.8)).hold(random.uniform(20, 120), 0.03);
    vehicle.turn(random.pick([-1, 1]) * random.uniform(60, 170) * degree, random.uniform(30, 90));
    vehicle.hold(random.uniform(5, 60), 0.02).to(0, 0.7).stand(random.uniform(10, 60));
  }
}

/** An aeroplane on a runway: fast taxis held, backtracks; nothing broken off at once. */
function fastTaxi(vehicle: Vehicle): void {
  const { random } = vehicle;
  for (let run = 0; run < 4; run += 1) {
    vehicle
      .to(random.uniform(12, 20), random.uniform(1.2, 2.2))
      .hold(random.uniform(14, 30), 0.002)
      .to(4, random.uniform(0.6, 1.5));
    vehicle
      .turn(180 * degree, 9)
      .to(random.uniform(8, 10), 1.0)
      .hold(random.uniform(15, 60), 0.003)
      .to(0, 1)
      .stand(30);
    vehicle
      .to(3, 0.8)
      .turn(180 * degree, 9)
      .to(0, 1)
      .stand(15);
  }
}

/** A glider fetched back along the field behind a car, again and again. */
function towRetrieval(vehicle: Vehicle): void {
  const { random } = vehicle;
  for (let run = 0; run < 6; run += 1) {
    vehicle.to(random.uniform(4, 8), 0.9).hold(random.uniform(60, 140), 0.01).to(0, 1).stand(random.uniform(30, 120));
    vehicle
      .to(random.uniform(9, 13), 2)
      .hold(random.uniform(30, 60), 0.01)
      .turn(180 * degree, 40)
      .to(0, 1.5)
      .stand(30);
  }
}

export const journeys = {
  town,
  straightStreet,
  motorway,
  hillRoad,
  mountainRoad,
  train,
  boat,
  fastTaxi,
  towRetrieval,
} as const satisfies Record<string, Drive>;

export type JourneyName = keyof typeof journeys;

/** One journey as a table of the simulator's truth, beginning near a field. */
export function journey(name: JourneyName, field: Airfield, random: Random, startS = 1_767_600_000): TruthTable {
  const vehicle = new Vehicle(
    random,
    { timeS: startS, eastM: 60, northM: -40, heightM: field.elevationM },
    random.uniform(0, 2 * Math.PI),
  );
  vehicle.stand(40);
  journeys[name](vehicle);
  return vehicle.table();
}

/** A flight, and then the recorder goes home in a car: town, a hill, and the motorway. */
export function carriedOn(flight: TruthTable, field: Airfield, random: Random): TruthTable {
  const last = flight.timeS.length - 1;
  const vehicle = new Vehicle(
    random,
    {
      timeS: flight.timeS[last] + stepS,
      eastM: flight.eastM[last],
      northM: flight.northM[last],
      heightM: flight.heightM[last],
    },
    // The road leaves along the runway, where a run is hardest to tell from one on it.
    field.headingRad + random.normal(0, 0.6),
  );
  vehicle.stand(120);
  town(vehicle);
  hillRoad(vehicle);
  motorway(vehicle);
  const ride = vehicle.table();
  return Object.fromEntries(
    truthColumns.map((name) => {
      const joined = new Float64Array(last + 1 + ride[name].length);
      joined.set(flight[name], 0);
      joined.set(ride[name], last + 1);
      return [name, joined];
    }),
  ) as unknown as TruthTable;
}
