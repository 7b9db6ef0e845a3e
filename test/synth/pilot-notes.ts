import { runwayEnds } from './airfield.ts';
import type { FlightPlan } from './flight.ts';
import type { Random } from './random.ts';
import type { SimulationSetup } from './simulation.ts';
import type { FlightTruth } from './truth.ts';
import type { Weather } from './weather.ts';

/** How well the pilot writes things down: sizes of his errors and how often he forgets. */
export type NoteTaking = 'careful' | 'ordinary' | 'sloppy';

interface Habits {
  readonly temperatureK: number;
  readonly altimeterPa: number;
  readonly windDirectionDeg: number;
  readonly windKt: number;
  readonly massKg: number;
  readonly hole: number;
}

const habits: Record<NoteTaking, Habits> = {
  careful: { temperatureK: 0.6, altimeterPa: 40, windDirectionDeg: 10, windKt: 1, massKg: 4, hole: 0 },
  ordinary: { temperatureK: 1, altimeterPa: 80, windDirectionDeg: 15, windKt: 2, massKg: 8, hole: 0.05 },
  sloppy: { temperatureK: 2.5, altimeterPa: 150, windDirectionDeg: 25, windKt: 3.5, massKg: 18, hole: 0.15 },
};

/** What stands in the pilot's notebook. Aviation units, rounded as they are read off; `undefined` was not written down. */
export interface PilotNotes {
  readonly file: string;
  readonly configuration: 'before' | 'after';
  readonly temperatureC?: number;
  readonly altimeterHpa?: number;
  /** True direction in tens of degrees, whole knots, at 10 m. */
  readonly wind?: { readonly fromDeg: number; readonly speedKt: number; readonly gustKt?: number };
  readonly takeoffMassKg?: number;
  readonly runway: {
    readonly name: string;
    readonly headingDeg: number;
    readonly elevationM: number;
    readonly slopePercent: number;
    readonly surface: 'paved' | 'grass';
  };
  readonly start?: 'standing' | 'rolling';
  readonly technique?: string;
  readonly climbKt: number;
  readonly cruiseSetting?: string;
  readonly fuelAtStartL: number;
  readonly fuelUsedL?: number;
  /** The sigmas that these notes truly have: what an honest pilot would state. */
  readonly sigmas: { readonly windMps: number; readonly temperatureK: number; readonly massKg: number };
}

const knotMps = 1852 / 3600;

export function takeNotes(
  of: {
    readonly file: string;
    readonly configuration: 'before' | 'after';
    readonly setup: SimulationSetup;
    readonly plan: FlightPlan;
    readonly weather: Weather;
    readonly runwayEnd: 0 | 1;
    readonly truth: FlightTruth;
  },
  how: NoteTaking,
  random: Random,
): PilotNotes {
  const habit = habits[how];
  const runway = runwayEnds(of.setup.field)[of.runwayEnd];
  const { wind, column } = of.weather;
  const written = <T>(value: T): T | undefined => (random.chance(habit.hole) ? undefined : value);
  const directionDeg = (wind.fromRad * 180) / Math.PI + random.normal(0, habit.windDirectionDeg);
  const speedKt = Math.max(0, Math.round(wind.speedMps / knotMps + random.normal(0, habit.windKt)));
  const gustKt = Math.round(speedKt + (2.5 * wind.gustSigmaMps) / knotMps);
  return {
    file: of.file,
    configuration: of.configuration,
    temperatureC: written(Math.round(column.fieldTemperatureK - 273.15 + random.normal(0, habit.temperatureK))),
    altimeterHpa: written(Math.round((column.altimeterSettingPa + random.normal(0, habit.altimeterPa)) / 100)),
    wind: written({
      fromDeg: (Math.round(directionDeg / 10) * 10 + 720) % 360,
      speedKt,
      ...(gustKt - speedKt >= 6 && { gustKt }),
    }),
    takeoffMassKg: written(Math.round((of.truth.takeoffMassKg + random.normal(0, habit.massKg)) / 5) * 5),
    runway: {
      name: runway.name,
      headingDeg: Math.round((runway.headingRad * 180) / Math.PI),
      elevationM: Math.round(runway.elevationM),
      slopePercent: Math.round(runway.slope * 1000) / 10,
      surface: of.setup.field.surface,
    },
    start: written(of.plan.startKind),
    technique: written(of.plan.technique.style),
    climbKt: Math.round(of.plan.climbEasMps / knotMps),
    cruiseSetting: of.plan.cruise[0]?.settingName,
    fuelAtStartL: Math.round((of.setup.fuelM3 * 1000) / 5) * 5,
    fuelUsedL: written(Math.round(of.truth.fuelUsedM3 * 1000 + random.normal(0, 1))),
    sigmas: {
      // Speed error along the runway, and what the direction's error makes of it.
      windMps: Math.hypot(habit.windKt * knotMps, wind.speedMps * ((habit.windDirectionDeg * Math.PI) / 180) * 0.5),
      temperatureK: habit.temperatureK,
      massKg: habit.massKg,
    },
  };
}
