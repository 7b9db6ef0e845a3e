import assert from 'node:assert/strict';
import { compare } from '../../../../src/engine/compare/index.ts';
import { campaignInMemory, type CampaignOptions } from '../../../tools/campaign-in-memory.ts';

/**
 * A small part of what was measured with 1,000 campaigns each. Limits are three binomial standard deviations about 95 % for the number of
 * campaigns run here.
 */
const cases: readonly (readonly [string, CampaignOptions])[] = [
  ['nothing changed, weather fakes a change', { days: [5, 5], runsADay: [1, 2], change: 0, weather: 'faking' }],
  [
    '12 % shorter, fair weather',
    { days: [7, 7], runsADay: [1, 1], change: -0.12, weather: 'fair', liftoffSigmaS: 0.1 },
  ],
  [
    'rolling starts, wet grass, holes in the notes',
    { days: [4, 6], runsADay: [1, 2], change: 0.1, weather: 'faking', rollingShare: 0.15, wetShare: 0.3, holes: 0.04 },
  ],
];
const campaigns = 50;

describe('the comparison keeps its word', () => {
  for (const [name, options] of cases) {
    it(`${name}: 95 % intervals hold the true change`, () => {
      let asked = 0;
      let held = 0;
      let wrong = 0;
      for (let seed = 1; seed <= campaigns; seed++) {
        const { spec, flights } = campaignInMemory(seed, options);
        const [change] =
          compare(spec, flights).metrics.find(({ conditions }) => conditions === 'equal-weight')?.changes ?? [];
        if (change?.percent === undefined) continue;
        asked++;
        const truth = 100 * options.change;
        if (change.percent.low <= truth && truth <= change.percent.high) held++;
        const right = truth < 0 ? 'shorter' : truth > 0 ? 'longer' : 'no difference shown';
        if (change.verdict !== 'no difference shown' && change.verdict !== right) wrong++;
      }
      assert.ok(asked > 0.9 * campaigns, `${asked} campaigns could be judged`);
      const spread = 3 * Math.sqrt((0.95 * 0.05) / asked);
      assert.ok(held / asked > 0.95 - spread, `${held} of ${asked}`);
      assert.ok(wrong / asked < 0.05 + spread, `${wrong} false verdicts of ${asked}`);
    });
  }
});
