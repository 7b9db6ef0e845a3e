import { type DistanceConditions, reduceGroundRoll } from '../corrections/index.ts';
import { type CollectionRequest, leftOutList } from './flight-runs.ts';
import { type Collected, type CollectedRun, sigmaOf } from './run.ts';
import { airOf, headwindOf, isKnown, massOf, propellerOf } from './run-conditions.ts';
import { asUncertain, distanceRun, kindsOfRoll, rollConditions, standardDensityRatio } from './roll-conditions.ts';

/** Landing rolls: wind, slope, weight and density corrected; braking is the pilot's choice and stays as scatter. */
export function landingRuns(request: CollectionRequest): Collected {
  const { spec, question, flights } = request;
  const leftOut = leftOutList(question.metric);
  const runs: CollectedRun[] = [];
  for (const flight of flights) {
    flight.analysis.landings.forEach((landing, index) => {
      const number = index + 1;
      const raw = landing.groundRollM;
      const speed = landing.touchdownSpeedMps;
      if (raw === undefined) {
        const why = landing.remarks[0] ?? 'A touch-and-go, or the recording ends before.';
        leftOut.add(flight.file, number, `The landing roll could not be measured. ${why}`);
        return;
      }
      const timeS = landing.touchdown.timeS;
      const air = airOf(flight);
      const mass = massOf(flight, spec, timeS);
      const headwind = headwindOf(flight, landing.headingRad, timeS);
      runs.push({
        file: flight.file,
        number,
        day: flight.day,
        configuration: flight.entry.configuration,
        timeS,
        raw,
        kinds: kindsOfRoll(flight, undefined),
        conditions: {
          ...(isKnown(air) ? { densityAltitudeM: air.densityAltitudeM.value } : {}),
          ...(isKnown(mass) ? { massKg: mass.value } : {}),
          ...(isKnown(headwind) ? { headwindMps: headwind.value } : {}),
        },
        reduce: (target) => {
          if (target.footing === 'as-flown') {
            return { value: raw.value, ownSigma: sigmaOf(raw), shared: {}, corrections: [] };
          }
          if (speed === undefined) return 'The speed at touchdown is not known, so the wind cannot be allowed for.';
          const conditions = rollConditions(flight, landing.headingRad, timeS, request, target);
          if (typeof conditions === 'string') return conditions;
          const configuration = flight.entry.configuration;
          const propeller = propellerOf(spec, configuration);
          // The noted slope is uphill in the direction of the take-off; a landing the other way has it downhill.
          const takeoffRad = flight.entry.conditions.runway?.headingRad ?? flight.analysis.takeoffs[0]?.headingRad;
          const opposite = takeoffRad !== undefined && Math.cos(takeoffRad - landing.headingRad) < 0;
          const slope = asUncertain(conditions.slope);
          const flown: DistanceConditions = {
            propeller,
            turbocharged: spec.aircraft.turbocharged,
            headwindMps: asUncertain(conditions.headwind),
            slope: opposite ? { value: -slope.value, sigma: slope.sigma } : slope,
            massKg: asUncertain(conditions.mass),
            densityRatio: asUncertain(conditions.densityRatio),
          };
          try {
            const reduced = reduceGroundRoll(
              {
                roll: 'landing',
                distanceM: { value: raw.value, sigma: sigmaOf(raw) },
                groundSpeedMps: { value: speed.value, sigma: sigmaOf(speed) },
              },
              flown,
              {
                headwindMps: spec.reference.headwindMps,
                slope: spec.reference.slope,
                massKg: conditions.targetMass.value,
                densityRatio: standardDensityRatio(spec.reference.densityAltitudeM),
              },
            );
            return distanceRun(reduced, conditions, propeller, configuration);
          } catch (error) {
            if (error instanceof RangeError) return `It cannot be brought to reference conditions: ${error.message}`;
            throw error;
          }
        },
      });
    });
  }
  return { runs, leftOut: leftOut.entries };
}
