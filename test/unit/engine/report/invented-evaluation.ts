import type { Analysis } from '../../../../src/engine/analysis.ts';
import type { Change, ConfigurationResult, MetricResult, RunValue } from '../../../../src/engine/compare/result.ts';
import type { EvaluatedFlight, Evaluation } from '../../../../src/engine/evaluate/index.ts';
import { parseSpec } from '../../../../src/engine/spec/index.ts';

/** An invented result with everything that a report can show; the numbers are made up and mean nothing. */
const specText = `modproof: 1
title: Wheel fairings on the Tern
aircraft: { name: Tern T2, propeller: fixed-pitch, reference-weight: 700 kg }
configurations:
  before: { baseline: true, description: as it was }
  after: { description: "fairings | on" }
airfields:
  Oyster Flats: { elevation: 100 ft, surface: grass, runways: { "13": { heading: 133 deg, slope: 0.8 % } } }
flights:
  - { track: a1.gpx, configuration: before, runway: "13", air-temperature: 4 degC, altimeter-setting: 1025 hPa, wind: 080 deg 3 kt, weight: 720 kg, note: "saw *geese*" }
  - { track: a2.gpx, configuration: before, runway: "13", air-temperature: 14 degC }
  - { track: b1.gpx, configuration: after, wind: calm, weight: 650 kg +- 5 kg, technique: three-point, start: standing }
  - { track: b2.gpx, configuration: after, surface: wet grass }
exclude:
  - { track: b2.gpx, because: brakes dragged }
questions:
  - { metric: ground-roll, primary: true, margin: 5 % }
  - distance-over: 50 ft
  - rate-of-climb
report: { units: us }
`;

const day = (index: number): string => `2024-04-${String(13 + index).padStart(2, '0')}`;
const startS = (index: number): number => Date.UTC(2024, 3, 13 + index, 10, 0, 0) / 1000;

function run(file: string, index: number, raw: number, factor: number, outlier?: string, number = 1): RunValue {
  const value = raw * factor;
  return {
    file,
    number,
    day: day(index),
    timeS: startS(index) + 300 * number,
    raw: { value: raw, low: raw * 0.97, high: raw * 1.03 },
    value,
    low: value * 0.93,
    high: value * 1.07,
    sigma: value * 0.035,
    corrections: [
      { name: 'wind', factor: factor * 1.02, relativeSigma: 0.03 },
      {
        name: 'density',
        factor: 1 / 1.02,
        relativeSigma: 0.01,
        ...(index === 2
          ? { warning: 'The correction for density is 12 %: more than 10 %, where errors begin. It was hot.' }
          : {}),
      },
    ],
    weight: index === 3 ? 0.5 : 1,
    ...(outlier === undefined ? {} : { outlier }),
  };
}

function configuration(id: string, values: readonly RunValue[]): ConfigurationResult {
  const mean = values.reduce((sum, { value }) => sum + value, 0) / values.length;
  const naiveMean = values.reduce((sum, { raw }) => sum + raw.value, 0) / values.length;
  return {
    id,
    runs: values.length,
    days: new Set(values.map((value) => value.day)).size,
    mean: { value: mean, low: mean * 0.95, high: mean * 1.05 },
    naiveMean,
    values,
  };
}

function change(verdict: Change['verdict'], percent: number, half: number, naivePercent: number): Change {
  return {
    from: 'before',
    to: 'after',
    difference: { value: percent * 2, low: (percent - half) * 2, high: (percent + half) * 2 },
    percent: { value: percent, low: percent - half, high: percent + half },
    naivePercent,
    verdict,
    pValue: 0.01,
    pValueAdjusted: 0.03,
    confidence: 0.98,
    percentAlone: { value: percent, low: percent - 0.9 * half, high: percent + 0.9 * half },
    moreDays: verdict === 'no difference shown' ? 4 : null,
    detectablePercent: 7.4,
    sentence: `Ground roll at equal weight: ${verdict} with "after" than with "before".`,
    warnings: verdict === 'shorter' ? ['the density altitudes hardly overlap', 'a1.gpx stands out'] : [],
  };
}

const before = [
  ['a1.gpx', 0, 200, 1.1],
  ['a1.gpx', 0, 190, 1.12],
  ['a2.gpx', 1, 215, 1.02],
] as const;
const after = [
  ['b1.gpx', 2, 210, 0.93],
  ['b2.gpx', 3, 220, 0.9],
] as const;

function distances(metric: string, scale: number, footing: MetricResult['conditions'], primary: boolean): MetricResult {
  const runs = (rows: readonly (readonly [string, number, number, number])[]): RunValue[] =>
    rows.map(([file, index, raw, factor], at) =>
      run(
        file,
        index,
        raw * scale,
        footing === 'as-flown' ? 1 : factor,
        at === 1 ? 'longer than the rest of its day' : undefined,
        file === 'a1.gpx' ? at + 1 : 1,
      ),
    );
  return {
    metric,
    unit: 'm',
    conditions: footing,
    smallerIsBetter: true,
    primary,
    configurations: [configuration('before', runs(before)), configuration('after', runs(after))],
    changes: [
      footing === 'equal-load' ? change('no difference shown', -4, 8, 6.6) : change('shorter', -11.4, 5.2, 6.6),
    ],
    at: footing === 'as-flown' ? '' : 'At 700 kg, density altitude 0 m, no wind, level runway.',
  };
}

const climb: MetricResult = {
  metric: 'rate-of-climb',
  unit: 'm/s',
  conditions: 'equal-weight',
  smallerIsBetter: false,
  primary: false,
  configurations: [
    configuration('before', [run('a1.gpx', 0, 3.4, 1.05), run('a2.gpx', 1, 3.1, 1.02)]),
    configuration('after', [run('b1.gpx', 2, 3.3, 1.02)]),
  ],
  changes: [change('too few flights', 0.5, 22, -2)],
  at: 'At 700 kg and a density altitude of 600 m.',
  seenAgainst: {
    condition: 'density-altitude',
    configurations: ['before', 'after'].map((id, index) => ({
      id,
      points: [300, 600, 900, 1200].map((x) => ({
        file: `${id}.gpx`,
        day: day(index),
        x,
        value: 4 - x * 0.001 + index * 0.2 + (x % 200 === 0 ? 0.1 : -0.1),
      })),
      line: [300, 700, 1200].map((x) => {
        const value = 4 - x * 0.001 + index * 0.2;
        return {
          x,
          value,
          low: value - 0.15 - Math.abs(x - 700) * 0.0003,
          high: value + 0.15 + Math.abs(x - 700) * 0.0003,
        };
      }),
    })),
  },
};

function analysis(index: number): Analysis {
  const event = (after: number) => ({ timeS: startS(index) + 300 + after, sigmaS: 0.3, origin: 'found' as const });
  return {
    recording: {
      startS: startS(index),
      endS: startS(index) + 3600,
      samples: 3600,
      rateHz: 1,
      gaps: [],
      altitudeKinds: ['msl'],
      speedSource: 'receiver',
    },
    phases: [],
    takeoffs: [
      {
        outcome: 'flown',
        rollStart: event(0),
        liftoff: event(14),
        rollingStart: false,
        startSpeedMps: 0,
        headingRad: 2.32,
        latDeg: 12.3456,
        lonDeg: 65.4321,
        screens: [],
        remarks: [],
      },
    ],
    landings: [],
    climbs: [],
    levelRuns: [],
    winds: [],
    problems: [],
  };
}

function profile(liftoffM: number) {
  const distanceM = Array.from({ length: 40 }, (_, index) => index * 15);
  return {
    distanceM,
    heightM: distanceM.map((d) => (d < liftoffM ? 0 : Math.round((d - liftoffM) * 1.1) / 10)),
    groundSpeedMps: distanceM.map((d) => Math.round(Math.min(28, 1.7 * Math.sqrt(d)) * 10) / 10),
    gapsBefore: liftoffM === 210 ? [20] : [],
    liftoffDistanceM: liftoffM,
  };
}

export function inventedEvaluation(edit: (text: string) => string = (text) => text): Evaluation {
  const parsed = parseSpec(edit(specText), 'fairings.modproof.yaml');
  const { spec } = parsed;
  if (spec === undefined) throw new Error(JSON.stringify(parsed.problems));
  const hash = (letter: string) => ({ sha256: letter.repeat(64), of: 'file' as const });
  const flights = spec.flights.map(
    (entry, index): EvaluatedFlight => ({
      entry,
      file: entry.track,
      format: 'gpx',
      analysis: analysis(index),
      day: day(index),
      problems: [],
      hash: hash('abcd'[index]),
      sizeBytes: 123_456 * (index + 1),
      profiles: [profile(200 + 10 * index)],
    }),
  );
  return {
    spec,
    parsed,
    flights,
    result: {
      title: spec.title,
      metrics: [
        distances('ground-roll', 1, 'as-flown', true),
        distances('ground-roll', 1, 'equal-weight', true),
        distances('ground-roll', 1, 'equal-load', true),
        distances('distance-over-15m', 2.1, 'equal-weight', false),
        climb,
      ],
      leftOut: [
        { file: 'b2.gpx', reason: 'brakes dragged', by: 'pilot' },
        { file: 'a2.gpx', metric: 'rate-of-climb', number: 2, reason: 'no temperature was noted', by: 'engine' },
      ],
      problems: [],
    },
    problems: [],
    provenance: {
      engineVersion: '0.0.0',
      specFile: 'fairings.modproof.yaml',
      specSha256: 'e'.repeat(64),
      recordings: flights.map(({ file, hash: of, sizeBytes }) => ({
        ...hash('a'),
        ...of,
        file,
        sizeBytes: sizeBytes ?? 0,
      })),
    },
  };
}
