import { type Aeroplane, fleet, type FleetName, speedsOf } from './aeroplane.ts';
import { densityAltitude, standardAir } from './air.ts';
import { type Airfield, type AirfieldName, airfields, runwayEnds } from './airfield.ts';
import { drawPlan, type PlanOptions } from './draw-plan.ts';
import { fly } from './flight.ts';
import { type Modification, modifications, type ModificationName, modified } from './modification.ts';
import { type PilotNotes, type NoteTaking, takeNotes } from './pilot-notes.ts';
import { Random } from './random.ts';
import { receive, type Recording } from './receive.ts';
import { type ReceiverName, receiverKinds } from './receiver-kinds.ts';
import type { TruthTable } from './recorder.ts';
import { mostWind } from './simulated-flights.ts';
import type { SimulationSetup } from './simulation.ts';
import { steadyClimb } from './steady.ts';
import { airOf, nominalTakeoff, type Standard, type StandardAnswers, standardAnswers } from './standard-answers.ts';
import { type SyntheticTrack, trackInMemory } from './track-in-memory.ts';
import type { FlightTruth, TakeoffTechnique, TrueTakeoff } from './truth.ts';
import { drawWeather, type Weather, type WeatherKind } from './weather.ts';
import { civilTime, isoDate, padded } from './write/civil-time.ts';
import { type FileFormat, formatsOf, writeRecording } from './write/index.ts';

/**
 * 'fair': the same mixture of ordinary days before and after. 'faking': cold days with a breeze before, hot still days
 * after, or the other way round, so that plain means show a change that is only the weather. 'still': for checks.
 */
export type CampaignWeather = 'fair' | 'faking' | 'still';

export interface CampaignOptions {
  readonly aeroplane?: FleetName | Aeroplane;
  readonly field?: AirfieldName | Airfield;
  readonly change?: ModificationName | Modification;
  readonly weather?: CampaignWeather;
  readonly daysBefore?: number;
  readonly daysAfter?: number;
  /** Flights a day: a number, or the least and the most. */
  readonly runsPerDay?: number | readonly [number, number];
  /** Kinds of recorder, drawn for each flight. */
  readonly receivers?: readonly ReceiverName[];
  /** One format for all, where the recorder writes it; otherwise any of the recorder's own. */
  readonly formats?: readonly FileFormat[];
  readonly notes?: NoteTaking;
  readonly style?: TakeoffTechnique['style'];
  /** Share of flights with a rolling start. */
  readonly rollingShare?: number;
  readonly length?: PlanOptions['length'];
  readonly standard?: Partial<Standard>;
  /** No recordings, and flights end aloft: quicker, where only truth and notes are wanted. */
  readonly withoutFiles?: boolean;
}

export interface CampaignFlight {
  readonly file: string;
  readonly bytes: Uint8Array;
  readonly format: FileFormat;
  readonly configuration: 'before' | 'after';
  /** UTC date, the block of the statistics. */
  readonly day: string;
  readonly notes: PilotNotes;
  readonly truth: FlightTruth;
  readonly table: TruthTable;
  readonly recording: Recording;
  readonly track: SyntheticTrack;
  readonly receiverName: ReceiverName;
  readonly weather: Weather;
  readonly setup: SimulationSetup;
  readonly runwayEnd: 0 | 1;
}

export interface Campaign {
  readonly seed: string;
  readonly aeroplane: Aeroplane;
  readonly after: Aeroplane;
  readonly field: Airfield;
  readonly change: Modification;
  readonly flights: readonly CampaignFlight[];
  readonly standard: Standard;
  readonly referenceMassKg: number;
  /** On top of each configuration's own empty mass, for "equal load". */
  readonly referenceLoadKg: number;
  /** After over before, less one, of the standard answers. */
  readonly trueChange: {
    readonly equalWeight: Record<keyof StandardAnswers, number>;
    readonly equalLoad: Record<keyof StandardAnswers, number>;
  };
  readonly answers: { readonly before: StandardAnswers; readonly after: StandardAnswers };
}

const daySeconds = 86_400;

export function makeCampaign(seed: string | number, options: CampaignOptions = {}): Campaign {
  const random = new Random(`campaign/${seed}`);
  const draw = random.fork('choices');
  const before =
    typeof options.aeroplane === 'object' ? options.aeroplane : fleet[options.aeroplane ?? draw.pick(planes)];
  const field = typeof options.field === 'object' ? options.field : airfields[options.field ?? draw.pick(fieldNames)];
  const change: Modification =
    typeof options.change === 'object'
      ? options.change
      : modifications[options.change ?? draw.pick(Object.keys(modifications) as ModificationName[])];
  const after = modified(before, change);
  const style: TakeoffTechnique['style'] =
    options.style ?? (before.gear === 'nosewheel' ? 'nosewheel' : draw.pick(['three-point', 'tail-high'] as const));
  const loadKg = 0.5 * (before.maximumMassKg - before.emptyMassKg);
  const climbToM = draw.uniform(550, 800);
  // High up the engine gives no more than this.
  const cruisePowerShare = field.elevationM > 2000 ? 0.52 : 0.65;
  const standard: Standard = {
    densityAltitudeM: field.elevationM,
    climbDensityAltitudeM: field.elevationM + 400,
    cruiseDensityAltitudeM: field.elevationM + climbToM,
    rollingFriction: field.rollingFriction,
    style,
    cruisePowerShare,
    heldRateMps: heldRate(before, field.elevationM + 0.6 * climbToM, 0.85 * before.maximumMassKg),
    ...options.standard,
  };
  const friction = field.rollingFriction * (change.rollingFriction ?? 1);
  const coldFirst = draw.chance(0.5);
  const flights: CampaignFlight[] = [];
  const startDay = 20_454 + draw.integer(0, 200);
  for (const configuration of ['before', 'after'] as const) {
    const aeroplane = configuration === 'before' ? before : after;
    const days = (configuration === 'before' ? options.daysBefore : options.daysAfter) ?? 5;
    let dayNumber = startDay + (configuration === 'before' ? 0 : 150);
    for (let d = 0; d < days; d++) {
      dayNumber += draw.integer(1, 6);
      const dayRandom = random.fork(`${configuration}/${d}`);
      const weatherKind = dayKind(options.weather ?? 'fair', (configuration === 'before') === coldFirst, dayRandom);
      const [least, most] =
        typeof options.runsPerDay === 'number'
          ? [options.runsPerDay, options.runsPerDay]
          : (options.runsPerDay ?? [1, 2]);
      const runs = dayRandom.integer(least, most);
      let hour = dayRandom.uniform(7, 15);
      const flavour = drawWeather(
        weatherKind,
        field,
        dayRandom.fork('weather'),
        field.headingRad + (dayRandom.chance(0.5) ? Math.PI : 0),
        mostWind(before),
      );
      for (let run = 0; run < runs; run++) {
        const flightRandom = dayRandom.fork(`run/${run}`);
        const epochS = dayNumber * daySeconds + Math.round(hour * 3600);
        hour += flightRandom.uniform(0.9, 2);
        const weather = laterThatDay(flavour, run, flightRandom.fork('later'));
        const headwind = weather.wind.speedMps * Math.cos(weather.wind.fromRad - field.headingRad);
        const runwayEnd = headwind >= (dayRandom.chance(0.5) ? 0.7 : -0.7) ? 0 : 1;
        flights.push(
          flyOne({
            aeroplane,
            field,
            weather,
            runwayEnd,
            configuration,
            friction: configuration === 'before' ? field.rollingFriction : friction,
            epochS,
            style,
            climbToM,
            cruisePowerShare,
            loadKg,
            random: flightRandom,
            options,
          }),
        );
      }
    }
  }
  const referenceMassKg = before.emptyMassKg + loadKg + 0.6 * before.usableFuelM3 * 720;
  const referenceLoadKg = referenceMassKg - before.emptyMassKg;
  const afterStandard = { ...standard, rollingFriction: standard.rollingFriction * (change.rollingFriction ?? 1) };
  const base = standardAnswers(before, referenceMassKg, standard);
  const sameWeight = standardAnswers(after, referenceMassKg, afterStandard);
  const sameLoad = standardAnswers(after, after.emptyMassKg + referenceLoadKg, afterStandard);
  return {
    seed: String(seed),
    aeroplane: before,
    after,
    field,
    change,
    flights,
    standard,
    referenceMassKg,
    referenceLoadKg,
    trueChange: { equalWeight: relative(sameWeight, base), equalLoad: relative(sameLoad, base) },
    answers: { before: base, after: sameWeight },
  };
}

const planes: readonly FleetName[] = ['shortFieldTwoSeater', 'trainer', 'tourer', 'longRunner'];
const fieldNames: readonly AirfieldName[] = ['gullRock', 'samphireStrip', 'longHaven', 'cloudTerrace'];

/** A rate that is reached within the climbs that are flown, in whole steps of 50 ft/min: held to a height that is measured, not guessed. */
function heldRate(aeroplane: Aeroplane, densityAltitudeM: number, massKg: number): number {
  const fiftyFpm = 0.254;
  const rate = steadyClimb(
    aeroplane,
    standardAir(densityAltitudeM),
    densityAltitudeM,
    massKg,
    speedsOf(aeroplane, massKg).climbMps,
  );
  return Math.max(1, Math.round(rate / fiftyFpm)) * fiftyFpm;
}

function relative(after: StandardAnswers, before: StandardAnswers): Record<keyof StandardAnswers, number> {
  const keys = Object.keys(before) as (keyof StandardAnswers)[];
  return Object.fromEntries(
    keys.map((key) => [key, (after[key] ?? Number.NaN) / (before[key] ?? Number.NaN) - 1]),
  ) as Record<keyof StandardAnswers, number>;
}

function dayKind(weather: CampaignWeather, cold: boolean, random: Random): WeatherKind {
  if (weather === 'still') return 'still';
  if (weather === 'fair') return random.pick(['fair', 'fair', 'still', 'breezy', 'cold', 'thermal'] as const);
  return cold
    ? random.pick(['cold', 'breezy', 'cold', 'fair'] as const)
    : random.pick(['hot', 'fair', 'hot', 'still'] as const);
}

/** The day goes on: it gets warmer, and the wind is not quite that of an hour ago. */
function laterThatDay(morning: Weather, run: number, random: Random): Weather {
  const column = {
    ...morning.column,
    fieldTemperatureK: morning.column.fieldTemperatureK + run * random.uniform(0, 2),
    altimeterSettingPa: morning.column.altimeterSettingPa + random.normal(0, 60),
  };
  return {
    column,
    air: airOf(column),
    wind: {
      ...morning.wind,
      speedMps: Math.max(0, morning.wind.speedMps * (1 + random.normal(0, 0.15)) + random.normal(0, 0.3)),
      fromRad: morning.wind.fromRad + random.normal(0, 0.2),
    },
  };
}

interface OneFlight {
  readonly aeroplane: Aeroplane;
  readonly field: Airfield;
  readonly weather: Weather;
  readonly runwayEnd: 0 | 1;
  readonly configuration: 'before' | 'after';
  readonly friction: number;
  readonly epochS: number;
  readonly style: TakeoffTechnique['style'];
  readonly climbToM: number;
  readonly cruisePowerShare: number;
  readonly loadKg: number;
  readonly random: Random;
  readonly options: CampaignOptions;
}

function flyOne(one: OneFlight): CampaignFlight {
  const { aeroplane, field, weather, random, options } = one;
  const draw = random.fork('load');
  const setup: SimulationSetup = {
    aeroplane,
    field,
    air: weather.air,
    wind: weather.wind,
    loadKg: one.loadKg * draw.uniform(0.6, 1.15),
    fuelM3: aeroplane.usableFuelM3 * draw.uniform(0.4, 0.9),
    fuelDensityKgM3: 720,
    random: random.fork('simulation'),
    rollingFriction: one.friction,
  };
  const drawn = drawPlan(setup, random.fork('plan'), one.runwayEnd, {
    length: options.length ?? 'short',
    style: one.style,
    epochS: one.epochS,
    climbToM: one.climbToM,
    cruisePowerShare: one.cruisePowerShare,
    start: draw.chance(options.rollingShare ?? 0.08) ? 'rolling' : 'standing',
  });
  const plan = options.withoutFiles ? { ...drawn, endsAloft: true, runUp: false, standAtStartS: 2 } : drawn;
  const { table, truth } = fly(setup, plan);
  const receiverName = draw.pick(options.receivers ?? (Object.keys(receiverKinds) as ReceiverName[]));
  const kind = receiverKinds[receiverName];
  const recording: Recording = options.withoutFiles
    ? { kind, fixes: [], geoidHeightM: field.geoidHeightM, gaps: [], antennaHeightM: 0 }
    : receive(table, field, kind, random.fork('receiver'));
  const possible = formatsOf[receiverName].filter((format) => options.formats?.includes(format) ?? true);
  const format = draw.pick(possible.length > 0 ? possible : formatsOf[receiverName]);
  const { bytes, extension } = options.withoutFiles
    ? { bytes: new Uint8Array(0), extension: format }
    : writeRecording(recording, format);
  const t = civilTime(one.epochS, 0);
  const file = `${isoDate(t)}_${padded(t.hour, 2)}${padded(t.minute, 2)}.${extension}`;
  return {
    file,
    bytes,
    format,
    configuration: one.configuration,
    day: isoDate(t),
    notes: takeNotes(
      { file, configuration: one.configuration, setup, plan, weather, runwayEnd: one.runwayEnd, truth },
      options.notes ?? 'ordinary',
      random.fork('notes'),
    ),
    truth,
    table,
    recording,
    track: trackInMemory(recording),
    receiverName,
    weather,
    setup,
    runwayEnd: one.runwayEnd,
  };
}

/**
 * What nominal technique from a standstill would have given in the mean wind, density, slope and mass of a take-off: the
 * ratio to it is the scatter that even a perfect correction leaves.
 */
export function nominalInItsConditions(flight: CampaignFlight, takeoff: TrueTakeoff): TrueTakeoff {
  return nominalTakeoff(flight.setup.aeroplane, takeoff.massKg, {
    air: flight.weather.air,
    field: flight.setup.field,
    runwayEnd: flight.runwayEnd,
    headwindMps: takeoff.headwindMps,
    rollingFriction: takeoff.rollingFriction,
    style: takeoff.technique,
  });
}

/** Density altitude at a runway end, metres: for checks. */
export function runwayDensityAltitude(flight: CampaignFlight): number {
  flight.weather.air.set(runwayEnds(flight.setup.field)[flight.runwayEnd].elevationM);
  return densityAltitude(flight.weather.air.densityKgM3);
}

/** The speeds that the pilot of a campaign uses at its reference mass, equivalent airspeeds. */
export function referenceSpeeds(campaign: Campaign): ReturnType<typeof speedsOf> {
  return speedsOf(campaign.aeroplane, campaign.referenceMassKg);
}
