import type { AnalysedFlight } from '../compare/flight.ts';
import type { ComparisonResult, ConfigurationResult, MetricResult } from '../compare/result.ts';
import { windSurface } from '../compare/run-conditions.ts';
import { airAtField, headwindAtWing } from '../corrections/index.ts';
import { seaLevelDensityKgM3, standardAtmosphere } from '../atmosphere/index.ts';
import type { MeasuredMean, MeasuredPerformance } from '../missions/index.ts';
import type { Spec, Surface } from '../spec/types.ts';
import { median } from '../stats/sample.ts';
import { studentQuantile } from '../stats/student.ts';
import { flowFromFills } from '../range/index.ts';
import { usualFuelDensityKgM3 } from './loading.ts';
import type { EmptyState } from './empty.ts';

/** What a configuration's flights were like, beside what they measured. */
export interface FlownAir {
  readonly densityRatios: readonly number[];
  readonly densityAltitudesM: readonly number[];
  /** True airspeeds of lift-off, each with the mass and the density ratio it was at, as far as they were noted. */
  readonly liftoffs: readonly { readonly tasMps: number; readonly massKg?: number; readonly densityRatio?: number }[];
  readonly surfaces: readonly Surface[];
}

/** Conditions of the flights of a configuration, as far as they were noted. */
export function flownAir(flights: readonly AnalysedFlight[], configuration: string): FlownAir {
  const densityRatios: number[] = [];
  const densityAltitudesM: number[] = [];
  const liftoffs: FlownAir['liftoffs'][number][] = [];
  const surfaces: Surface[] = [];
  for (const { entry, analysis } of flights) {
    if (entry.configuration !== configuration) continue;
    const { runway, airTemperatureK, altimeterSettingPa, dewPointK, wind, takeoffMassKg } = entry.conditions;
    let densityRatio: number | undefined;
    if (runway?.surface !== undefined) surfaces.push(runway.surface);
    if (runway?.elevationM !== undefined && airTemperatureK !== undefined && altimeterSettingPa !== undefined) {
      const air = airAtField({ elevationM: runway.elevationM, airTemperatureK, altimeterSettingPa, dewPointK });
      densityRatio = air.densityRatio.value;
      densityRatios.push(densityRatio);
      densityAltitudesM.push(air.densityAltitudeM.value);
    }
    for (const takeoff of analysis?.takeoffs ?? []) {
      if (takeoff.outcome === 'rejected' || takeoff.liftoffSpeedMps === undefined || wind === undefined) continue;
      const heading = runway?.headingRad ?? takeoff.headingRad;
      const { headwindMps } = headwindAtWing(wind, heading, { surface: windSurface(runway?.surface) });
      const tasMps = takeoff.liftoffSpeedMps.value + headwindMps.value;
      liftoffs.push({ tasMps, massKg: takeoffMassKg?.value, densityRatio });
    }
  }
  return { densityRatios, densityAltitudesM, liftoffs, surfaces };
}

function metricAt(
  result: ComparisonResult | undefined,
  test: (metric: MetricResult) => boolean,
  configuration: string,
): ConfigurationResult | undefined {
  const found = (result?.metrics ?? []).filter(test);
  const metric = found.find((one) => one.conditions === 'equal-weight') ?? found[0];
  return metric?.configurations.find((one) => one.id === configuration);
}

/** The mean with its own error and the scatter of single runs around it; undefined for fewer than two days. */
export function meanOf(one: ConfigurationResult | undefined): MeasuredMean | undefined {
  if (one?.mean === undefined || one.days < 2) return undefined;
  const df = one.days - 1;
  const sigma = (one.mean.high - one.mean.low) / 2 / studentQuantile(0.975, df);
  const values = one.values.filter((run) => run.weight > 0).map((run) => run.value);
  const centre = one.mean.value;
  const squares = values.reduce((sum, value) => sum + (value - centre) ** 2, 0);
  const scatter = values.length > 1 ? Math.sqrt(squares / (values.length - 1)) : sigma * Math.sqrt(one.days);
  return { value: centre, sigma, scatter, df };
}

/**
 * Lift-off speed at the reference: each at the same lift coefficient, so with the root of mass over density (FAA-H-8083-25C ch. 11); one
 * whose mass or air was not noted is taken as it was flown. Undefined where there is none.
 */
function liftoffAtReference(air: FlownAir, massKg: number, densityRatio: number): number | undefined {
  if (air.liftoffs.length === 0) return undefined;
  return median(
    air.liftoffs.map((one) => {
      const mass = massKg / (one.massKg ?? massKg);
      const density = densityRatio / (one.densityRatio ?? densityRatio);
      return one.tasMps * Math.sqrt(mass / density);
    }),
  );
}

/**
 * The surface of all the flights, where it was of one kind; the worst mix is not averaged. Some of them on wet or long grass only make
 * the mean longer than on dry and short: it stands for dry and short then.
 */
function commonSurface(surfaces: readonly Surface[]): Surface | undefined {
  const [first] = surfaces;
  const same = surfaces.every((one) => one.kind === first.kind && one.soft === first.soft);
  return first !== undefined && same
    ? { ...first, wet: surfaces.every((one) => one.wet), long: surfaces.every((one) => one.long) }
    : undefined;
}

/** What the flights of one configuration have shown, as missions and predictions need it. */
export function measuredPerformance(
  spec: Spec,
  result: ComparisonResult | undefined,
  flights: readonly AnalysedFlight[],
  state: EmptyState,
): MeasuredPerformance {
  const { aircraft, reference, decision } = spec;
  const facts = spec.configurations.find((one) => one.id === state.id);
  const air = flownAir(flights, state.id);
  const massKg = reference.massKg ?? aircraft.referenceMassKg;
  const groundRoll = meanOf(metricAt(result, (one) => one.metric === 'ground-roll', state.id));
  const [screen, ...otherScreens] = spec.questions.ask.flatMap((question) => {
    if (question.heightM === undefined) return [];
    const distanceM = meanOf(metricAt(result, (one) => one.metric === question.metric, state.id));
    return distanceM === undefined ? [] : [{ heightM: question.heightM, distanceM }];
  });
  const densityRatio = standardAtmosphere(reference.densityAltitudeM).densityKgM3 / seaLevelDensityKgM3;
  const liftoffTasMps = massKg === undefined ? undefined : liftoffAtReference(air, massKg, densityRatio);
  return {
    configuration: state.id,
    propeller: facts?.propeller ?? aircraft.propeller,
    turbocharged: aircraft.turbocharged,
    emptyMassKg: facts?.emptyMassKg?.value ?? state.empty?.massKg,
    maximumMassKg: aircraft.maximumMassKg,
    usableFuelM3: aircraft.usableFuelM3,
    fuelDensityKgM3: aircraft.fuelDensityKgM3 ?? usualFuelDensityKgM3,
    takeoff:
      groundRoll === undefined ||
      screen === undefined ||
      liftoffTasMps === undefined ||
      massKg === undefined ||
      air.densityRatios.length === 0
        ? undefined
        : {
            groundRollM: groundRoll,
            distanceM: screen.distanceM,
            screenHeightM: screen.heightM,
            otherScreens,
            liftoffTasMps,
            massKg,
            densityRatio,
            densityRatioSeen: [Math.min(...air.densityRatios), Math.max(...air.densityRatios)],
            surface: commonSurface(air.surfaces),
          },
    climb:
      massKg === undefined
        ? undefined
        : climbLine(result, state.id, massKg, polarOf(spec, liftoffTasMps, densityRatio)),
    cruiseMassKg: massKg,
    cruise: cruisePoints(result, state.id, decision),
  };
}

/** Rate against density altitude from the line that the comparison fitted, followed straight on beyond its ends. */
function climbLine(
  result: ComparisonResult | undefined,
  configuration: string,
  massKg: number,
  polarAt: NonNullable<MeasuredPerformance['climb']>['polarAt'],
): MeasuredPerformance['climb'] {
  const found = (result?.metrics ?? []).filter(
    (one) => one.metric === 'rate-of-climb' && one.seenAgainst !== undefined,
  );
  const metric = found.find((one) => one.conditions === 'equal-weight') ?? found[0];
  const seen = metric?.seenAgainst?.configurations.find((one) => one.id === configuration);
  const days = metric?.configurations.find((one) => one.id === configuration)?.days ?? 0;
  if (seen === undefined || seen.line.length < 2 || days < 2) return undefined;
  const { line } = seen;
  const df = days - 1;
  const t = studentQuantile(0.975, df);
  const first = line[0];
  const last = line[line.length - 1];
  return {
    df,
    massKg,
    polarAt,
    seenM: [first.x, last.x],
    rateAt: (heightM) => {
      const upper = Math.max(
        1,
        Math.min(
          line.length - 1,
          line.findIndex((point) => point.x >= heightM),
        ),
      );
      const right = heightM > last.x ? line.length - 1 : upper;
      const [from, to] = [line[right - 1], line[right]];
      const share = (heightM - from.x) / (to.x - from.x);
      const value = from.value + share * (to.value - from.value);
      // Beyond the ends the band is let grow as fast as it does at the end, never narrower than there.
      const half = (point: { low: number; high: number }) => (point.high - point.low) / 2;
      const straight = half(from) + share * (half(to) - half(from));
      return { value, sigma: Math.max(straight, share < 0 ? half(from) : share > 1 ? half(to) : 0) / t };
    },
  };
}

/** True airspeed of the climb over that of lift-off where no climb speed was noted (own choice for light aeroplanes). */
const climbOverLiftoff = 1.3;

/**
 * Equivalent airspeed of the climb, m/s: the mean of the indicated ones noted, else {@link climbOverLiftoff} times that of lift-off;
 * undefined where neither is known.
 */
export function climbEasMps(
  spec: Spec,
  liftoffTasMps: number | undefined,
  liftoffDensityRatio: number,
): number | undefined {
  const noted = spec.flights.flatMap((flight) => flight.conditions.climbIndicatedAirspeedMps?.value ?? []);
  if (noted.length > 0) return noted.reduce((sum, value) => sum + value, 0) / noted.length;
  return liftoffTasMps === undefined ? undefined : climbOverLiftoff * liftoffTasMps * Math.sqrt(liftoffDensityRatio);
}

/** Wing and climb speed by density altitude, for the induced drag of another weight; undefined where they are not known. */
function polarOf(
  spec: Spec,
  liftoffTasMps: number | undefined,
  liftoffDensityRatio: number,
): NonNullable<MeasuredPerformance['climb']>['polarAt'] {
  const { wingAreaM2, spanM } = spec.aircraft;
  const easMps = climbEasMps(spec, liftoffTasMps, liftoffDensityRatio);
  if (wingAreaM2 === undefined || spanM === undefined || easMps === undefined) return undefined;
  return (densityAltitudeM) => {
    const { densityKgM3 } = standardAtmosphere(densityAltitudeM);
    const trueAirspeedMps = easMps * Math.sqrt(seaLevelDensityKgM3 / densityKgM3);
    return { aspectRatio: spanM ** 2 / wingAreaM2, wingAreaM2, densityKgM3, trueAirspeedMps };
  };
}

type Cruise = MeasuredPerformance['cruise'];
const z95 = 1.959963984540054;

/** Cruise settings of a configuration: what the spec gives, filled up with what the flights measured. */
function cruisePoints(result: ComparisonResult | undefined, configuration: string, decision: Spec['decision']): Cruise {
  const measured = (name: string) => {
    const mean = meanOf(metricAt(result, (one) => one.metric === name, configuration));
    // Ranges are worked out with normal errors: as many of these as make the half interval of so few days.
    return mean && { value: mean.value, sigma: (mean.sigma * studentQuantile(0.975, mean.df)) / z95 };
  };
  const speed = measured('level-speed');
  const fills = (decision?.fuel?.fills ?? [])
    .filter((fill) => fill.configuration === configuration)
    .map((fill) => ({ volumeM3: fill.volume.value, timeS: fill.time, sigmaM3: fill.volume.sigma }));
  const filled = flowFromFills(fills);
  const flow =
    measured('fuel-flow') ??
    (filled === undefined ? undefined : { value: filled.value, sigma: (filled.high - filled.low) / 2 / z95 });
  const given = (decision?.fuel?.cruise ?? []).filter((one) => one.configuration === configuration);
  const rows = given.length > 0 ? given : [{ setting: 'as flown', speed: undefined, flow: undefined }];
  return rows.flatMap((row) => {
    const trueAirspeedMps = row.speed ?? speed;
    const fuelFlowM3ps = row.flow ?? flow;
    return trueAirspeedMps === undefined || fuelFlowM3ps === undefined
      ? []
      : [{ setting: row.setting, trueAirspeedMps, fuelFlowM3ps }];
  });
}
