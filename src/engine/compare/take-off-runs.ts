import type { Measured } from '../../../shared/measured.ts';
import type { ScreenPoint, Takeoff } from '../analysis.ts';
import {
  type DistanceConditions,
  type DistanceReference,
  reduceDistanceToScreen,
  reduceGroundRoll,
} from '../corrections/index.ts';
import { type CollectionRequest, leftOutList, type UsableFlight } from './flight-runs.ts';
import { reduceAtEqualSpeed } from './reduce-at-equal-speed.ts';
import { reduceSpeed, reduceTime } from './reduce-speed-time.ts';
import { median } from '../stats/sample.ts';
import { asUncertain, distanceRun, kindsOfRoll, rollConditions, standardDensityRatio } from './roll-conditions.ts';
import { type Collected, type CollectedRun, type ReducedRun, sigmaOf, type Target } from './run.ts';
import { airOf, headwindOf, isKnown, massOf, propellerOf } from './run-conditions.ts';

/** Slower than this at the start of the roll counts as standing, m/s (4 kt: creep while the throttle opens). */
const standingStartMps = 2;

/** Rolls that a metric of the take-off can use, with the way to bring each to reference conditions. */
export function takeoffRuns(request: CollectionRequest): Collected {
  const { question, flights } = request;
  const leftOut = leftOutList(question.metric);
  const runs: CollectedRun[] = [];
  const speedScale = question.metric === equalSpeedMetric ? usualSpeedScale(request) : undefined;
  for (const flight of flights) {
    flight.analysis.takeoffs.forEach((takeoff, index) => {
      const number = index + 1;
      if (takeoff.outcome === 'rejected') return;
      if (takeoff.outcome === 'touch-and-go') {
        leftOut.add(flight.file, number, 'A touch-and-go does not start from brake release.');
        return;
      }
      const measured = measuredOf(takeoff, request);
      if (typeof measured === 'string') {
        leftOut.add(flight.file, number, measured);
        return;
      }
      const rolling = takeoff.rollingStart && takeoff.startSpeedMps > standingStartMps;
      runs.push({
        file: flight.file,
        number,
        day: flight.day,
        configuration: flight.entry.configuration,
        timeS: takeoff.liftoff?.timeS ?? takeoff.rollStart.timeS,
        raw: measured.raw,
        kinds: kindsOfRoll(flight, rolling),
        conditions: conditionsOf(flight, takeoff, request),
        reduce: (target) => reduceTakeoff(flight, takeoff, measured, request, target, speedScale),
      });
    });
  }
  return { runs, leftOut: leftOut.entries };
}

const equalSpeedMetric = 'ground-roll-at-equal-speed';

/**
 * Usual lift-off airspeed of all take-offs, as the factor on the square root of mass over density ratio: one indicated airspeed that grows with the
 * square root of the weight (FAA-H-8083-25C ch. 11). Which one it is does not matter to a change in per cent.
 */
function usualSpeedScale({ spec, flights }: CollectionRequest): number | undefined {
  const scales = flights.flatMap((flight) =>
    flight.analysis.takeoffs.flatMap((takeoff) => {
      const speed = takeoff.liftoffSpeedMps;
      const air = airOf(flight);
      const mass = massOf(flight, spec, takeoff.rollStart.timeS);
      const headwind = headwindOf(flight, takeoff.headingRad, takeoff.rollStart.timeS);
      if (takeoff.outcome !== 'flown' || speed === undefined || !isKnown(air) || !isKnown(mass) || !isKnown(headwind))
        return [];
      return [(speed.value + headwind.value) / Math.sqrt(mass.value / air.densityRatio.value)];
    }),
  );
  return scales.length === 0 ? undefined : median(scales);
}

interface MeasuredRoll {
  readonly raw: Measured;
  readonly screen?: ScreenPoint;
}

function measuredOf(takeoff: Takeoff, { question }: CollectionRequest): MeasuredRoll | string {
  const why = takeoff.remarks.length > 0 ? ` ${takeoff.remarks[0]}` : '';
  const family = question.metric.startsWith('distance-over-') ? 'distance-over' : question.metric;
  switch (family) {
    case 'distance-over': {
      const heightM = question.heightM ?? Number(/(\d+)m$/.exec(question.metric)?.[1]);
      const screen = takeoff.screens.find((candidate) => Math.abs(candidate.heightM - heightM) < 0.6);
      return screen === undefined
        ? `The distance to this height could not be measured.${why}`
        : { raw: screen.distanceM, screen };
    }
    case 'time-to-liftoff':
      return takeoff.timeToLiftoffS === undefined
        ? `The instant of lift-off could not be told.${why}`
        : { raw: takeoff.timeToLiftoffS };
    case 'liftoff-speed':
      return takeoff.liftoffSpeedMps === undefined
        ? `The instant of lift-off could not be told.${why}`
        : { raw: takeoff.liftoffSpeedMps };
    default:
      return takeoff.groundRollM === undefined
        ? `The ground roll could not be measured.${why}`
        : { raw: takeoff.groundRollM };
  }
}

function conditionsOf(flight: UsableFlight, takeoff: Takeoff, { spec }: CollectionRequest): CollectedRun['conditions'] {
  const air = airOf(flight);
  const mass = massOf(flight, spec, takeoff.rollStart.timeS);
  const headwind = headwindOf(flight, takeoff.headingRad, takeoff.rollStart.timeS);
  return {
    ...(isKnown(air) ? { densityAltitudeM: air.densityAltitudeM.value } : {}),
    ...(isKnown(mass) ? { massKg: mass.value } : {}),
    ...(isKnown(headwind) ? { headwindMps: headwind.value } : {}),
  };
}

function reduceTakeoff(
  flight: UsableFlight,
  takeoff: Takeoff,
  { raw, screen }: MeasuredRoll,
  request: CollectionRequest,
  target: Target,
  speedScale: number | undefined,
): ReducedRun | string {
  if (target.footing === 'as-flown') return { value: raw.value, ownSigma: sigmaOf(raw), shared: {}, corrections: [] };
  const { spec, question } = request;
  const configuration = flight.entry.configuration;
  const conditions = rollConditions(flight, takeoff.headingRad, takeoff.rollStart.timeS, request, target);
  if (typeof conditions === 'string') return conditions;
  const speed = takeoff.liftoffSpeedMps;
  if (speed === undefined) return 'The speed at lift-off is not known, so the wind cannot be allowed for.';
  const groundSpeedMps = { value: speed.value, sigma: sigmaOf(speed) };
  const propeller = propellerOf(spec, configuration);
  const { reference } = spec;
  const referenceDensityRatio = standardDensityRatio(reference.densityAltitudeM);
  try {
    if (question.metric === 'liftoff-speed') {
      return reduceSpeed(groundSpeedMps, conditions, {
        headwindMps: reference.headwindMps,
        densityRatio: referenceDensityRatio,
      });
    }
    if (question.metric === 'time-to-liftoff') {
      return reduceTime(
        { value: raw.value, sigma: sigmaOf(raw) },
        takeoff.groundRollM?.value,
        groundSpeedMps,
        conditions,
        {
          propeller,
          headwindMps: reference.headwindMps,
          slope: reference.slope,
          densityRatio: referenceDensityRatio,
        },
      );
    }
    const flown: DistanceConditions = {
      propeller,
      turbocharged: spec.aircraft.turbocharged,
      headwindMps: asUncertain(conditions.headwind),
      slope: asUncertain(conditions.slope),
      massKg: asUncertain(conditions.mass),
      densityRatio: asUncertain(conditions.densityRatio),
    };
    const wanted: DistanceReference = {
      headwindMps: reference.headwindMps,
      slope: reference.slope,
      massKg: conditions.targetMass.value,
      densityRatio: referenceDensityRatio,
    };
    if (screen === undefined) {
      const reduced = reduceGroundRoll(
        { roll: 'takeoff', distanceM: { value: raw.value, sigma: sigmaOf(raw) }, groundSpeedMps },
        flown,
        wanted,
      );
      if (question.metric !== equalSpeedMetric) return distanceRun(reduced, conditions, propeller, configuration);
      if (speedScale === undefined || takeoff.liftoff === undefined) return 'The usual lift-off speed is not known.';
      const usualMps = speedScale * Math.sqrt(conditions.mass.value / conditions.densityRatio.value);
      return reduceAtEqualSpeed(
        { distanceM: { value: raw.value, sigma: sigmaOf(raw) }, groundSpeedMps, liftoffSigmaS: takeoff.liftoff.sigmaS },
        reduced,
        conditions,
        usualMps,
        propeller,
        configuration,
      );
    }
    const roll = takeoff.groundRollM;
    if (roll === undefined) return 'The ground roll could not be measured, so the air distance is not known.';
    const airHeadwind = headwindOf(flight, takeoff.headingRad, takeoff.rollStart.timeS, screen.heightM);
    const reduced = reduceDistanceToScreen(
      {
        groundRollM: { value: roll.value, sigma: sigmaOf(roll) },
        totalM: { value: raw.value, sigma: sigmaOf(raw) },
        groundSpeedMps,
        airTimeS: screen.timeFromLiftoffS,
        ...(isKnown(airHeadwind) ? { airHeadwindMps: asUncertain(airHeadwind) } : {}),
      },
      flown,
      wanted,
    );
    return distanceRun(reduced, conditions, propeller, configuration);
  } catch (error) {
    if (error instanceof RangeError) return `It cannot be brought to reference conditions: ${error.message}`;
    throw error;
  }
}
