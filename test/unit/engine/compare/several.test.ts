import assert from 'node:assert/strict';
import { compare } from '../../../../src/engine/compare/index.ts';
import type { ComparisonResult, MetricResult } from '../../../../src/engine/compare/result.ts';
import { linearRegression } from '../../../../src/engine/stats/linear-regression.ts';
import type { AnalysedFlight } from '../../../../src/engine/compare/flight.ts';
import { campaignInMemory } from '../../../tools/campaign-in-memory.ts';
import { threeSettings, type ThreeSettings } from '../../../tools/three-settings.ts';

const alike: ThreeSettings = { days: 4, factors: [1, 1, 1] };

function rolls(seed: number, options: ThreeSettings): MetricResult {
  const { spec, flights } = threeSettings(seed, options);
  const result: ComparisonResult = compare(spec, flights);
  const found = result.metrics.find(({ conditions }) => conditions === 'equal-weight');
  assert.ok(found);
  return found;
}

describe('three configurations', () => {
  it('all pairs share one level: three alike configurations hardly ever give a difference among them', () => {
    let plain = 0;
    let alarms = 0;
    const campaigns = 24;
    for (let seed = 1; seed <= campaigns; seed++) {
      const { changes } = rolls(seed, alike);
      assert.equal(changes.length, 3);
      if (changes.some(({ verdict }) => verdict !== 'no difference shown')) alarms++;
      if (changes.some(({ pValue = 1 }) => pValue < 0.05)) plain++;
    }
    // At 5 % of campaigns, five or more of twenty-four come up once in 160 times (binomial distribution).
    assert.ok(alarms <= 4, `${alarms} of ${campaigns}`);
    assert.ok(alarms <= plain, 'allowing for the three pairs never adds a finding');
  });

  it('the level of the most certain of three pairs is a third of 5 %, as Holm (1979) has it', () => {
    const { changes } = rolls(3, alike);
    const levels = changes.map(({ confidence = Number.NaN }) => confidence);
    // None was found: all were tested at the first step.
    for (const level of levels) assert.ok(Math.abs(level - (1 - 0.05 / 3)) < 1e-12, String(level));
  });

  it('against the baseline only: two pairs, which share the level of two', () => {
    const { changes } = rolls(3, { ...alike, pairs: 'against-baseline' });
    assert.deepEqual(
      changes.map(({ from, to }) => [from, to]),
      [
        ['before', 'after'],
        ['before', 'third'],
      ],
    );
    for (const { confidence = Number.NaN } of changes) assert.ok(Math.abs(confidence - 0.975) < 1e-12);
  });

  it('what the baseline errs is not counted twice: the other pair does not hang on it', () => {
    const { changes } = rolls(7, { ...alike, days: 8 });
    const [ab, ac, bc] = changes.map(({ percentAlone }) => Math.log1p((percentAlone?.value ?? Number.NaN) / 100));
    assert.ok(Math.abs(ac - ab - bc) < 1e-9, 'the three changes close');
  });
});

describe('a metric along the setting', () => {
  const along: ThreeSettings = { days: 5, factors: [1, 0.9, 0.81], settings: [19, 16.5, 14], liftoffSigmaS: 0.05 };

  it('is the least-squares line through the means on the scale of the metric (regression tested against NIST StRD)', () => {
    const result = rolls(5, along);
    const trend = result.alongSetting;
    assert.ok(trend);
    assert.deepEqual(
      trend.settings.map(({ id }) => id),
      ['third', 'after', 'before'],
    );
    const x = trend.settings.map(({ value }) => value);
    const y = trend.settings.map(({ id }) =>
      Math.log(result.configurations.find((one) => one.id === id)?.mean?.value ?? Number.NaN),
    );
    const line = linearRegression(y, [{ name: 'setting', values: x }]);
    assert.ok(line.determined);
    const slope = line.coefficients[1].value;
    assert.ok(Math.abs(trend.slope.value - 100 * Math.expm1(slope)) < 1e-6, `${trend.slope.value}`);
    assert.equal(trend.slopeIn, 'percent');
  });

  it('finds a tenth every 2.5 deg, which is 4.3 % per deg, and no bend', () => {
    const truth = 100 * Math.expm1(Math.log(1 / 0.9) / 2.5);
    let inside = 0;
    let bends = 0;
    const campaigns = 12;
    for (let seed = 1; seed <= campaigns; seed++) {
      const trend = rolls(seed, along).alongSetting;
      assert.ok(trend);
      if (trend.slope.low <= truth && truth <= trend.slope.high) inside++;
      if (trend.bends) bends++;
    }
    // Of twelve, eight or fewer inside, or four or more bends, come up once in 400 times each (binomial distribution).
    assert.ok(inside >= 9, `${inside} of ${campaigns} hold the truth`);
    assert.ok(bends <= 3, `${bends} of ${campaigns} bend`);
  });

  it('a middle setting far off the line bends: then no line is drawn', () => {
    const trend = rolls(5, { ...along, factors: [1, 0.6, 1] }).alongSetting;
    assert.equal(trend?.bends, true);
    assert.deepEqual(trend?.line, []);
  });

  it('two different settings are too few for a line', () => {
    assert.equal(rolls(5, { ...along, settings: [19, 14, 14] }).alongSetting, undefined);
  });
});

describe('two weights', () => {
  /** A campaign without a change: its flights by the noted weight, each judged at the mean weight of its own. */
  function byWeight(seed: number): { readonly metrics: readonly MetricResult[]; readonly massesKg: readonly number[] } {
    const { spec, flights } = campaignInMemory(seed, {
      days: [9, 9],
      runsADay: [1, 1],
      change: 0,
      weather: 'fair',
      liftoffSigmaS: 0.05,
    });
    const massOf = (flight: AnalysedFlight): number => flight.entry.conditions.takeoffMassKg?.value ?? Number.NaN;
    const middle = 725;
    const ids = ['light', 'heavy'];
    const split = flights.map((flight) => ({
      ...flight,
      entry: { ...flight.entry, configuration: massOf(flight) < middle ? 'light' : 'heavy' },
    }));
    const massesKg = ids.map((id) => {
      const own = split.filter(({ entry }) => entry.configuration === id).map(massOf);
      return own.reduce((sum, value) => sum + value, 0) / own.length;
    });
    const configurations = ids.map((id, index) => ({ id, massKg: massesKg[index] }));
    const questions = {
      ask: [{ metric: 'ground-roll', primary: true }],
      at: ['own-weight', 'equal-weight'] as const,
    };
    return { metrics: compare({ ...spec, configurations, baseline: 'light', questions }, split).metrics, massesKg };
  }

  it('at own weight the effect of the weight is found, at equal weight nothing is left of it', () => {
    let holds = 0;
    let alarms = 0;
    let cautioned = 0;
    const campaigns = 12;
    for (let seed = 1; seed <= campaigns; seed++) {
      const { metrics, massesKg } = byWeight(seed);
      const own = metrics.find(({ conditions }) => conditions === 'own-weight')?.changes[0];
      const equal = metrics.find(({ conditions }) => conditions === 'equal-weight')?.changes[0];
      assert.ok(own?.percent && equal?.percent);
      // The law of the simulated rolls: weight to the power 2.4, give or take 0.15 (SFTE reference handbook, 2013, ch. 12).
      const truth = 100 * ((massesKg[1] / massesKg[0]) ** 2.4 - 1);
      assert.ok(truth > 15, 'the weights differ enough to matter');
      if (own.percent.low <= truth && truth <= own.percent.high) holds++;
      if (equal.verdict !== 'no difference shown') alarms++;
      assert.ok(own.percent.value > equal.percent.value + 10);
      assert.ok(
        own.warnings.every((warning) => !/ranges of weight/.test(warning)),
        own.warnings.join(),
      );
      if (equal.warnings.some((warning) => /ranges of weight/.test(warning))) cautioned++;
      assert.match(own.sentence, /^Ground roll at own weight: /);
    }
    // Eight or fewer of twelve, and four or more false alarms, come up once in 400 times each (binomial distribution).
    assert.ok(holds >= 9, `${holds} of ${campaigns} hold the truth`);
    assert.ok(alarms <= 3, `${alarms} of ${campaigns} at equal weight`);
    assert.ok(cautioned > 0, 'at equal weight the ranges of weight are told where they lie apart');
  });

  it('says at which weights', () => {
    const [own] = byWeight(1).metrics.filter(({ conditions }) => conditions === 'own-weight');
    assert.match(own.at, /each configuration's own weight \(\d+ kg "light" and \d+ kg "heavy"\)/);
  });
});
