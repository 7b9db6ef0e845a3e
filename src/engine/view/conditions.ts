import type { Analysis, Takeoff } from '../../../shared/analysis.ts';
import type { ConditionName, ConditionsView, CorrectedRow, TypedConditions } from '../../../shared/flight-view.ts';
import { formatFixed } from '../../../shared/format.ts';
import type { Interval, Measured } from '../../../shared/measured.ts';
import { parseQuantity } from '../../../shared/quantity.ts';
import type { Dimension } from '../../../shared/units.ts';
import { airAtField } from '../corrections/noted-air.ts';
import {
  type DistanceConditions,
  type DistanceReference,
  type ReducedDistance,
  reduceDistanceToScreen,
  reduceGroundRoll,
} from '../corrections/reduce-distance.ts';
import type { Uncertain } from '../corrections/uncertain.ts';
import { unknownSlope } from '../corrections/runway-slope.ts';
import { headwindAtWing, type HeadwindAtWing, type WindSurface, windComponents } from '../corrections/wind-at-wing.ts';
import {
  airTemperatureSigmaK,
  altimeterSettingSigmaPa,
  dewPointSigmaK,
  slopeSigma,
  takeoffMassSigmaKg,
  windSigmaMps,
} from '../spec/defaults.ts';

/** Half width of a 95 % interval in standard deviations. */
const z95 = 1.96;

/** A take-off further than this from the runway's heading is not on that runway (own choice: taxiways and parallel runways lie within it). */
const otherRunwayRad = (30 * Math.PI) / 180;

const dimensions: Readonly<Partial<Record<ConditionName, Dimension>>> = {
  temperature: 'temperature',
  dewPoint: 'temperature',
  altimeterSetting: 'pressure',
  windFrom: 'angle',
  windSpeed: 'speed',
  takeoffWeight: 'mass',
  runwayHeading: 'angle',
  runwayElevation: 'length',
  runwaySlope: 'ratio',
  referenceWeight: 'mass',
};

const surfaces: readonly WindSurface[] = ['paved', 'grass', 'long-grass', 'snow', 'water', 'rough'];

interface Understood {
  readonly values: Partial<Record<ConditionName, Uncertain & { readonly stated: boolean }>>;
  readonly faults: Partial<Record<ConditionName, string>>;
}

function understand(typed: TypedConditions): Understood {
  const values: Partial<Record<ConditionName, Uncertain & { readonly stated: boolean }>> = {};
  const faults: Partial<Record<ConditionName, string>> = {};
  for (const [name, dimension] of Object.entries(dimensions) as [ConditionName, Dimension][]) {
    const text = typed[name].trim();
    if (text === '') continue;
    const parsed = parseQuantity(text, dimension);
    if (!parsed.ok) faults[name] = parsed.message;
    else {
      const { value, sigma } = parsed.quantity;
      values[name] = { value, sigma: sigma ?? 0, stated: sigma !== undefined };
    }
  }
  return { values, faults };
}

function withUsual(quantity: (Uncertain & { stated: boolean }) | undefined, usual: number): Uncertain | undefined {
  if (quantity === undefined) return undefined;
  return { value: quantity.value, sigma: quantity.stated ? quantity.sigma : usual };
}

function interval(quantity: Uncertain): Interval {
  const half = z95 * quantity.sigma;
  return { value: quantity.value, low: quantity.value - half, high: quantity.value + half };
}

function fromMeasured(measured: Measured): Uncertain {
  return { value: measured.value, sigma: (measured.high - measured.low) / 2 / z95 };
}

function correctedRow(id: string, reduced: ReducedDistance, at: string): CorrectedRow {
  return {
    id,
    at,
    atReference: interval({ value: reduced.valueM, sigma: reduced.sigmaM }),
    steps: reduced.corrections.map(({ name, factor, addend, warning }) => ({
      name,
      ...(factor === undefined ? {} : { factor }),
      ...(addend === undefined ? {} : { addend }),
      ...(warning === undefined ? {} : { warning }),
    })),
  };
}

function correctTakeoff(
  takeoff: Takeoff,
  number: number,
  conditions: DistanceConditions,
  reference: DistanceReference,
  airHeadwind: ((untilM: number) => Uncertain) | undefined,
  at: string,
): CorrectedRow[] {
  const { groundRollM, liftoffSpeedMps, screens } = takeoff;
  if (groundRollM === undefined || liftoffSpeedMps === undefined || takeoff.rollingStart) return [];
  const roll = fromMeasured(groundRollM);
  const groundSpeedMps = fromMeasured(liftoffSpeedMps);
  const rows = [
    correctedRow(
      `take-off-${number}/ground-roll`,
      reduceGroundRoll({ roll: 'takeoff', distanceM: roll, groundSpeedMps }, conditions, reference),
      at,
    ),
  ];
  for (const screen of screens) {
    const totalM = fromMeasured(screen.distanceM);
    if (!(totalM.value > roll.value && screen.timeFromLiftoffS > 0)) continue;
    const run = {
      groundRollM: roll,
      totalM,
      groundSpeedMps,
      airTimeS: screen.timeFromLiftoffS,
      ...(airHeadwind === undefined ? {} : { airHeadwindMps: airHeadwind(screen.heightM) }),
    };
    rows.push(
      correctedRow(`take-off-${number}/over-${screen.heightM}`, reduceDistanceToScreen(run, conditions, reference), at),
    );
  }
  return rows;
}

function angleBetween(a: number, b: number): number {
  return Math.abs(Math.atan2(Math.sin(a - b), Math.cos(a - b)));
}

/**
 * What typed conditions say of a flight: density altitude, headwind at the wing, and the take-off distances at reference
 * conditions (no wind, level runway, standard sea-level density, and the reference weight where both weights are given).
 * What is missing is left uncorrected and said so. Never throws for anything typed.
 *
 * @param number which take-off the headwind is asked for, from 1
 */
export function conditionsView(typed: TypedConditions, analysis: Analysis, number: number): ConditionsView {
  const { values, faults } = understand(typed);
  const remarks: string[] = [];
  const surfaceText = typed.surface.trim();
  const surface = surfaces.find((one) => one === surfaceText);
  const propeller = typed.propeller.trim() === 'constant-speed' ? 'constant-speed' : 'fixed-pitch';
  if (typed.propeller.trim() === '') remarks.push('Propeller not given: corrected as fixed-pitch.');

  const temperature = withUsual(values.temperature, airTemperatureSigmaK);
  const setting = withUsual(values.altimeterSetting, altimeterSettingSigmaPa);
  const elevation = values.runwayElevation;
  let air: ReturnType<typeof airAtField> | undefined;
  if (temperature !== undefined && setting !== undefined && elevation !== undefined) {
    try {
      air = airAtField({
        elevationM: elevation.value,
        altimeterSettingPa: setting,
        airTemperatureK: temperature,
        dewPointK: withUsual(values.dewPoint, dewPointSigmaK),
      });
      remarks.push(...air.remarks);
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      faults.temperature ??= error.message;
    }
  } else if (temperature !== undefined || setting !== undefined) {
    remarks.push('For the density altitude temperature, altimeter setting and runway elevation are all needed.');
  }

  const mass = values.takeoffWeight;
  const massKg = mass && withUsual(mass, takeoffMassSigmaKg(mass.value));
  const referenceMassKg = values.referenceWeight?.value;
  const slope = withUsual(values.runwaySlope, slopeSigma);
  const windSpeed = values.windSpeed;
  const calm = windSpeed !== undefined && windSpeed.value === 0;
  const windKnown = windSpeed !== undefined && (values.windFrom !== undefined || calm);
  if (windSpeed !== undefined && !windKnown) remarks.push('The wind has a speed but no direction.');

  const wind = (takeoff: Takeoff, untilM?: number): HeadwindAtWing | undefined => {
    if (!windKnown) return undefined;
    return headwindAtWing(
      {
        fromRad: values.windFrom?.value ?? 0,
        speedMps: windSpeed.value,
        sigmaMps: windSpeed.stated ? windSpeed.sigma : windSigmaMps(windSpeed.value),
      },
      headingOf(takeoff),
      { surface, ...(untilM === undefined ? {} : { untilM }) },
    );
  };
  const runwayHeading = values.runwayHeading?.value;
  const onRunway = (takeoff: Takeoff): boolean =>
    runwayHeading !== undefined && angleBetween(runwayHeading, takeoff.headingRad) <= otherRunwayRad;
  const headingOf = (takeoff: Takeoff): number => (onRunway(takeoff) ? (runwayHeading as number) : takeoff.headingRad);

  const reference: DistanceReference = {
    headwindMps: 0,
    slope: 0,
    densityRatio: 1,
    ...(referenceMassKg === undefined ? {} : { massKg: referenceMassKg }),
  };
  const corrected: CorrectedRow[] = [];
  analysis.takeoffs.forEach((takeoff, index) => {
    if (runwayHeading !== undefined && !onRunway(takeoff)) {
      remarks.push(`Take-off ${index + 1} was not in the direction of that runway: its own direction is used.`);
    }
    const conditions: DistanceConditions = {
      propeller,
      turbocharged: false,
      headwindMps: wind(takeoff)?.headwindMps,
      slope: slope ?? unknownSlope,
      massKg,
      densityRatio: air?.densityRatio,
    };
    try {
      const up = (untilM: number): Uncertain => wind(takeoff, untilM)?.headwindMps ?? { value: 0, sigma: 0 };
      const at = describeReference(windKnown, air !== undefined, massKg && referenceMassKg);
      corrected.push(...correctTakeoff(takeoff, index + 1, conditions, reference, windKnown ? up : undefined, at));
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      remarks.push(`Take-off ${index + 1} cannot be corrected: ${error.message}`);
    }
    if (takeoff.rollingStart) remarks.push(`Take-off ${index + 1} began rolling: it is not corrected.`);
  });
  if (slope === undefined && corrected.length > 0)
    remarks.push('Slope not given: taken as level, give or take half a per cent.');
  if (!windKnown) remarks.push('Wind not given: not corrected for wind, usually the largest of all.');
  if (massKg !== undefined && referenceMassKg === undefined)
    remarks.push('No reference weight: not corrected for weight.');

  const asked = analysis.takeoffs[number - 1] as Takeoff | undefined;
  const atWing = asked && wind(asked);
  if (atWing) remarks.push(...atWing.remarks);
  return {
    faults,
    ...(air === undefined
      ? {}
      : { pressureAltitudeM: air.pressureAltitudeM.value, densityAltitudeM: interval(air.densityAltitudeM) }),
    ...(atWing === undefined || asked === undefined || windSpeed === undefined
      ? {}
      : {
          headwindMps: interval(atWing.headwindMps),
          crosswindMps: windComponents(values.windFrom?.value ?? 0, windSpeed.value, headingOf(asked)).crosswindMps,
        }),
    ...(windKnown && values.windFrom !== undefined
      ? { windFromRad: values.windFrom.value, windText: typed.windSpeed.trim() }
      : {}),
    ...(runwayHeading === undefined ? {} : { runwayHeadingRad: runwayHeading }),
    corrected,
    remarks: [...new Set(remarks)],
  };
}

function describeReference(wind: boolean, air: boolean, massKg: number | undefined): string {
  return [
    wind ? 'no wind' : 'the wind of the day',
    'level runway',
    air ? 'standard air at sea level' : 'the air of the day',
    massKg === undefined ? 'the weight flown' : `${formatFixed(massKg, 0)} kg`,
  ].join(', ');
}
