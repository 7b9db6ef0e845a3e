import assert from 'node:assert/strict';
import { standingOf, standingSentence } from '../../../../src/engine/compare/index.ts';
import type { Change, MetricResult, Verdict } from '../../../../src/engine/compare/result.ts';
import { metricOf } from '../report/several-results.ts';

const pair = (from: string, to: string, verdict: Verdict): Pick<Change, 'from' | 'to' | 'verdict'> => ({
  from,
  to,
  verdict,
});

function rolls(...changes: readonly Pick<Change, 'from' | 'to' | 'verdict'>[]): MetricResult {
  return metricOf('ground-roll', { a: 200, b: 220, c: 260 }, changes);
}

describe('the standing of three configurations', () => {
  it('an order of means is no finding: nothing shown, nothing said of the order', () => {
    const result = rolls(
      pair('a', 'b', 'no difference shown'),
      pair('a', 'c', 'no difference shown'),
      pair('b', 'c', 'no difference shown'),
    );
    const standing = standingOf(result);
    assert.deepEqual(standing.order, ['a', 'b', 'c']);
    assert.equal(standing.best, undefined);
    assert.deepEqual(standing.unbeaten, ['a', 'b', 'c']);
    assert.equal(standingSentence(result), 'none of the 3 configurations can be told from another.');
  });

  it('says which can be told apart and which cannot', () => {
    const result = rolls(
      pair('a', 'b', 'no difference shown'),
      pair('a', 'c', 'longer'),
      pair('b', 'c', 'no difference shown'),
    );
    assert.deepEqual(standingOf(result).unbeaten, ['a', 'b']);
    assert.equal(standingSentence(result), 'shorter with "a" than with "c". Not told apart: "a" and "b"; "b" and "c".');
  });

  it('names a best one only where it is shown better than every other', () => {
    const result = rolls(pair('a', 'b', 'longer'), pair('a', 'c', 'longer'), pair('b', 'c', 'no difference shown'));
    assert.equal(standingOf(result).best, 'a');
    assert.equal(
      standingSentence(result),
      'shorter with "a" than with each of the others. Not told apart: "b" and "c".',
    );
  });

  it('tells the whole order where every step is shown, the good end first', () => {
    const shown = rolls(pair('a', 'b', 'longer'), pair('a', 'c', 'longer'), pair('b', 'c', 'longer'));
    assert.equal(standingSentence(shown), 'shortest with "a", then "b", then "c"; every step is shown.');
    const climb = metricOf('rate-of-climb', { a: 3, b: 4, c: 5 }, [
      pair('a', 'b', 'higher'),
      pair('a', 'c', 'higher'),
      pair('b', 'c', 'higher'),
    ]);
    assert.equal(standingSentence(climb), 'highest with "c", then "b", then "a"; every step is shown.');
  });

  it('equivalent is told as that', () => {
    const result = rolls(pair('a', 'b', 'equivalent'), pair('a', 'c', 'longer'), pair('b', 'c', 'longer'));
    assert.equal(
      standingSentence(result),
      'shorter with "a" than with "c", shorter with "b" than with "c". Equivalent: "a" and "b".',
    );
    assert.equal(standingOf(result).best, undefined);
  });

  it('a configuration that could not be judged has no standing; pairs with the baseline alone make no order', () => {
    const few = rolls(pair('a', 'b', 'longer'), pair('a', 'c', 'too few flights'), pair('b', 'c', 'too few flights'));
    assert.deepEqual(standingOf(few).order, ['a', 'b']);
    assert.equal(standingSentence(few), '');
    assert.equal(standingSentence(rolls(pair('a', 'b', 'longer'), pair('a', 'c', 'longer'))), '');
  });
});
