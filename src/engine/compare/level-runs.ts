import type { Measured } from '../../../shared/measured.ts';
import {
  type LevelSpeed,
  levelSpeedDensityFactor,
  levelSpeedWeightFactor,
  type PowerSetting,
} from '../corrections/index.ts';
import { applied } from './applied.ts';
import { type CollectionRequest, leftOutList, type UsableFlight } from './flight-runs.ts';
import type { AppliedCorrection } from './result.ts';
import { standardDensityRatio } from './roll-conditions.ts';
import { type Collected, type CollectedRun, type ReducedRun, sigmaOf, type Target } from './run.ts';
import { airOf, type Air, isKnown, massOf, propellerOf, totalSigma } from './run-conditions.ts';
import { addShifts } from './shift-sum.ts';

/** Engine speeds within this are one setting, rpm. */
const rpmStep = 60;

interface LevelValue {
  readonly number: number;
  readonly startS: number;
  readonly endS: number;
  readonly altitudeM: number;
  readonly measured: Measured;
  readonly how: string;
}

/** How a setting was written decides what density does to speed and flow. */
export function powerSettingOf(words: string | undefined, propeller: 'fixed-pitch' | 'constant-speed'): PowerSetting {
  const text = (words ?? '').toLowerCase();
  if (/full|wide open|max|top/.test(text)) return 'full-throttle';
  if (/%|per ?cent/.test(text)) return 'constant-power';
  if (/rpm/.test(text) && propeller === 'fixed-pitch') return 'constant-engine-speed';
  return propeller === 'fixed-pitch' ? 'constant-engine-speed' : 'constant-power';
}

function rpmIn(words: string | undefined): number | undefined {
  const found = /(\d{4})\s*(?:rpm)?/i.exec(words ?? '');
  return found === null ? undefined : Number(found[1]);
}

/** Ways of measuring that are not pooled: a sensor has its own error of position, the same on every flight. */
const byGround = 'ground velocities and wind';
const bySensor = 'recorded airspeed';

/** True airspeeds of one flight: from three or more headings where it could be solved, else those of the runs (recorded, or by a wind found). */
function airspeeds(flight: UsableFlight): LevelValue[] {
  const { winds, levelRuns } = flight.analysis;
  const solved = winds.flatMap((wind): LevelValue[] => {
    const measured = wind.trueAirspeedMps;
    if (measured === undefined || !/heading/i.test(wind.method)) return [];
    const number = levelRuns.findIndex((run) => run.startS >= wind.startS - 1 && run.endS <= wind.endS + 1) + 1;
    const { startS, endS, altitudeM } = wind;
    return [{ number: Math.max(1, number), startS, endS, altitudeM, measured, how: byGround }];
  });
  if (solved.length > 0) return solved;
  return levelRuns.flatMap((run, index): LevelValue[] => {
    const { trueAirspeedMps: measured, startS, endS, altitudeM } = run;
    return measured === undefined
      ? []
      : [
          {
            number: index + 1,
            startS,
            endS,
            altitudeM,
            measured,
            how: /recorded|indicated/i.test(measured.method) ? bySensor : byGround,
          },
        ];
  });
}

function fuelFlows(flight: UsableFlight): LevelValue[] {
  return flight.analysis.levelRuns.flatMap((run, index): LevelValue[] => {
    const { fuelFlowM3ps: measured, startS, endS, altitudeM } = run;
    return measured === undefined
      ? []
      : [{ number: index + 1, startS, endS, altitudeM, measured, how: 'recorded fuel flow' }];
  });
}

/**
 * The value of a flight at its noted power setting. Where the engine speed was recorded and is part of the setting, the runs at it; else
 * the setting that was held longest. Several runs at one setting are one value: they share the day's air.
 */
function atNotedSetting(
  flight: UsableFlight,
  values: readonly LevelValue[],
): { readonly chosen: LevelValue; readonly others: readonly LevelValue[] } {
  const rpm = rpmIn(flight.entry.conditions.cruiseSetting);
  const speedOf = (value: LevelValue): number | undefined =>
    flight.analysis.levelRuns.find(
      (run) => run.startS <= value.endS && run.endS >= value.startS && run.engineSpeedRpm !== undefined,
    )?.engineSpeedRpm;
  const atSetting =
    rpm === undefined
      ? []
      : values.filter((value) => Math.abs((speedOf(value) ?? Number.POSITIVE_INFINITY) - rpm) <= rpmStep);
  const pool = atSetting.length > 0 ? atSetting : values;
  // Values that agree within their errors and 2 % belong to one setting.
  const longest = pool.reduce((a, b) => (b.endS - b.startS > a.endS - a.startS ? b : a));
  const close = pool.filter(
    (value) =>
      Math.abs(value.measured.value - longest.measured.value) <=
      Math.max(0.02 * longest.measured.value, 2 * Math.hypot(sigmaOf(value.measured), sigmaOf(longest.measured))),
  );
  const duration = close.reduce((sum, value) => sum + value.endS - value.startS, 0);
  const average = (of: (value: LevelValue) => number): number =>
    close.reduce((sum, value) => sum + ((value.endS - value.startS) / duration) * of(value), 0);
  const value = average(({ measured }) => measured.value);
  // The errors of runs of one flight hang together (wind, sensor): not smaller than the best of them.
  const sigma = Math.min(...close.map(({ measured }) => sigmaOf(measured)));
  const chosen: LevelValue = {
    ...longest,
    altitudeM: average(({ altitudeM }) => altitudeM),
    measured: { ...longest.measured, value, low: value - 1.96 * sigma, high: value + 1.96 * sigma },
  };
  return { chosen, others: values.filter((other) => !close.includes(other)) };
}

function airAtHeight(flight: UsableFlight, altitudeM: number): Air | string {
  const kind = flight.analysis.recording.altitudeKinds[0];
  if (kind === 'pressure') return airOf(flight, 0, altitudeM);
  const startM = flight.analysis.takeoffs.find((takeoff) => takeoff.startAltitudeM !== undefined)?.startAltitudeM;
  const groundM = startM ?? flight.entry.conditions.runway?.elevationM;
  return groundM === undefined ? 'The height of the field is not known.' : airOf(flight, altitudeM - groundM);
}

/** Level speeds and fuel flows: one value a flight, at the noted power setting. */
export function levelRuns(request: CollectionRequest): Collected {
  const { spec, question, flights } = request;
  const leftOut = leftOutList(question.metric);
  const speed = question.metric === 'level-speed';
  const runs: CollectedRun[] = [];
  for (const flight of flights) {
    const values = speed ? airspeeds(flight) : fuelFlows(flight);
    if (values.length === 0) {
      leftOut.add(
        flight.file,
        undefined,
        speed
          ? 'No true airspeed: none was recorded, and there are not three level legs on well spread headings.'
          : 'No fuel flow was recorded in level flight.',
      );
      continue;
    }
    const { chosen, others } = atNotedSetting(flight, values);
    for (const other of others) {
      leftOut.add(flight.file, other.number, 'Another power setting than the one noted, as it seems.');
    }
    const air = airAtHeight(flight, chosen.altitudeM);
    const mass = massOf(flight, spec, (chosen.startS + chosen.endS) / 2);
    runs.push({
      file: flight.file,
      number: chosen.number,
      day: flight.day,
      configuration: flight.entry.configuration,
      timeS: chosen.startS,
      raw: chosen.measured,
      kinds: {
        strict: {
          'power setting': flight.entry.conditions.cruiseSetting?.trim().toLowerCase() ?? 'power setting not noted',
          'way of measuring': chosen.how,
        },
        soft: {},
      },
      conditions: {
        ...(isKnown(air) ? { densityAltitudeM: air.densityAltitudeM.value } : {}),
        ...(isKnown(mass) ? { massKg: mass.value } : {}),
      },
      reduce: (target) => reduceLevel(flight, chosen, request, target),
    });
  }
  return { runs, leftOut: leftOut.entries };
}

/**
 * Exponent of density on fuel flow at one power setting: none at constant power (flow goes with power); at constant engine speed of a fixed pitch, and at full
 * throttle, power falls nearly with density, as 1.1324 sigma - 0.1324 (flight-test reference handbook, SFTE 2013, ch. 10) less what the propeller unloads.
 */
const flowExponents: Readonly<Record<PowerSetting, { readonly value: number; readonly sigma: number }>> = {
  'constant-power': { value: 0, sigma: 0.1 },
  'constant-engine-speed': { value: 0.8, sigma: 0.25 },
  'full-throttle': { value: 0.9, sigma: 0.25 },
};

function reduceLevel(
  flight: UsableFlight,
  value: LevelValue,
  { spec, question }: CollectionRequest,
  target: Target,
): ReducedRun | string {
  const { measured } = value;
  if (target.footing === 'as-flown') {
    return { value: measured.value, ownSigma: sigmaOf(measured), shared: {}, corrections: [] };
  }
  const configuration = flight.entry.configuration;
  const air = airAtHeight(flight, value.altitudeM);
  const mass = massOf(flight, spec, (value.startS + value.endS) / 2);
  const targetMass = target.massOf(configuration);
  if (!isKnown(air)) return air;
  if (!isKnown(mass)) return mass;
  if (targetMass === undefined) return 'The reference weight is not known for this configuration.';
  const propeller = propellerOf(spec, configuration);
  const setting = powerSettingOf(flight.entry.conditions.cruiseSetting, propeller);
  const referenceM = spec.reference.cruiseDensityAltitudeM ?? spec.reference.densityAltitudeM;
  const densitySigma = totalSigma(air.densityRatio);
  const massSigma = totalSigma(mass);
  const shared: Record<string, number> = {};
  const corrections: AppliedCorrection[] = [];
  const referenceDensityRatio = standardDensityRatio(referenceM);
  let factor = 1;
  if (question.metric === 'fuel-flow') {
    const exponent = flowExponents[setting];
    const log = Math.log(referenceDensityRatio / air.densityRatio.value);
    factor = Math.exp(exponent.value * log);
    const flow = measured.value * factor;
    addShifts(shared, air.densityRatio.shifts, (-exponent.value / air.densityRatio.value) * flow);
    addShifts(shared, { [`density exponent of flow, ${setting}`]: exponent.sigma * log * flow }, 1);
    corrections.push({
      name: 'density',
      factor,
      relativeSigma: Math.hypot(exponent.sigma * log, (exponent.value * densitySigma) / air.densityRatio.value),
    });
    return { value: flow, ownSigma: sigmaOf(measured) * factor, shared, corrections };
  }
  try {
    const level: LevelSpeed = {
      setting,
      propeller,
      massKg: { value: mass.value, sigma: massSigma },
      densityRatio: { value: air.densityRatio.value, sigma: densitySigma },
      referenceMassKg: targetMass.value,
      referenceDensityRatio,
    };
    const density = levelSpeedDensityFactor(level);
    const weight = levelSpeedWeightFactor(level);
    factor = (density.factor ?? 1) * (weight.factor ?? 1);
    const speed = measured.value * factor;
    addShifts(
      shared,
      air.densityRatio.shifts,
      densitySigma > 0 ? ((density.sensitivity.density ?? 0) / densitySigma) * speed : 0,
    );
    addShifts(shared, mass.shifts, massSigma > 0 ? ((weight.sensitivity.mass ?? 0) / massSigma) * speed : 0);
    addShifts(
      shared,
      {
        'induced drag':
          ((density.sensitivity['induced drag'] ?? 0) + (weight.sensitivity['induced drag'] ?? 0)) * speed,
        // Its sign is lost in the correction: it is that of the distance in density.
        [`density exponent of speed, ${setting}`]:
          (density.sensitivity['density exponent'] ?? 0) *
          Math.sign(Math.log(referenceDensityRatio / air.densityRatio.value)) *
          speed,
        [`empty mass ${configuration}`]:
          massSigma > 0 ? (-(weight.sensitivity.mass ?? 0) / massSigma) * targetMass.sigma * speed : 0,
      },
      1,
    );
    return {
      value: speed,
      ownSigma: sigmaOf(measured) * factor,
      shared,
      corrections: [applied(density), applied(weight)],
    };
  } catch (error) {
    if (error instanceof RangeError) return `It cannot be brought to reference conditions: ${error.message}`;
    throw error;
  }
}
