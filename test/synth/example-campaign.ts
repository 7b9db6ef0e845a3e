import type { Aeroplane } from './aeroplane.ts';
import { Air, type AirColumn } from './air.ts';
import { type Airfield, runwayEnds } from './airfield.ts';
import { drawPlan, type PlanOptions } from './draw-plan.ts';
import { fly } from './flight.ts';
import { type Modification, modified } from './modification.ts';
import { type PilotNotes, takeNotes } from './pilot-notes.ts';
import { Random } from './random.ts';
import { receive } from './receive.ts';
import { type ReceiverName, receiverKinds } from './receiver-kinds.ts';
import type { SimulationSetup } from './simulation.ts';
import type { FlightTruth, TakeoffTechnique } from './truth.ts';
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
  maximumLift: 1.17,
  camber: { drag: 0.0135, bestLift: 0.7 },
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
  readonly plan?: PlanOptions;
  /** Rolling friction on this day, where it was not the usual. */
  readonly friction?: number;
  readonly style?: TakeoffTechnique['style'];
}

export const entries: readonly Entry[] = [
  {
    configuration: 'before',
    date: '2026-02-07',
    time: '10:40',
    celsius: 3,
    hPa: 1019,
    wind: [90, 6.2],
    thermalMps: 0.05,
    loadKg: 158,
    fuelL: 62,
    receiver: 'handheld',
    format: 'gpx-speed',
  },
  {
    configuration: 'before',
    date: '2026-02-07',
    time: '13:15',
    celsius: 5,
    hPa: 1018,
    wind: [80, 5.4],
    thermalMps: 0.1,
    loadKg: 158,
    fuelL: 50,
    receiver: 'handheld',
    format: 'gpx-speed',
  },
  {
    configuration: 'before',
    date: '2026-02-14',
    time: '09:55',
    celsius: 0,
    hPa: 1031,
    wind: [120, 3.1],
    thermalMps: 0.05,
    loadKg: 96,
    fuelL: 70,
    receiver: 'good5',
    format: 'nmea',
  },
  {
    configuration: 'before',
    date: '2026-02-22',
    time: '11:20',
    celsius: 6,
    hPa: 1006,
    wind: [270, 7.4],
    thermalMps: 0.1,
    loadKg: 162,
    fuelL: 55,
    receiver: 'phone',
    format: 'kml-speed',
  },
  {
    configuration: 'before',
    date: '2026-03-01',
    time: '10:05',
    celsius: 4,
    hPa: 1024,
    wind: [300, 4.6],
    thermalMps: 0.1,
    loadKg: 101,
    fuelL: 80,
    receiver: 'film-vertical',
    format: 'camm',
  },
  {
    configuration: 'before',
    date: '2026-03-08',
    time: '08:50',
    celsius: 1,
    hPa: 1027,
    wind: [110, 5],
    thermalMps: 0.05,
    loadKg: 158,
    fuelL: 64,
    receiver: 'good5',
    format: 'csv-semicolon',
    plan: { circuits: ['stop-and-go'] },
  },
  {
    configuration: 'before',
    date: '2026-03-15',
    time: '09:30',
    celsius: 7,
    hPa: 1013,
    wind: [95, 6.8],
    thermalMps: 0.1,
    loadKg: 150,
    fuelL: 58,
    receiver: 'logger',
    format: 'igc',
  },
  {
    configuration: 'before',
    date: '2026-03-21',
    time: '10:45',
    celsius: 8,
    hPa: 1009,
    wind: [285, 4],
    thermalMps: 0.15,
    loadKg: 158,
    fuelL: 45,
    receiver: 'good5',
    format: 'csv-metric',
  },
  {
    configuration: 'after',
    date: '2026-07-04',
    time: '06:50',
    celsius: 21,
    hPa: 1017,
    wind: [200, 1],
    thermalMps: 0.1,
    loadKg: 160,
    fuelL: 60,
    receiver: 'good5',
    format: 'nmea',
  },
  {
    configuration: 'after',
    date: '2026-07-05',
    time: '07:05',
    celsius: 23,
    hPa: 1015,
    wind: [130, 1.6],
    thermalMps: 0.15,
    loadKg: 98,
    fuelL: 75,
    receiver: 'handheld',
    format: 'gpx-speed',
  },
  {
    configuration: 'after',
    date: '2026-07-11',
    time: '06:40',
    celsius: 26,
    hPa: 1012,
    wind: [20, 0.8],
    thermalMps: 0.15,
    loadKg: 164,
    fuelL: 66,
    receiver: 'phone',
    format: 'kml-speed',
  },
  {
    configuration: 'after',
    date: '2026-07-11',
    time: '09:10',
    celsius: 29,
    hPa: 1012,
    wind: [350, 1.5],
    thermalMps: 0.35,
    loadKg: 164,
    fuelL: 54,
    receiver: 'phone',
    format: 'kml-speed',
  },
  {
    configuration: 'after',
    date: '2026-07-18',
    time: '06:30',
    celsius: 22,
    hPa: 1008,
    wind: [290, 3.2],
    thermalMps: 0.1,
    loadKg: 160,
    fuelL: 70,
    receiver: 'film-vertical',
    format: 'camm',
  },
  {
    configuration: 'after',
    date: '2026-07-26',
    time: '07:20',
    celsius: 19,
    hPa: 1003,
    wind: [250, 4.2],
    thermalMps: 0.1,
    loadKg: 158,
    fuelL: 62,
    receiver: 'handheld',
    format: 'fit',
    friction: 0.085,
    style: 'soft-field',
  },
  {
    configuration: 'after',
    date: '2026-08-01',
    time: '06:55',
    celsius: 24,
    hPa: 1020,
    wind: [60, 2],
    thermalMps: 0.1,
    loadKg: 155,
    fuelL: 48,
    receiver: 'good5',
    format: 'csv-semicolon',
    plan: { circuits: ['stop-and-go'] },
  },
  {
    configuration: 'after',
    date: '2026-08-09',
    time: '07:00',
    celsius: 25,
    hPa: 1016,
    wind: [170, 1.2],
    thermalMps: 0.15,
    loadKg: 102,
    fuelL: 78,
    receiver: 'logger',
    format: 'igc',
  },
  {
    configuration: 'after',
    date: '2026-08-15',
    time: '06:45',
    celsius: 22,
    hPa: 1018,
    wind: [100, 2.6],
    thermalMps: 0.1,
    loadKg: 160,
    fuelL: 57,
    receiver: 'good5',
    format: 'csv-metric',
  },
];

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
      ...(entry.friction !== undefined && { rollingFriction: entry.friction }),
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
      style: entry.style ?? 'nosewheel',
      start: 'standing',
      rejectFirst: false,
      goArounds: 0,
      epochS: epochS / 1000,
      climbToM: 640,
      cruisePowerShare: 0.68,
      ...entry.plan,
    });
    // Short files: little taxiing and no pauses on the way up.
    const plan = { ...drawn, levelOffs: [], standAtStartS: 20, standAtEndS: 12, runUp: false };
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
