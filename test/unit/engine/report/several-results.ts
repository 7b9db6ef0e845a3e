import type { Change, MetricResult } from '../../../../src/engine/compare/result.ts';
import type { Evaluation } from '../../../../src/engine/evaluate/index.ts';
import { parseSpec } from '../../../../src/engine/spec/index.ts';
import { factsOf } from '../../../../shared/metric.ts';

const units: Readonly<Record<string, MetricResult['unit']>> = { length: 'm', speed: 'm/s', 'vertical-speed': 'm/s' };

/** An invented result: means with an interval of a tenth, and the verdicts that are given. The numbers mean nothing. */
export function metricOf(
  metric: string,
  means: Readonly<Record<string, number>>,
  changes: readonly Pick<Change, 'from' | 'to' | 'verdict'>[],
): MetricResult {
  const facts = factsOf(metric);
  return {
    metric,
    unit: units[facts?.kind ?? 'length'] ?? 'm',
    conditions: 'equal-weight',
    ...(facts?.better === 'neither' ? {} : { smallerIsBetter: facts?.better === 'smaller' }),
    primary: metric === 'ground-roll',
    configurations: Object.entries(means).map(([id, value]) => ({
      id,
      runs: 0,
      days: 4,
      mean: { value, low: value * 0.9, high: value * 1.1 },
      values: [],
    })),
    changes: changes.map((change): Change => {
      const share = (means[change.to] / means[change.from] - 1) * 100;
      const percent = { value: share, low: share - 5, high: share + 5 };
      const judged = change.verdict !== 'too few flights';
      return {
        ...change,
        ...(judged ? { percent, percentAlone: percent, difference: percent, confidence: 0.98 } : {}),
        moreDays: null,
        sentence: `Ground roll at equal weight: ${change.verdict}.`,
        warnings: [],
      };
    }),
    at: 'At 700 kg.',
  };
}

const severalText = `modproof: 1
title: Three blade angles
aircraft: { propeller: fixed-pitch, reference-weight: 700 kg }
configurations:
  a: { baseline: true, setting: { of: blade angle, value: 14 deg } }
  b: { setting: 16.5 deg }
  "c | x": { setting: 19 deg }
flights:
  - { track: a.gpx, configuration: a }
  - { track: b.gpx, configuration: b }
  - { track: c.gpx, configuration: "c | x" }
questions:
  - { metric: ground-roll, primary: true }
  - metric: rate-of-climb
  - metric: level-speed
`;

/** Three settings of which the fine one gets off the ground soonest and the coarse one is fastest. */
export function severalEvaluation(edit: (text: string) => string = (text) => text): Evaluation {
  const parsed = parseSpec(edit(severalText), 'angles.modproof.yaml');
  const { spec } = parsed;
  if (spec === undefined) throw new Error(JSON.stringify(parsed.problems));
  const last = 'c | x';
  const pairs = (ab: Change['verdict'], ac: Change['verdict'], bc: Change['verdict']) => [
    { from: 'a', to: 'b', verdict: ab },
    { from: 'a', to: last, verdict: ac },
    { from: 'b', to: last, verdict: bc },
  ];
  const none = 'no difference shown';
  const roll = metricOf('ground-roll', { a: 200, b: 222, [last]: 260 }, pairs(none, 'longer', 'longer'));
  const metrics: MetricResult[] = [
    {
      ...roll,
      alongSetting: {
        settings: [
          { id: 'a', value: 14 },
          { id: 'b', value: 16.5 },
          { id: last, value: 19 },
        ],
        slope: { value: 5.4, low: 3.1, high: 7.7 },
        slopeIn: 'percent',
        bends: false,
        line: [14, 16.5, 19].map((setting) => ({ setting, value: 200 * 1.054 ** (setting - 14) })),
      },
    },
    { ...roll, conditions: 'equal-load' },
    metricOf('rate-of-climb', { a: 5, b: 5.2, [last]: 4 }, pairs(none, 'lower', 'lower')),
    metricOf('level-speed', { a: 50, b: 52, [last]: 54 }, pairs('higher', 'higher', none)),
  ];
  return {
    spec,
    parsed,
    flights: [],
    result: { title: spec.title, metrics, leftOut: [], problems: [] },
    problems: [],
    provenance: {
      engineVersion: '0.0.0',
      specFile: 'angles.modproof.yaml',
      specSha256: 'e'.repeat(64),
      recordings: [],
    },
  };
}
