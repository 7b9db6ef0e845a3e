import assert from 'node:assert/strict';
import { displayUnitSets } from '../../../../shared/display-units.ts';
import type { DecisionResult } from '../../../../src/engine/decision/index.ts';
import {
  type AroundContext,
  loadingSection,
  missionsSection,
  planSection,
} from '../../../../src/engine/report/index.ts';

const context = (units: keyof typeof displayUnitSets = 'icao'): AroundContext => ({
  units: displayUnitSets[units],
  heading: (level) => '#'.repeat(level),
  show: () => '',
});

type Missions = NonNullable<DecisionResult['missions']>;

describe('report: the sections around the flights', () => {
  it('shows the figure from which the margin of a mission was taken', () => {
    const one = { configuration: 'before', predicted: false, factors: [], why: [] };
    const missions: Missions = [
      {
        ...one,
        need: 'strip',
        kind: 'strip',
        answer: 'not enough data',
        takes: { value: 323, low: 304, high: 341 },
        available: 430,
        margin: -58,
      },
      { ...one, need: 'leg', kind: 'leg', answer: 'yes', available: 444_480, margin: 100_000 },
      { ...one, need: 'pass', kind: 'climb', answer: 'yes', available: 3.556, margin: 0.8 },
      { ...one, need: 'unknown', kind: 'climb', answer: 'not enough data', available: 3.556 },
    ];
    const text = missionsSection(missions, context());
    // 430 m less a margin of -58 m; 240 NM and 54 NM; 700 ft/min and 157 ft/min.
    assert.match(text, /\| strip \|.*\| 323 m \(304 to 341\) \| 488 m \| 430 m \| -58 m \|/);
    assert.match(text, /\| leg \|.*\| - \| 294 NM \| 240 NM \|/);
    assert.match(text, /\| pass \|.*\| - \| 857 ft\/min \| 700 ft\/min \|/);
    assert.match(text, /\| unknown \|.*\| - \| - \| 700 ft\/min \| - \|/);
  });

  it('numbers the needs when places are hidden: a strip bears the name of a place', () => {
    const need = { configuration: 'before', predicted: false, kind: 'strip', answer: 'yes', why: [] } as const;
    const factors = [{ name: 'density', factor: 1.1, source: 'a table' }];
    const missions: Missions = [
      { ...need, need: 'Oyster Flats', factors },
      { ...need, need: 'Oyster Flats', configuration: 'after', factors },
      { ...need, need: 'Kelp Bar', factors },
    ];
    const text = missionsSection(missions, { ...context(), names: { hidden: true } });
    assert.doesNotMatch(text, /Oyster|Kelp/);
    // At a glance once, then an answer and a factor for each of the two configurations.
    assert.equal(text.match(/\| strip 1 \|/g)?.length, 5);
    assert.match(text, /\| strip 2 \| before \|/);
    assert.match(missionsSection(missions, context()), /Oyster Flats/);
  });

  it('calls the metrics of a plan by their titles', () => {
    const day = { footing: 'equal-weight', from: 'a', to: 'b', verdict: 'no difference shown', moreDays: 3 } as const;
    const text = planSection(
      {
        configuration: 'b',
        days: [
          { ...day, metric: 'distance-over-15m' },
          { ...day, metric: 'distance-over-30m' },
          { ...day, metric: 'ground-roll', footing: 'as-flown' },
        ],
        conditions: [],
        categories: [],
        card: '',
        sheet: '',
      },
      context('us'),
    );
    assert.match(text, /\| Distance over 50 ft \| a \| b \|/);
    assert.match(text, /\| Distance over 100 ft \|/);
    assert.match(text, /\| Ground roll, as flown \|/);
  });

  it('says when no envelope was given to check against', () => {
    const balance = { massKg: 500, cgM: 0.5, massSigmaKg: 1, cgSigmaM: 0.01, momentKgM: 250 };
    const loading = {
      states: [
        {
          id: 'a',
          kind: 'configuration',
          remarks: [],
          adverse: [],
          loadings: [{ name: 'alone', cases: [{ name: 'take-off', balance, loads: [], remarks: [] }] }],
        },
      ],
    } as unknown as NonNullable<DecisionResult['loading']>;
    assert.match(loadingSection(loading, context()), /No envelope is stated/);
  });
});
