import type { Aeroplane } from '../synth/aeroplane.ts';
import { Air } from '../synth/air.ts';
import { type Airfield, groundHeight, runwayEnds } from '../synth/airfield.ts';
import { drawTechnique } from '../synth/draw-plan.ts';
import { Pilot } from '../synth/pilot.ts';
import { Random } from '../synth/random.ts';
import { Simulation } from '../synth/simulation.ts';
import { takeOff } from '../synth/take-off.ts';
import type { TakeoffTechnique } from '../synth/truth.ts';
import { stillAir } from '../synth/wind-field.ts';

/** A strip as it truly is on the day. */
export interface TrueStrip {
  readonly elevationM: number;
  readonly temperatureK: number;
  readonly altimeterSettingPa: number;
  /** Tangent, positive uphill. */
  readonly slope: number;
  readonly rollingFriction: number;
  /** At 10 m, positive against. */
  readonly headwindMps: number;
  readonly obstacleHeightM: number;
}

/**
 * Distance along the strip from the start of the roll to where the wheels are the obstacle's height above the ground under
 * them, m; undefined where the aeroplane does not get there. Nominal technique, or with chance one take-off of this pilot in
 * gusts.
 */
export function distanceOverObstacleM(
  aeroplane: Aeroplane,
  massKg: number,
  strip: TrueStrip,
  style: TakeoffTechnique['style'],
  chance?: Random,
): number | undefined {
  const field: Airfield = {
    name: 'strip',
    latDeg: 0,
    lonDeg: 0,
    elevationM: strip.elevationM,
    headingRad: 0,
    // The ground goes on rising as the strip does, as far as anybody needs to get over it.
    lengthM: 6000,
    slope: strip.slope,
    surface: 'grass',
    rollingFriction: strip.rollingFriction,
    geoidHeightM: 0,
  };
  const air = new Air({
    fieldElevationM: strip.elevationM,
    fieldTemperatureK: strip.temperatureK,
    lapseKpm: 0.0065,
    altimeterSettingPa: strip.altimeterSettingPa,
    relativeHumidity: 0.4,
  });
  const speedMps = Math.abs(strip.headwindMps);
  const setup = {
    aeroplane,
    field,
    air,
    wind: {
      ...stillAir,
      fromRad: strip.headwindMps < 0 ? Math.PI : 0,
      speedMps,
      upperFactor: 1.5,
      gustSigmaMps: chance === undefined ? 0 : 0.1 * speedMps + 0.2,
    },
    loadKg: massKg - aeroplane.emptyMassKg,
    fuelM3: 1e-4,
    fuelDensityKgM3: 0,
    random: chance?.fork('simulation') ?? new Random('nominal'),
    rollingFriction: strip.rollingFriction,
  };
  const sim = new Simulation(setup);
  const [runway] = runwayEnds(field);
  sim.eastM = runway.startEastM;
  sim.northM = runway.startNorthM;
  sim.headingRad = runway.headingRad;
  const steadiness =
    chance === undefined ? { speedSigmaMps: 0, heightSigmaM: 0 } : { speedSigmaMps: 0.5, heightSigmaM: 6 };
  const pilot = new Pilot(sim, chance?.fork('pilot') ?? new Random('nominal'), steadiness);
  pilot.stand(2, 0.02);
  const startM = sim.northM;
  const technique = drawTechnique(
    setup,
    chance?.fork('technique') ?? new Random('nominal'),
    style,
    chance === undefined,
  );
  takeOff(pilot, { runway, technique, kind: 'standing' });
  const { columns, rows } = sim.recorder;
  for (let row = 0; row < rows; row++) {
    const northM = columns.northM[row];
    if (columns.onGround[row] === 1) continue;
    const above = columns.heightM[row] - groundHeight(field, columns.eastM[row], northM);
    if (above >= strip.obstacleHeightM) return northM - startM;
  }
  return undefined;
}
