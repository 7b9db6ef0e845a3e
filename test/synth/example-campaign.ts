import type { Aeroplane } from './aeroplane.ts';
import { Air, type AirColumn } from './air.ts';
import { type Airfield, runwayEnds } from './airfield.ts';
import { drawPlan } from './draw-plan.ts';
import { fly } from './flight.ts';
import { type Modification, modified } from './modification.ts';
import { type PilotNotes, takeNotes } from './pilot-notes.ts';
import { Random } from './random.ts';
import { receive } from './receive.ts';
import { type ReceiverName, receiverKinds } from './receiver-kinds.ts';
import type { SimulationSetup } from './simulation.ts';
import type { FlightTruth } from './truth.ts';
import type { WindPlan } from './wind-field.ts';
import { type FileFormat, writeRecording } from './write/index.ts';

/**
 * The story of `examples/`: an invented two-seater gets a drooped leading edge. The stall falls, so it lifts off earlier
 * (ground roll shorter); at cruise the droop costs a little speed; in the climb it costs nothing. Flown in a windy winter
 * before and in a hot calm summer after, so that plain means say: no shorter roll, a worse climb.
 */
export const merrow: Aeroplane = {
  name: 'Merrow M2',
  gear: 'nosewheel',
  emptyMassKg: 412,
  maximumMassKg: 690,
  usableFuelM3: 0.09,
  wingAreaM2: 12.4,
  spanM: 9.7,
  spanEfficiency: 0.76,
  wingHeightM: 1.2,
  zeroLiftDrag: 0.031,
  flapDrag: 0.01,
  maximumLiftTakeoff: 1.72,
  maximumLiftClean: 1.48,
  runningLift: 0.55,
  threePointLift: 1.1,
  rotationFactor: 1.06,
  climbAwayFactor: 1.25,
  climbFactor: 1.42,
  brakingFriction: 0.35,
  engine: { ratedPowerW: 74_000, ratedRpm: 2700, fuelM3PerJ: 1.06e-10, idleFuelM3ps: 1.1e-6 },
  propeller: { kind: 'fixed-pitch', diameterM: 1.74, pitchM: 1.17 },
};

export const droop: Modification = {
  name: 'drooped leading edge',
  maximumLift: 1.28,
  camber: { drag: 0.026, bestLift: 0.72 },
  massKg: 4,
};

export const skerrySand: Airfield = {
  name: 'Skerry Sand',
  latDeg: 46.4218,
  lonDeg: -33.7152,
  elevationM: 38,
  headingRad: (104 * Math.PI) / 180,
  lengthM: 760,
  slope: 0.006,
  surface: 'grass',
  rollingFriction: 0.055,
  geoidHeightM: 51.3,
};

/** One line of the log: the day's weather as it truly was, what was flown and what recorded it. */
interface Entry {
  readonly configuration: 'before' | 'after';
  /** UTC. */
  readonly date: string;
  readonly time: string;
  readonly celsius: number;
  readonly hPa: number;
  /** At 10 m: direction, m/s. */
  readonly wind: readonly [fromDeg: number, speedMps: number];
  readonly thermalMps: number;
  /** On top of the empty mass: two people and baggage. */
  readonly loadKg: number;
  readonly fuelL: number;
  readonly receiver: ReceiverName;
  readonly format: FileFormat;
  readonly flown: 'usual' | 'twice' | 'soft-field';
}

/** Winter and spring before, summer and September after; a few days of either kind on both sides, as luck has it. */
const log = `
  before 2026-02-07 10:40   3  1019  090/4.2  0.05  158  62  handheld       gpx-speed      usual
  before 2026-02-07 13:15   5  1018  080/3.8  0.10  158  50  handheld       gpx-speed      usual
  before 2026-02-14 09:55   0  1031  120/2.1  0.05   96  70  good5          nmea           usual
  before 2026-02-22 11:20   6  1006  270/4.9  0.10  162  55  phone          kml-speed      usual
  before 2026-03-01 10:05   4  1024  300/3.4  0.10  101  80  film-vertical  camm           usual
  before 2026-03-08 08:50   1  1027  110/3.6  0.05  158  64  good5          csv-semicolon  twice
  before 2026-03-15 09:30   7  1013  095/4.4  0.10  150  58  logger         igc            usual
  before 2026-03-21 10:45   8  1009  285/3.0  0.10  158  45  good5          csv-metric     usual
  before 2026-04-11 07:40  13  1011  240/1.2  0.10  160  60  handheld       gpx-speed      usual
  before 2026-04-25 07:15  16  1008  080/1.0  0.10  120  72  film-vertical  camm           usual
  after  2026-07-04 06:50  21  1017  200/1.0  0.10  160  60  good5          nmea           usual
  after  2026-07-05 07:05  23  1015  130/1.6  0.10   98  75  handheld       gpx-speed      usual
  after  2026-07-11 06:40  26  1012  020/0.8  0.10  164  66  phone          kml-speed      usual
  after  2026-07-11 09:10  29  1012  350/1.5  0.20  164  54  phone          kml-speed      usual
  after  2026-07-18 06:30  22  1008  290/2.2  0.10  160  70  film-vertical  camm           usual
  after  2026-07-26 07:20  19  1003  250/3.2  0.10  158  62  handheld       fit            soft-field
  after  2026-08-01 06:55  24  1020  060/2.0  0.10  155  48  good5          csv-semicolon  twice
  after  2026-08-09 07:00  25  1016  170/1.2  0.10  102  78  logger         igc            usual
  after  2026-08-15 06:45  22  1018  100/2.6  0.10  160  57  good5          csv-metric     usual
  after  2026-09-19 08:20  13  1021  095/3.1  0.10  158  66  handheld       gpx-speed      usual
  after  2026-09-27 08:45  10  1026  110/3.5  0.05  140  52  film-vertical  camm           usual
`;

export const entries: readonly Entry[] = log
  .trim()
  .split('\n')
  .map((line): Entry => {
    const [configuration, date, time, celsius, hPa, wind, thermal, load, fuel, receiver, format, flown] = line
      .trim()
      .split(/\s+/);
    const [from, speed] = wind.split('/').map(Number);
    return {
      configuration: configuration as Entry['configuration'],
      date,
      time,
      celsius: Number(celsius),
      hPa: Number(hPa),
      wind: [from, speed],
      thermalMps: Number(thermal),
      loadKg: Number(load),
      fuelL: Number(fuel),
      receiver: receiver as ReceiverName,
      format: format as FileFormat,
      flown: flown as Entry['flown'],
    };
  });

export interface ExampleFlight {
  readonly entry: Entry;
  /** `2026-02-07-1040.gpx`. */
  readonly file: string;
  readonly bytes: Uint8Array;
  readonly notes: PilotNotes;
  readonly truth: FlightTruth;
}

export function exampleFlights(): ExampleFlight[] {
  return entries.map((entry) => {
    const random = new Random(`examples/${entry.date}/${entry.time}`);
    const aeroplane = entry.configuration === 'before' ? merrow : modified(merrow, droop);
    const column: AirColumn = {
      fieldElevationM: skerrySand.elevationM,
      fieldTemperatureK: entry.celsius + 273.15 + random.uniform(-0.4, 0.4),
      lapseKpm: random.uniform(0.0055, 0.0075),
      altimeterSettingPa: entry.hPa * 100 + random.uniform(-40, 40),
      relativeHumidity: random.uniform(0.5, 0.8),
    };
    const [fromDeg, speedMps] = entry.wind;
    const wind: WindPlan = {
      fromRad: (fromDeg * Math.PI) / 180,
      speedMps,
      upperFactor: 1.5,
      veerRad: 0.2,
      gustSigmaMps: 0.1 * speedMps + 0.1,
      gustLengthM: 150,
      slowSigmaMps: 0.05 * speedMps + 0.15,
      slowTauS: 700,
      thermalSigmaMps: entry.thermalMps,
      mixingHeightM: 900,
      waveSigmaMps: 0.05,
    };
    const along = speedMps * Math.cos(wind.fromRad - skerrySand.headingRad);
    const runwayEnd: 0 | 1 = along >= 0 ? 0 : 1;
    const setup: SimulationSetup = {
      aeroplane,
      field: skerrySand,
      air: new Air(column),
      wind,
      loadKg: entry.loadKg + random.normal(0, 3),
      fuelM3: entry.fuelL / 1000 + random.normal(0, 0.001),
      fuelDensityKgM3: 720,
      random: random.fork('simulation'),
      // Two days of rain on long grass.
      ...(entry.flown === 'soft-field' && { rollingFriction: 0.085 }),
    };
    const epochS = Date.UTC(
      Number(entry.date.slice(0, 4)),
      Number(entry.date.slice(5, 7)) - 1,
      Number(entry.date.slice(8, 10)),
      Number(entry.time.slice(0, 2)),
      Number(entry.time.slice(3, 5)),
    );
    const drawn = drawPlan(setup, random.fork('plan'), runwayEnd, {
      length: 'short',
      style: entry.flown === 'soft-field' ? 'soft-field' : 'nosewheel',
      start: 'standing',
      rejectFirst: false,
      goArounds: 0,
      epochS: epochS / 1000,
      climbToM: 640,
      cruisePowerShare: 0.68,
      circuits: entry.flown === 'twice' ? ['stop-and-go'] : [],
    });
    // Short files: little taxiing and no pauses on the way up.
    const plan = {
      ...drawn,
      technique: { ...drawn.technique, holdOnBrakesS: 0, settles: false },
      levelOffs: [],
      standAtStartS: 20,
      standAtEndS: 12,
      runUp: false,
    };
    const { table, truth } = fly(setup, plan);
    const kind = { ...receiverKinds[entry.receiver], firstFixS: 3, gap: 0 };
    const recording = receive(table, skerrySand, kind, random.fork('receiver'));
    const { bytes, extension } = writeRecording(recording, entry.format);
    const file = `${entry.date}-${entry.time.replace(':', '')}.${extension}`;
    const notes = takeNotes(
      {
        file,
        configuration: entry.configuration,
        setup,
        plan,
        weather: { air: setup.air, column, wind },
        runwayEnd,
        truth,
      },
      'careful',
      random.fork('notes'),
    );
    return { entry, file, bytes, notes, truth };
  });
}

export function runwayName(flight: ExampleFlight): string {
  const [one, other] = runwayEnds(skerrySand);
  return flight.notes.runway.name === one.name ? one.name : other.name;
}
