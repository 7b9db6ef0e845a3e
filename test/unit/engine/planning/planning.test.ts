import assert from 'node:assert/strict';
import { displayUnitSets } from '../../../../shared/display-units.ts';
import {
  conditionsSheet,
  missingConditions,
  testCard,
  type FlownConditions,
} from '../../../../src/engine/planning/index.ts';

const flight = (configuration: string, day: string, densityAltitudeM: number, massKg = 780): FlownConditions => ({
  configuration,
  day,
  densityAltitudeM,
  massKg,
  headwindMps: 2,
  surface: 'grass',
  runway: '13',
});
const winterAndSummer = [
  flight('before', '2026-01-10', -300),
  flight('before', '2026-01-24', 0),
  flight('after', '2026-07-04', 900),
  flight('after', '2026-07-18', 1200),
];

describe('planning: which conditions are missing', () => {
  it('all before in winter and all after in summer: asks for a cold day after the change', () => {
    const { conditions } = missingConditions(winterAndSummer, 'before', 'after', false);
    assert.deepEqual(
      conditions.map(({ kind, configuration, from, to }) => ({ kind, configuration, from, to })),
      [{ kind: 'density-altitude', configuration: 'after', from: -300, to: 0 }],
    );
  });

  it('a reversible change can also be taken off again: asks both ways', () => {
    const { conditions } = missingConditions(winterAndSummer, 'before', 'after', true);
    assert.deepEqual(
      conditions.map((one) => one.configuration),
      ['after', 'before'],
    );
  });

  it('matched conditions ask for nothing; many runs on one day count as one day', () => {
    const matched = [
      flight('before', '2026-01-10', 100),
      flight('before', '2026-05-10', 700),
      flight('after', '2026-06-10', 700),
      flight('after', '2026-06-10', 700),
      flight('after', '2026-06-10', 700),
      flight('after', '2026-11-10', 150),
    ];
    assert.deepEqual(missingConditions(matched, 'before', 'after', true).conditions, []);
  });

  it('a surface flown only before is asked for after', () => {
    const { categories } = missingConditions(
      [...winterAndSummer, { ...flight('before', '2026-02-01', 0), surface: 'paved' }],
      'before',
      'after',
      false,
    );
    assert.deepEqual(categories, [{ kind: 'surface', configuration: 'after', value: 'paved' }]);
  });

  it('what was not noted is not guessed', () => {
    const bare = winterAndSummer.map(({ configuration, day }) => ({ configuration, day }));
    assert.deepEqual(missingConditions(bare, 'before', 'after', true), { conditions: [], categories: [] });
  });
});

describe('planning: test card and conditions sheet', () => {
  const card = testCard({
    title: 'Wing | tips <b>',
    aircraft: 'Invented',
    configuration: 'after',
    metrics: ['ground-roll', 'level-speed'],
    units: displayUnitSets.us,
    ...missingConditions(winterAndSummer, 'before', 'after', false),
    days: [{ metric: 'ground-roll', moreDays: 3 }],
  });

  it('has the steps that the asked metrics need and no others', () => {
    assert.match(card, /three headings 120 degrees apart/);
    assert.match(card, /standing start/);
    assert.doesNotMatch(card, /opposite one/);
  });

  it('says which conditions to look for, in the units asked for, and how many days', () => {
    assert.match(card, /density altitude between -984 ft and 0 ft/);
    assert.match(card, /- Ground roll: 3 more flying days in each configuration would settle it\./);
  });

  it('names the pair where there are several', () => {
    const days = [
      { metric: 'distance-over-15m', moreDays: 3, from: 'fine', to: 'coarse' },
      { metric: 'distance-over-15m', moreDays: 5, from: 'middle', to: 'coarse' },
    ];
    const text = testCard({
      title: 'T',
      aircraft: 'Invented',
      configuration: 'coarse',
      metrics: ['distance-over-15m'],
      units: displayUnitSets.us,
      conditions: [],
      categories: [],
      days,
    });
    assert.match(text, /- Distance over 50 ft, "fine" and "coarse": 3 more flying days/);
    assert.match(text, /- Distance over 50 ft, "middle" and "coarse": 5 more flying days/);
  });

  it('carries the cautions and lets no markup through', () => {
    assert.match(card, /not approved performance data/);
    assert.match(card, /licensed mechanic/);
    assert.doesNotMatch(card, /<b>/);
  });

  it('the sheet has a column a flight', () => {
    const rows = conditionsSheet('x', 4)
      .split('\n')
      .filter((line) => line.startsWith('|'));
    assert.ok(rows.length > 10);
    for (const row of rows) assert.equal(row.split('|').length, 1 + 1 + 4 + 1);
  });
});
