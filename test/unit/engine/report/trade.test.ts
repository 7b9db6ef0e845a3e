import assert from 'node:assert/strict';
import type { Verdict } from '../../../../src/engine/compare/result.ts';
import { tradeOf, tradeSentences } from '../../../../src/engine/report/index.ts';
import { metricOf } from './several-results.ts';

const pairs = (ab: Verdict, ac: Verdict, bc: Verdict) =>
  [
    { from: 'a', to: 'b', verdict: ab },
    { from: 'a', to: 'c', verdict: ac },
    { from: 'b', to: 'c', verdict: bc },
  ] as const;
const none = 'no difference shown';
const roll = (...verdicts: [Verdict, Verdict, Verdict]) =>
  metricOf('ground-roll', { a: 200, b: 220, c: 260 }, pairs(...verdicts));
const speed = (...verdicts: [Verdict, Verdict, Verdict]) =>
  metricOf('level-speed', { a: 50, b: 51, c: 54 }, pairs(...verdicts));
const titles = (metric: string): string => (metric === 'ground-roll' ? 'Ground roll' : 'Level speed');

describe('the trade between metrics', () => {
  it('is told for a pair of which each is shown better in something', () => {
    const trade = tradeOf([roll(none, 'longer', none), speed(none, 'higher', none)]);
    assert.ok(trade);
    assert.deepEqual(trade.exchanges, [
      { between: ['a', 'c'], firstBetter: ['ground-roll'], secondBetter: ['level-speed'] },
    ]);
    assert.equal(trade.leader, undefined);
    assert.deepEqual(tradeSentences(trade, titles), [
      'Between "a" and "c" it is a trade: "a" is shown better in ground roll, "c" in level speed.',
    ]);
  });

  it('means in opposite orders are no trade while no difference is shown', () => {
    const trade = tradeOf([roll(none, none, none), speed(none, none, none)]);
    assert.ok(trade);
    assert.deepEqual(trade.exchanges, []);
    assert.match(tradeSentences(trade, titles)[0], /^No configuration is shown to pay/);
  });

  it('one that is shown better than each other in something and worse in nothing is named, without a claim that the rest is equal', () => {
    const trade = tradeOf([roll('longer', 'longer', none), speed(none, none, none)]);
    assert.equal(trade?.leader, 'a');
    assert.ok(trade);
    assert.match(tradeSentences(trade, titles)[0], /shown worse in none; not shown is not the same as none/);
    // Worse than "c" in speed: no leader any more, but a trade.
    assert.equal(tradeOf([roll('longer', 'longer', none), speed(none, 'higher', none)])?.leader, undefined);
  });

  it('needs two metrics with a good direction, and two configurations known in both', () => {
    assert.equal(tradeOf([roll(none, none, none)]), undefined);
    const neither = metricOf('liftoff-speed', { a: 25, b: 26, c: 27 }, pairs('higher', 'higher', 'higher'));
    assert.equal(tradeOf([roll(none, none, none), neither]), undefined);
    const few = 'too few flights';
    assert.equal(tradeOf([roll(none, few, few), speed(few, none, few)]), undefined);
    assert.deepEqual(tradeOf([roll(none, few, few), speed(none, none, none)])?.ids, ['a', 'b']);
  });
});
