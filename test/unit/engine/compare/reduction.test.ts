import assert from 'node:assert/strict';
import type { Analysis, Climb, ClimbBand, Landing, LevelRun, WindEstimate } from '../../../../shared/analysis.ts';
import { displayUnitSets } from '../../../../shared/display-units.ts';
import type { Measured } from '../../../../shared/measured.ts';
import { pressureAltitudeM } from '../../../../src/engine/atmosphere/index.ts';
import { compare } from '../../../../src/engine/compare/index.ts';
import type { AnalysedFlight } from '../../../../src/engine/compare/flight.ts';
import type { ComparisonResult, Footing, MetricResult } from '../../../../src/engine/compare/result.ts';
import type { Conditions, Noted, Question, Spec } from '../../../../src/engine/spec/types.ts';
import { near } from '../../../tools/near.ts';

/** Flights in a standard atmosphere without wind, so that the right answers are known by hand. */
const knot = 1852 / 3600;
const referenceMassKg = 1000;
const noted = (value: number, sigma = 0): Noted => ({ value, sigma, sigmaStated: true });
const measured = (value: number, sigma = 0.001 * value): Measured => ({
  value,
  low: value - 1.96 * sigma,
  high: value + 1.96 * sigma,
  method: 'by hand',
});

interface Plan {
  readonly configuration: string;
  readonly day: string;
  readonly massKg?: number;
  readonly conditions?: Partial<Conditions>;
  readonly analysis?: Partial<Analysis>;
}

const startS = 1_700_000_000;

function flightOf(plan: Plan, index: number): AnalysedFlight {
  const instant = (timeS: number) => ({ timeS, sigmaS: 0.05, origin: 'found' as const });
  const file = `${index}.gpx`;
  return {
    entry: {
      track: file,
      configuration: plan.configuration,
      overrides: [],
      conditions: {
        airTemperatureK: noted(288.15),
        altimeterSettingPa: noted(101_325),
        wind: { fromRad: 0, speedMps: 0, sigmaMps: 0, sigmaStated: true },
        takeoffMassKg: noted(plan.massKg ?? referenceMassKg),
        fuelUsedM3: noted(0),
        runway: {
          headingRad: 0,
          elevationM: 0,
          slope: noted(0),
          surface: { kind: 'paved', wet: false, soft: false, long: false },
        },
        cruiseSetting: '65 %',
        ...plan.conditions,
      },
    },
    file,
    day: plan.day,
    problems: [],
    analysis: {
      recording: {
        startS,
        endS: startS + 3600,
        samples: 1,
        rateHz: 1,
        gaps: [],
        altitudeKinds: ['msl'],
        speedSource: 'receiver',
      },
      phases: [],
      takeoffs: [
        {
          outcome: 'flown',
          rollStart: instant(startS),
          liftoff: instant(startS + 14),
          rollingStart: false,
          startSpeedMps: 0,
          headingRad: 0,
          latDeg: 0,
          lonDeg: 0,
          startAltitudeM: 0,
          groundRollM: measured(200),
          timeToLiftoffS: measured(14),
          liftoffSpeedMps: measured(28),
          screens: [],
          remarks: [],
        },
      ],
      landings: [],
      climbs: [],
      levelRuns: [],
      winds: [],
      problems: [],
      ...plan.analysis,
    },
  };
}

function compared(plans: readonly Plan[], question: Question, spec: Partial<Spec> = {}): ComparisonResult {
  const flights = plans.map(flightOf);
  return compare(
    {
      title: 'by hand',
      aircraft: { name: 'x', propeller: 'fixed-pitch', turbocharged: false, referenceMassKg },
      configurations: [{ id: 'before' }, { id: 'after' }],
      baseline: 'before',
      flights: flights.map(({ entry }) => entry),
      exclusions: [],
      reference: { densityAltitudeM: 0, headwindMps: 0, slope: 0 },
      questions: { ask: [question], at: ['equal-weight'] },
      report: { units: displayUnitSets.icao, hidePositions: false, figures: false },
      ...spec,
    },
    flights,
  );
}

/** Three days before and three after, with the same plan but for the configuration. */
function sixDays(make: (configuration: string, day: number) => Omit<Plan, 'configuration' | 'day'>): Plan[] {
  return ['before', 'after'].flatMap((configuration) =>
    [0, 1, 2].map((day) => ({
      configuration,
      day: `2026-0${configuration === 'before' ? 4 : 6}-0${day + 1}`,
      ...make(configuration, day),
    })),
  );
}

function metricOf(result: ComparisonResult, conditions: Footing = 'equal-weight'): MetricResult {
  const metric = result.metrics.find((one) => one.conditions === conditions);
  assert.ok(metric);
  return metric;
}

const values = (result: ComparisonResult): number[] =>
  metricOf(result).configurations.flatMap((configuration) => configuration.values.map(({ value }) => value));

describe('reduction of runs', () => {
  it('leaves a take-off at reference conditions as it was measured, whatever is asked of it', () => {
    for (const [metric, expected] of [
      ['ground-roll', 200],
      ['time-to-liftoff', 14],
      ['liftoff-speed', 28],
      ['ground-roll-at-equal-speed', 200],
    ] as const) {
      for (const value of values(
        compared(
          sixDays(() => ({})),
          { metric, primary: true },
        ),
      ))
        near(value, expected, 0.02, metric);
    }
  });

  it('lift-off speed: ground speed plus headwind at the wing, with the square root of weight (FAA-H-8083-25C ch. 11: +21 %, +10 %)', () => {
    const wind = { fromRad: 0, speedMps: 5, sigmaMps: 0.5, sigmaStated: true, heightM: 1.7 };
    const result = compared(
      sixDays(() => ({ massKg: referenceMassKg / 1.21, conditions: { wind } })),
      { metric: 'liftoff-speed', primary: true },
    );
    for (const value of values(result)) near(value, (28 + 5) * 1.1, 0.05);
  });

  it('time to lift-off: heavier and thinner take longer, by the exponents of the distance less those of the speed', () => {
    const heavy = compared(
      sixDays(() => ({ massKg: 900 })),
      { metric: 'time-to-liftoff', primary: true },
    );
    for (const value of values(heavy)) near(value, 14 * (1000 / 900) ** 1.9, 0.01);
  });

  it('at equal lift-off speed a wrong wind note hardly matters, and neither does a late lift-off', () => {
    const shiftOf = (metric: string, plan: (configuration: string) => Omit<Plan, 'configuration' | 'day'>): number =>
      metricOf(compared(sixDays(plan), { metric, primary: true })).changes[0].percent?.value ?? Number.NaN;
    // 3 kt of headwind noted after, that was not there.
    const wind = (configuration: string) => ({
      conditions: {
        wind: {
          fromRad: 0,
          speedMps: configuration === 'after' ? 3 * knot : 0,
          sigmaMps: 0.5,
          sigmaStated: true,
          heightM: 1.7,
        },
      },
    });
    assert.ok(shiftOf('ground-roll', wind) > 9, 'a tenth longer, by a note alone');
    assert.ok(Math.abs(shiftOf('ground-roll-at-equal-speed', wind)) < 1);
    // A technique that leaves the ground 5 % faster is 10 % longer, with the same acceleration.
    const faster = (configuration: string): Omit<Plan, 'configuration' | 'day'> => {
      const speed = configuration === 'after' ? 1.05 : 1;
      const [takeoff] = flightOf({ configuration, day: 'x' }, 0).analysis?.takeoffs ?? [];
      return {
        analysis: {
          takeoffs: [{ ...takeoff, groundRollM: measured(200 * speed ** 2), liftoffSpeedMps: measured(28 * speed) }],
        },
      };
    };
    near(shiftOf('ground-roll', faster), 10.25, 0.1);
    near(shiftOf('ground-roll-at-equal-speed', faster), 0, 0.05);
    assert.match(
      metricOf(compared(sixDays(faster), { metric: 'ground-roll-at-equal-speed', primary: true })).at,
      /usual for the weight/,
    );
  });

  it('a landing roll: shorter against the wind and when lighter; the noted slope is turned for a landing the other way', () => {
    const landing = (headingRad: number): Landing => ({
      touchdown: { timeS: startS + 3000, sigmaS: 0.3, origin: 'found' },
      groundRollM: measured(250),
      touchdownSpeedMps: measured(26),
      headingRad,
      latDeg: 0,
      lonDeg: 0,
      remarks: [],
    });
    const valueAt = (headingRad: number, slope: number, massKg = referenceMassKg): number =>
      values(
        compared(
          sixDays(() => ({
            massKg,
            conditions: {
              runway: {
                headingRad: 0,
                elevationM: 0,
                slope: noted(slope),
                surface: { kind: 'paved', wet: false, soft: false, long: false },
              },
            },
            analysis: { landings: [landing(headingRad)] },
          })),
          { metric: 'landing-roll', primary: true },
        ),
      )[0];
    near(valueAt(0, 0), 250, 0.01);
    // 1 % uphill shortens a landing roll: on the level it is longer, by g sin / a = 0.0981 / 1.352.
    near(valueAt(0, 0.01), 250 / (1 - 0.0980616 / 1.352), 0.05);
    near(valueAt(Math.PI, 0.01), 250 / (1 + 0.0980616 / 1.352), 0.05);
    near(valueAt(0, 0, 900), 250 * (1000 / 900) ** 1.5, 0.05);
  });
});

describe('climbs', () => {
  /** Bands of 500 ft in the standard atmosphere, rate falling on a straight line with height. */
  const climbOf = (rateAtZeroMps: number, slopePerM: number, toM = 1524): Climb => {
    const bands: ClimbBand[] = [];
    for (let fromM = 152.4; fromM + 152.4 <= toM + 1; fromM += 152.4) {
      const rate = rateAtZeroMps + slopePerM * (fromM + 76.2);
      bands.push({
        fromAltitudeM: fromM,
        toAltitudeM: fromM + 152.4,
        startS: startS + 60,
        endS: startS + 90,
        rateOfClimbMps: measured(rate + 0.4, 0.05),
        energyRateMps: measured(rate, 0.05),
        groundSpeedMps: 35,
        trueAirspeedMps: 35,
        turningFraction: 0,
      });
    }
    return {
      startS: startS + 60,
      endS: startS + 400,
      fromAltitudeM: 100,
      toAltitudeM: toM,
      altitudeKind: 'msl',
      rateOfClimbMps: measured(rateAtZeroMps, 0.05),
      energyRateMps: measured(rateAtZeroMps, 0.05),
      bands,
      remarks: [],
    };
  };
  const slope = -4e-4 * 2;
  const plan = (configuration: string): Omit<Plan, 'configuration' | 'day'> => ({
    analysis: { climbs: [climbOf(configuration === 'after' ? 5 : 4, slope)] },
  });
  const atReference = (climbDensityAltitudeM: number): Partial<Spec> => ({
    reference: { densityAltitudeM: 0, headwindMps: 0, slope: 0, climbDensityAltitudeM },
  });

  it('gives the energy-corrected rate at the reference density altitude, from the line through the bands', () => {
    const result = compared(sixDays(plan), { metric: 'rate-of-climb', primary: true }, atReference(800));
    const { configurations, changes } = metricOf(result);
    near(configurations[0].mean?.value ?? 0, 4 + 800 * slope, 0.02);
    near(configurations[1].mean?.value ?? 0, 5 + 800 * slope, 0.02);
    assert.equal(changes[0].verdict, 'higher');
    near(changes[0].difference?.value ?? 0, 1, 0.02);
    near(changes[0].percent?.value ?? 0, (100 * 1) / (4 + 800 * slope), 1);
  });

  it('corrects for weight: rate x weight is kept, less the induced drag of the heavier aeroplane', () => {
    const lighter = sixDays((configuration) => ({ ...plan(configuration), massKg: 900 }));
    const [value] = values(compared(lighter, { metric: 'rate-of-climb', primary: true }, atReference(800)));
    const rate = 4 + 800 * slope;
    assert.ok(value < (rate * 900) / 1000 + 0.02 && value > (rate * 900) / 1000 - 0.5, String(value));
  });

  it('the altitude to which a rate is held, where the climbs reach it; marked beyond, refused far beyond', () => {
    const held = (rateMps: number): ComparisonResult =>
      compared(sixDays(plan), { metric: 'climb-held-to', primary: true, rateMps });
    // Before 4 - 0.0008 h: 3.2 m/s at 1,000 m; after 5 - 0.0008 h: at 2,250 m, beyond the bands that end at 1,448 m.
    const marked = metricOf(held(3.5));
    near(marked.configurations[0].mean?.value ?? 0, 625, 40);
    near(marked.configurations[1].mean?.value ?? 0, 1875, 90);
    assert.ok(marked.changes[0].warnings.some((warning) => /^Extrapolated: .*"after"/.test(warning)));
    assert.match(marked.changes[0].sentence, /ft higher/);
    assert.equal(marked.changes[0].percent, undefined);
    const refused = metricOf(held(2));
    assert.equal(refused.changes[0].verdict, 'too few flights');
    assert.match(refused.changes[0].sentence, /too far from the altitude asked for/);
  });

  it('a climb at an unknown power setting, bands in turns and a missing temperature are left out with the reason', () => {
    const late = { ...climbOf(4, slope), startS: startS + 2000, endS: startS + 2400 };
    const turning = {
      ...climbOf(4, slope),
      bands: climbOf(4, slope).bands.map((band) => ({ ...band, turningFraction: 0.9 })),
    };
    const plans = [
      ...sixDays(plan),
      { configuration: 'before', day: '2026-04-04', analysis: { climbs: [late] } },
      { configuration: 'before', day: '2026-04-05', analysis: { climbs: [turning] } },
      {
        configuration: 'before',
        day: '2026-04-06',
        analysis: { climbs: [climbOf(4, slope)] },
        conditions: { airTemperatureK: undefined },
      },
    ];
    const reasons = compared(plans, { metric: 'rate-of-climb', primary: true }, atReference(800)).leftOut.map(
      ({ reason }) => reason,
    );
    assert.equal(reasons.length, 3, reasons.join('\n'));
    assert.match(reasons[0], /power is not known/);
    assert.match(reasons[1], /turning or too close to the ground/);
    assert.match(reasons[2], /No air temperature/);
  });

  it('a pressure altitude is used as it is: a high setting at the field does not move it', () => {
    const settingPa = 103_000;
    const fieldM = pressureAltitudeM(0, settingPa);
    const shifted = sixDays((configuration) => {
      const climb = climbOf(configuration === 'after' ? 5 : 4, slope);
      return {
        conditions: { altimeterSettingPa: noted(settingPa), airTemperatureK: noted(288.15 - 0.0065 * fieldM) },
        analysis: {
          climbs: [{ ...climb, altitudeKind: 'pressure' }],
          takeoffs: flightOf({ configuration, day: 'x' }, 0).analysis?.takeoffs.map((t) => ({
            ...t,
            startAltitudeM: fieldM,
          })),
        },
      };
    });
    const { configurations } = metricOf(
      compared(shifted, { metric: 'rate-of-climb', primary: true }, atReference(800)),
    );
    near(configurations[0].mean?.value ?? 0, 4 + 800 * slope, 0.03);
  });
});

describe('level flight', () => {
  const windOf = (tasMps: number, altitudeM: number, method = 'three or more headings'): WindEstimate => ({
    startS: startS + 1000,
    endS: startS + 1400,
    altitudeM,
    fromRad: measured(1, 0.1),
    speedMps: measured(5, 0.3),
    trueAirspeedMps: measured(tasMps, 0.2),
    method,
  });
  const levelQuestion: Question = { metric: 'level-speed', primary: true };

  it('speed at constant power: the thinner air of the reference is faster, by a cube root less the induced share', () => {
    const plans = sixDays((configuration) => ({
      analysis: { winds: [windOf(configuration === 'after' ? 51.5 : 50, 0)] },
    }));
    const atZero = metricOf(compared(plans, levelQuestion));
    near(atZero.configurations[0].mean?.value ?? 0, 50, 0.01);
    near(atZero.changes[0].percent?.value ?? 0, 3, 0.02);
    const up = metricOf(
      compared(plans, levelQuestion, {
        reference: { densityAltitudeM: 0, headwindMps: 0, slope: 0, cruiseDensityAltitudeM: 500 },
      }),
    );
    const mean = up.configurations[0].mean?.value ?? 0;
    assert.ok(mean > 50.4 && mean < 50 * 0.9529 ** (-1 / 3), String(mean));
  });

  it('only equal settings are compared, and speeds of a sensor are not pooled with solved ones', () => {
    const runOf = (tas: number): LevelRun => ({
      startS: startS + 1000,
      endS: startS + 1400,
      altitudeM: 0,
      trackRad: 1,
      groundSpeedMps: measured(50),
      trueAirspeedMps: { ...measured(tas), method: 'recorded true airspeed' },
      fuelFlowM3ps: measured(7e-6),
    });
    const plans: Plan[] = [
      ...sixDays(() => ({ analysis: { winds: [windOf(50, 0)] } })),
      {
        configuration: 'after',
        day: '2026-07-01',
        conditions: { cruiseSetting: '75 %' },
        analysis: { winds: [windOf(54, 0)] },
      },
      { configuration: 'after', day: '2026-07-02', analysis: { levelRuns: [runOf(50)] } },
      { configuration: 'after', day: '2026-07-03', analysis: { winds: [windOf(47, 0, 'turn')] } },
    ];
    const result = compared(plans, levelQuestion);
    const reasons = result.leftOut.map(({ reason }) => reason);
    assert.equal(reasons.length, 3, reasons.join('\n'));
    assert.ok(
      reasons.some((reason) => /No true airspeed/.test(reason)),
      'a turn costs speed: it gives the wind only',
    );
    assert.ok(reasons.some((reason) => /power setting \(75 %\)/.test(reason)));
    assert.ok(reasons.some((reason) => /way of measuring \(recorded airspeed\)/.test(reason)));
    assert.equal(metricOf(result).configurations[1].runs, 3);
  });

  it('fuel flow in level flight, and fuel burn of whole flights', () => {
    const runOf = (flow: number): LevelRun => ({
      startS: startS + 1000,
      endS: startS + 1400,
      altitudeM: 0,
      trackRad: 1,
      groundSpeedMps: measured(50),
      fuelFlowM3ps: measured(flow),
    });
    const flows = sixDays((configuration) => ({
      analysis: { levelRuns: [runOf(configuration === 'after' ? 6.3e-6 : 7e-6)] },
    }));
    const flow = metricOf(compared(flows, { metric: 'fuel-flow', primary: true })).changes[0];
    near(flow.percent?.value ?? 0, -10, 0.05);
    const landing: Landing = {
      touchdown: { timeS: startS + 14 + 3600, sigmaS: 0.3, origin: 'found' },
      headingRad: 0,
      latDeg: 0,
      lonDeg: 0,
      remarks: [],
    };
    const burns = sixDays((configuration, day) => ({
      conditions: { fuelUsedM3: noted((configuration === 'after' ? 0.027 : 0.03) + 1e-4 * day, 0.001) },
      analysis: { landings: [landing] },
    }));
    const burn = metricOf(compared(burns, { metric: 'fuel-burn', primary: true }), 'as-flown');
    near((burn.configurations[0].mean?.value ?? 0) * 3600 * 1000, 30.1, 0.05);
    near(burn.changes[0].percent?.value ?? 0, -10, 0.1);
    assert.equal(burn.unit, 'm3/s');
    assert.notEqual(burn.changes[0].verdict, 'too few flights', 'there is nothing to correct: judged as flown');
  });
});
