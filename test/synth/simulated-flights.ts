import { type Aeroplane, fleet, type FleetName, speedsOf } from './aeroplane.ts';
import { type Airfield, type AirfieldName, airfields, runwayEnds } from './airfield.ts';
import { fly, type FlightPlan } from './flight.ts';
import { Random } from './random.ts';
import { receive, type Recording } from './receive.ts';
import { type ReceiverKind, type ReceiverName, receiverKinds } from './receiver-kinds.ts';
import type { TruthTable } from './recorder.ts';
import type { SimulationSetup } from './simulation.ts';
import { wrapAngle } from './simulation.ts';
import { type SyntheticTrack, trackInMemory } from './track-in-memory.ts';
import type { FlightTruth, TakeoffTechnique } from './truth.ts';
import { drawWeather, type Weather, type WeatherKind, weatherKinds } from './weather.ts';

export interface FlightOptions {
  readonly count?: number;
  /** Drawn at random when absent. */
  readonly aeroplane?: FleetName | Aeroplane;
  readonly field?: AirfieldName | Airfield;
  readonly receiver?: ReceiverName;
  readonly weather?: WeatherKind;
  /** 'full' has several legs, 'short' one climb and three short legs, 'circuits' stays at the field. */
  readonly length?: 'full' | 'short' | 'circuits';
  readonly start?: 'standing' | 'rolling';
  readonly rejectFirst?: boolean;
  readonly circuits?: FlightPlan['circuits'];
  readonly goArounds?: number;
  readonly style?: TakeoffTechnique['style'];
  readonly epochS?: number;
  /** No scatter of technique and no disturbance: for checks of physics. */
  readonly nominal?: boolean;
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

const degree = Math.PI / 180;

/** Flights with known answers; the same seed and options always give the same flights. */
export function simulatedFlights(seed: string | number, options: FlightOptions = {}): SimulatedFlight[] {
  return Array.from({ length: options.count ?? 1 }, (_, i) => simulatedFlight(`${seed}#${i}`, options));
}

export function simulatedFlight(seed: string, options: FlightOptions = {}): SimulatedFlight {
  const random = new Random(seed);
  const draw = random.fork('choices');
  const planeName = draw.pick(Object.keys(fleet) as FleetName[]);
  const fieldName = draw.pick(Object.keys(airfields) as AirfieldName[]);
  const receiverName = draw.pick(Object.keys(receiverKinds) as ReceiverName[]);
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
  const recording = receive(table, field, receiverKinds[name], random.fork('receiver'));
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
function mostWind(aeroplane: Aeroplane): number {
  return 0.9 * (speedsOf(aeroplane, 0.85 * aeroplane.maximumMassKg).approachMps - 15);
}

/** A pilot's habits with the day's scatter about them. */
export function drawTechnique(
  setup: SimulationSetup,
  random: Random,
  style?: TakeoffTechnique['style'],
  nominal = false,
): TakeoffTechnique {
  const { aeroplane } = setup;
  const massKg = aeroplane.emptyMassKg + setup.loadKg + setup.fuelM3 * setup.fuelDensityKgM3;
  const speeds = speedsOf(aeroplane, massKg);
  const scatter = (sigma: number): number => (nominal ? 0 : random.bounded(0, sigma));
  const used =
    style ?? (aeroplane.gear === 'nosewheel' ? 'nosewheel' : random.pick(['three-point', 'tail-high'] as const));
  // In gusts a little is added, as everybody does.
  const extra = nominal ? 0 : 0.5 * setup.wind.gustSigmaMps;
  return {
    style: used,
    throttleRampS: Math.max(0.8, 2.5 + scatter(0.7)),
    holdOnBrakesS: !nominal && random.chance(0.2) ? random.uniform(2, 5) : 0,
    rotationMps: speeds.rotationMps * (1 + scatter(0.025)) + extra * 0.5,
    rotationRate: Math.max(0.2, 0.5 * (1 + scatter(0.3))),
    accelerateShare: Math.max(0.15, Math.min(0.85, 0.5 + scatter(0.15))),
    climbAwayMps: speeds.climbAwayMps * (1 + scatter(0.02)) + extra,
    startSpeedMps: random.uniform(2.5, 6),
  };
}

export function drawPlan(setup: SimulationSetup, random: Random, runwayEnd: 0 | 1, options: FlightOptions): FlightPlan {
  const { aeroplane } = setup;
  const massKg = aeroplane.emptyMassKg + setup.loadKg + setup.fuelM3 * setup.fuelDensityKgM3;
  const nominal = options.nominal === true;
  const technique = drawTechnique(setup, random.fork('technique'), options.style, nominal);
  const length = options.length ?? random.pick(['full', 'short', 'circuits'] as const);
  const base = random.uniform(0, 360) * degree;
  const around = [0, 120, 240].map((turn) => wrapAngle(base + turn * degree));
  const cross = [0, 90, 180, 270].map((turn) => wrapAngle(base + turn * degree));
  const climbToM = length === 'full' ? random.uniform(700, 1500) : random.uniform(450, 800);
  const part = (share: number, headingsRad: readonly number[], turns: number, legS: number) => ({
    setting: { kind: 'power', share } as const,
    settingName: `${Math.round(share * 100)} %`,
    headingsRad,
    legS,
    turns,
  });
  let cruise: FlightPlan['cruise'] = [];
  if (length === 'full') {
    cruise = [
      part(0.7, random.chance(0.5) ? around : cross, random.integer(0, 1), random.uniform(70, 110)),
      part(0.55, random.chance(0.5) ? [base, wrapAngle(base + Math.PI)] : around, 0, random.uniform(60, 90)),
    ];
  } else if (length === 'short') cruise = [part(0.65, around, random.integer(0, 1), random.uniform(45, 70))];
  return {
    epochS: options.epochS ?? 1_767_600_000 + random.integer(0, 300) * 86_400 + random.integer(0, 36_000),
    runwayEnd,
    technique,
    lineUpM: random.uniform(5, 30),
    startKind: options.start ?? (random.chance(0.25) ? 'rolling' : 'standing'),
    ...((options.rejectFirst ?? random.chance(0.12)) && { rejectFirstAt: random.uniform(0.45, 0.9) }),
    circuits:
      options.circuits ??
      (length === 'circuits'
        ? Array.from({ length: random.integer(1, 3) }, () =>
            random.pick(['touch-and-go', 'stop-and-go', 'go-around'] as const),
          )
        : []),
    climbToM: length === 'circuits' ? 350 : climbToM,
    levelOffs: !nominal && random.chance(0.25) ? [{ atM: climbToM * 0.55, seconds: random.uniform(20, 60) }] : [],
    climbEasMps: speedsOf(aeroplane, massKg).climbMps * (nominal ? 1 : 1 + random.bounded(0, 0.03)),
    cruise,
    goArounds: options.goArounds ?? (random.chance(0.1) ? 1 : 0),
    landing: {
      stopMps: random.chance(0.5) ? 0 : random.uniform(3.5, 5),
      braking: random.uniform(0.15, 0.5),
    },
    standAtStartS: random.uniform(15, 60),
    runUp: random.chance(0.7),
    standAtEndS: random.uniform(10, 40),
    steadiness: nominal ? { speedSigmaMps: 0, heightSigmaM: 0 } : { speedSigmaMps: 0.5, heightSigmaM: 6 },
  };
}
