import { type Aeroplane, fleet, type FleetName, speedsOf } from './aeroplane.ts';
import { type Airfield, type AirfieldName, airfields, runwayEnds } from './airfield.ts';
import { drawPlan, type PlanOptions } from './draw-plan.ts';
import { fly, type FlightPlan } from './flight.ts';
import { Random } from './random.ts';
import { feel } from './accelerometer.ts';
import { receive, type Recording } from './receive.ts';
import { drawnReceivers, type ReceiverKind, type ReceiverName, receiverKinds } from './receiver-kinds.ts';
import type { TruthTable } from './recorder.ts';
import type { SimulationSetup } from './simulation.ts';
import { type SyntheticTrack, trackInMemory } from './track-in-memory.ts';
import type { FlightTruth } from './truth.ts';
import { drawWeather, type Weather, type WeatherKind, weatherKinds } from './weather.ts';

export interface FlightOptions extends PlanOptions {
  readonly count?: number;
  /** Drawn at random when absent. */
  readonly aeroplane?: FleetName | Aeroplane;
  readonly field?: AirfieldName | Airfield;
  readonly receiver?: ReceiverName;
  readonly weather?: WeatherKind;
}

export interface SimulatedFlight {
  readonly name: string;
  readonly seed: string;
  readonly aeroplane: Aeroplane;
  readonly field: Airfield;
  readonly weather: Weather;
  readonly weatherKind: WeatherKind;
  readonly receiverName: ReceiverName;
  readonly receiver: ReceiverKind;
  readonly setup: SimulationSetup;
  readonly plan: FlightPlan;
  readonly truth: FlightTruth;
  /** Everything at 50 Hz, before any receiver. */
  readonly table: TruthTable;
  readonly recording: Recording;
  /** What a reader should make of the recording. */
  readonly track: SyntheticTrack;
}

/** Flights with known answers; the same seed and options always give the same flights. */
export function simulatedFlights(seed: string | number, options: FlightOptions = {}): SimulatedFlight[] {
  return Array.from({ length: options.count ?? 1 }, (_, i) => simulatedFlight(`${seed}#${i}`, options));
}

export function simulatedFlight(seed: string, options: FlightOptions = {}): SimulatedFlight {
  const random = new Random(seed);
  const draw = random.fork('choices');
  const planeName = draw.pick(Object.keys(fleet) as FleetName[]);
  const fieldName = draw.pick(Object.keys(airfields) as AirfieldName[]);
  const receiverName = draw.pick<ReceiverName>(drawnReceivers);
  const weatherName = draw.pick(weatherKinds);
  const aeroplane = typeof options.aeroplane === 'object' ? options.aeroplane : fleet[options.aeroplane ?? planeName];
  const field = typeof options.field === 'object' ? options.field : airfields[options.field ?? fieldName];
  const weatherKind = options.weather ?? weatherName;
  const name = options.receiver ?? receiverName;
  const runwayEnd = draw.integer(0, 1) as 0 | 1;
  const weather = drawWeather(
    weatherKind,
    field,
    random.fork('weather'),
    runwayEnds(field)[runwayEnd].headingRad,
    mostWind(aeroplane),
  );
  const setup: SimulationSetup = {
    aeroplane,
    field,
    air: weather.air,
    wind: weather.wind,
    loadKg: draw.uniform(0.25, 0.7) * (aeroplane.maximumMassKg - aeroplane.emptyMassKg),
    fuelM3: draw.uniform(0.35, 0.95) * aeroplane.usableFuelM3,
    fuelDensityKgM3: 720,
    random: random.fork('simulation'),
  };
  const plan = drawPlan(setup, random.fork('plan'), runwayEnd, options);
  const { table, truth } = fly(setup, plan);
  const kind: ReceiverKind = receiverKinds[name];
  const received = receive(table, field, kind, random.fork('receiver'));
  const recording =
    kind.accelerometer === undefined
      ? received
      : {
          ...received,
          force: feel(
            table,
            aeroplane,
            field,
            weather.wind.gustSigmaMps,
            kind.accelerometer,
            random.fork('accelerometer'),
          ),
        };
  return {
    name: `${aeroplane.name}, ${field.name}, ${weatherKind}, ${receiverKinds[name].label}`,
    seed,
    aeroplane,
    field,
    weather,
    weatherKind,
    receiverName: name,
    receiver: receiverKinds[name],
    setup,
    plan,
    truth,
    table,
    recording,
    track: trackInMemory(recording),
  };
}

/** A slow aeroplane stays at home in a gale: 8 m/s for an approach at 24, 20 m/s for one at 37 (own choice). */
export function mostWind(aeroplane: Aeroplane): number {
  return 0.9 * (speedsOf(aeroplane, 0.85 * aeroplane.maximumMassKg).approachMps - 15);
}
