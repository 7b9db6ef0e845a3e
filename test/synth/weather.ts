import { type Air, Air as AirOf, type AirColumn } from './air.ts';
import type { Airfield } from './airfield.ts';
import type { Random } from './random.ts';
import type { WindPlan } from './wind-field.ts';

/** Kinds of day. Each draws its own numbers; sizes are our own choice of ordinary days. */
export const weatherKinds = ['still', 'fair', 'breezy', 'gale', 'thermal', 'cold', 'hot'] as const;
export type WeatherKind = (typeof weatherKinds)[number];

export interface Weather {
  readonly air: Air;
  readonly column: AirColumn;
  readonly wind: WindPlan;
}

interface Shape {
  readonly windMps: readonly [number, number];
  readonly gust: number;
  readonly thermalMps: readonly [number, number];
  /** Temperature at sea level, kelvin. */
  readonly seaLevelK: readonly [number, number];
  readonly humidity: readonly [number, number];
  readonly inversion: number;
}

const shapes: Record<WeatherKind, Shape> = {
  still: {
    windMps: [0, 0.6],
    gust: 0.05,
    thermalMps: [0, 0],
    seaLevelK: [278, 292],
    humidity: [0.4, 0.8],
    inversion: 0.3,
  },
  fair: {
    windMps: [0.5, 5],
    gust: 0.1,
    thermalMps: [0.1, 0.5],
    seaLevelK: [278, 297],
    humidity: [0.3, 0.8],
    inversion: 0.2,
  },
  breezy: {
    windMps: [5, 10],
    gust: 0.15,
    thermalMps: [0.2, 0.6],
    seaLevelK: [276, 295],
    humidity: [0.4, 0.9],
    inversion: 0,
  },
  gale: {
    windMps: [15, 20],
    gust: 0.13,
    thermalMps: [0.2, 0.5],
    seaLevelK: [276, 292],
    humidity: [0.4, 0.9],
    inversion: 0,
  },
  thermal: {
    windMps: [1, 5],
    gust: 0.15,
    thermalMps: [0.8, 1.6],
    seaLevelK: [291, 305],
    humidity: [0.2, 0.5],
    inversion: 0,
  },
  cold: {
    windMps: [0.5, 6],
    gust: 0.1,
    thermalMps: [0, 0.2],
    seaLevelK: [262, 275],
    humidity: [0.5, 0.95],
    inversion: 0.5,
  },
  hot: {
    windMps: [0.5, 6],
    gust: 0.14,
    thermalMps: [0.5, 1.1],
    seaLevelK: [301, 311],
    humidity: [0.2, 0.7],
    inversion: 0,
  },
};

/** `mostWindMps` is what the aeroplane and its pilot can take. */
export function drawWeather(
  kind: WeatherKind,
  field: Airfield,
  random: Random,
  intoWindRad?: number,
  mostWindMps = 20,
): Weather {
  const shape = shapes[kind];
  const speed = Math.min(mostWindMps, random.uniform(shape.windMps[0], shape.windMps[1]));
  // Strong winds come along the runway (nobody takes off across a gale); light ones from anywhere.
  const fromRad =
    intoWindRad !== undefined && speed > 6
      ? intoWindRad + random.bounded(0, 0.35)
      : intoWindRad !== undefined && speed > 3
        ? intoWindRad + random.bounded(0, 0.8)
        : random.uniform(0, 2 * Math.PI);
  const lapse = random.uniform(0.0045, 0.0085);
  const temperature = random.uniform(shape.seaLevelK[0], shape.seaLevelK[1]) - 0.0065 * field.elevationM;
  const base = field.elevationM + random.uniform(150, 700);
  const column: AirColumn = {
    fieldElevationM: field.elevationM,
    fieldTemperatureK: temperature,
    lapseKpm: lapse,
    altimeterSettingPa: random.uniform(99_200, 103_400),
    relativeHumidity: random.uniform(shape.humidity[0], shape.humidity[1]),
    ...(random.chance(shape.inversion) && {
      inversion: { baseM: base, topM: base + random.uniform(80, 300), gainK: random.uniform(0.5, 4) },
    }),
  };
  const thermal = random.uniform(shape.thermalMps[0], shape.thermalMps[1]);
  const wind: WindPlan = {
    fromRad: (fromRad + 4 * Math.PI) % (2 * Math.PI),
    speedMps: speed,
    upperFactor: speed > 12 ? random.uniform(1.1, 1.25) : random.uniform(1.3, 2.2),
    veerRad: (field.latDeg < 0 ? -1 : 1) * random.uniform(0.05, 0.45),
    gustSigmaMps: shape.gust * speed + 0.35 * thermal + (kind === 'still' ? 0 : random.uniform(0.05, 0.2)),
    gustLengthM: random.uniform(100, 260),
    slowSigmaMps: kind === 'still' ? 0.15 : Math.min(1.4, 0.1 * speed + random.uniform(0.1, 0.5)),
    slowTauS: random.uniform(300, 1200),
    thermalSigmaMps: thermal,
    mixingHeightM: random.uniform(600, 1800),
    waveSigmaMps: kind === 'still' ? 0.03 : random.uniform(0.03, 0.25),
  };
  return { air: new AirOf(column), column, wind };
}
