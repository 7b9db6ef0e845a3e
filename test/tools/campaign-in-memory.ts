import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import type { Analysis, Takeoff } from '../../shared/analysis.ts';
import { displayUnitSets } from '../../shared/display-units.ts';
import type { Measured } from '../../shared/measured.ts';
import type { AnalysedFlight } from '../../src/engine/compare/flight.ts';
import * as usual from '../../src/engine/spec/defaults.ts';
import type { Conditions, Noted, Spec } from '../../src/engine/spec/types.ts';

/**
 * Campaigns of take-offs with a known change, already analysed, for the statistics of the comparison: a flight costs microseconds. The law
 * behind a ground roll is that of the flight-test reference handbook (SFTE, 2013) ch. 12, with exponents that differ from campaign to
 * campaign by what the handbook and the FAA's table differ; the pilot, the air and the notes err by the sizes told below. For a simulation that
 * shares nothing with the corrections see `test/synth`.
 */
export interface CampaignOptions {
  /** Days before and after. */
  readonly days: readonly [number, number];
  /** Least and most take-offs a day. */
  readonly runsADay: readonly [number, number];
  /** True change of the ground roll, as a fraction. */
  readonly change: number;
  /** 'faking': cold before and hot after (or the other way round). */
  readonly weather: 'fair' | 'faking';
  /** Standard deviation of the instant of lift-off, s: about 0.1 with a good receiver, 0.5 with height at 1 Hz. */
  readonly liftoffSigmaS?: number;
  /** Share of rolling starts, and of wet grass. */
  readonly rollingShare?: number;
  readonly wetShare?: number;
  /** Notes that are missing, share. */
  readonly holes?: number;
  /** More mass after, kg, and part of the true change at equal weight only. */
  readonly addedMassKg?: number;
}

export interface InMemoryCampaign {
  readonly spec: Spec;
  readonly flights: readonly AnalysedFlight[];
}

const knot = 1852 / 3600;
const seaLevelRollM = 180;
const referenceMassKg = 790;
const liftoffTasMps = 24;
const elevationM = 120;
const runwayRad = (40 * Math.PI) / 180;
const slope = 0.006;

/** Random numbers of one campaign: the same seed gives the same. */
export function randomOf(seed: number): {
  readonly uniform: (a: number, b: number) => number;
  readonly normal: () => number;
} {
  const generator = xoroshiro128plus(seed * 7919 + 17);
  // The first numbers of neighbouring small seeds are nearly alike (a first normal had a standard deviation of 2): let it run in.
  for (let k = 0; k < 32; k++) uniformFloat64(generator);
  const uniform = (a: number, b: number): number => a + (b - a) * uniformFloat64(generator);
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - uniform(0, 1))) * Math.cos(2 * Math.PI * uniform(0, 1));
  return { uniform, normal };
}

const noted = (value: number, sigma: number): Noted => ({ value, sigma, sigmaStated: false });
const measured = (value: number, sigma: number): Measured => ({
  value,
  low: value - 1.96 * sigma,
  high: value + 1.96 * sigma,
  method: 'simulated',
});

export function campaignInMemory(seed: number, options: CampaignOptions): InMemoryCampaign {
  const { uniform, normal } = randomOf(seed);
  const { days, runsADay, change, weather, liftoffSigmaS = 0.3, rollingShare = 0, wetShare = 0, holes = 0 } = options;
  const { addedMassKg = 0 } = options;
  // Laws of this aeroplane: off the handbook's exponents by the published disagreement (see the corrections).
  const densityExponent = -2.4 + 0.3 * normal();
  const weightExponent = 2.4 + 0.15 * normal();
  const windExponent = 1.85 + 0.15 * normal();
  const windShare = 0.72 + 0.07 * normal();
  const coldFirst = uniform(0, 1) < 0.5;
  const flights: AnalysedFlight[] = [];
  ['before', 'after'].forEach((configuration, c) => {
    for (let d = 0; d < days[c]; d++) {
      const cold = weather === 'fair' ? uniform(0, 1) < 0.5 : coldFirst === (c === 0);
      const temperatureC = cold ? uniform(-6, 12) : uniform(14, 31);
      const settingPa = 101_500 + 900 * normal();
      const windMps = Math.abs((weather === 'faking' && cold ? 4 : 2.2) + 1.8 * normal());
      const windFromRad = runwayRad + 0.8 * normal();
      const dayForm = 0.02 * normal();
      const date = new Date(Date.UTC(2025, c === 0 ? 1 : 6, 1 + d)).toISOString().slice(0, 10);
      const noteC = Math.round(temperatureC + normal());
      const notePa = Math.round((settingPa + 100 * normal()) / 100) * 100;
      const noteKt = Math.max(0, Math.round(windMps / knot + 2 * normal()));
      const noteRad = (Math.round(((windFromRad * 180) / Math.PI + 15 * normal()) / 10) * 10 * Math.PI) / 180;
      const massOfDay = uniform(650, 800) + (c === 1 ? addedMassKg : 0);
      const runs = Math.floor(uniform(runsADay[0], runsADay[1] + 0.999));
      const pressurePa = settingPa - elevationM * 11.9;
      const sigma = pressurePa / (287.05 * (temperatureC + 273.15)) / 1.225;
      const wet = uniform(0, 1) < wetShare;
      for (let r = 0; r < runs; r++) {
        const massKg = massOfDay - 5 * r;
        const speedError = 0.025 * normal() + 0.5 * dayForm;
        const tasMps = liftoffTasMps * Math.sqrt(massKg / referenceMassKg / sigma) * (1 + speedError);
        const headwindMps = windShare * windMps * Math.cos(windFromRad - runwayRad) + 0.45 * normal();
        const groundMps = tasMps - headwindMps;
        const rolling = uniform(0, 1) < rollingShare;
        let rollM = seaLevelRollM * (c === 1 ? 1 + change : 1);
        rollM *= (massKg / referenceMassKg) ** weightExponent * sigma ** densityExponent * (1 + speedError) ** 2;
        rollM *= 1 + dayForm + 0.025 * normal() + (wet ? 0.07 : 0) - (rolling ? 0.03 : 0);
        const levelAccelerationMps2 = tasMps ** 2 / (2 * rollM);
        rollM /= 1 - (9.81 * slope) / (levelAccelerationMps2 + 9.81 * slope);
        rollM *= (groundMps / tasMps) ** windExponent;
        const errorS = liftoffSigmaS * normal();
        const acceleration = groundMps ** 2 / (2 * rollM);
        const startS = Date.parse(`${date}T10:00:00Z`) / 1000 + 2400 * r;
        const lengthS = (2 * rollM) / groundMps;
        const instant = (timeS: number, sigmaS: number) => ({ timeS, sigmaS, origin: 'found' as const });
        const takeoff: Takeoff = {
          outcome: 'flown',
          rollStart: instant(startS, 0.3),
          liftoff: instant(startS + lengthS + errorS, liftoffSigmaS),
          rollingStart: rolling,
          startSpeedMps: rolling ? 3.5 : 0,
          headingRad: runwayRad,
          latDeg: 0,
          lonDeg: 0,
          startAltitudeM: elevationM,
          groundRollM: measured(rollM + groundMps * errorS + normal(), Math.hypot(groundMps * liftoffSigmaS, 1)),
          timeToLiftoffS: measured(lengthS + errorS, liftoffSigmaS),
          liftoffSpeedMps: measured(groundMps + acceleration * errorS, Math.hypot(acceleration * liftoffSigmaS, 0.1)),
          screens: [],
          remarks: [],
        };
        const written = <T>(value: T): T | undefined => (uniform(0, 1) < holes ? undefined : value);
        const conditions: Conditions = {
          airTemperatureK: written(noted(noteC + 273.15, usual.airTemperatureSigmaK)),
          altimeterSettingPa: written(noted(notePa, usual.altimeterSettingSigmaPa)),
          wind: written({
            fromRad: noteRad,
            speedMps: noteKt * knot,
            sigmaMps: usual.windSigmaMps(noteKt * knot),
            sigmaStated: false,
          }),
          takeoffMassKg: written(noted(5 * Math.round((massKg + 8 * normal()) / 5), usual.takeoffMassSigmaKg(massKg))),
          runway: {
            name: '04',
            headingRad: runwayRad,
            elevationM,
            slope: noted(slope, usual.slopeSigma),
            surface: { kind: 'grass', wet, soft: false, long: false },
          },
        };
        flights.push(flightOf(`${date}-${r + 1}.gpx`, date, configuration, conditions, takeoff));
      }
    }
  });
  return { spec: specOf(flights, addedMassKg), flights };
}

function flightOf(
  file: string,
  day: string,
  configuration: string,
  conditions: Conditions,
  takeoff: Takeoff,
): AnalysedFlight {
  const startS = takeoff.rollStart.timeS - 600;
  const analysis: Analysis = {
    recording: {
      startS,
      endS: startS + 2400,
      samples: 2400,
      rateHz: 1,
      gaps: [],
      altitudeKinds: ['msl'],
      speedSource: 'receiver',
    },
    phases: [],
    takeoffs: [takeoff],
    landings: [],
    climbs: [],
    levelRuns: [],
    winds: [],
    problems: [],
  };
  return { entry: { track: file, configuration, conditions, overrides: [] }, file, day, analysis, problems: [] };
}

function specOf(flights: readonly AnalysedFlight[], addedMassKg: number): Spec {
  return {
    title: 'Campaign in memory',
    aircraft: { name: 'simulated', propeller: 'fixed-pitch', turbocharged: false, referenceMassKg },
    configurations: [
      { id: 'before', emptyMassKg: noted(528, 0) },
      { id: 'after', emptyMassKg: noted(528 + addedMassKg, 0) },
    ],
    baseline: 'before',
    flights: flights.map(({ entry }) => entry),
    exclusions: [],
    reference: { densityAltitudeM: 0, headwindMps: 0, slope: 0 },
    questions: { ask: [{ metric: 'ground-roll', primary: true }], at: ['equal-weight'] },
    report: { units: displayUnitSets.icao, hidePositions: false, figures: false },
  };
}
