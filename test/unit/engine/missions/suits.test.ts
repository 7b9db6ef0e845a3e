import assert from 'node:assert/strict';
import { type Answer, suitabilityOf } from '../../../../src/engine/missions/index.ts';

const one = (need: string, configuration: string, answer: Answer, margin?: number, predicted = false) => ({
  need,
  kind: 'strip' as const,
  configuration,
  answer,
  ...(margin === undefined ? {} : { margin }),
  factors: [],
  why: [],
  predicted,
});

describe('which configuration suits which mission', () => {
  it('lists those that do each, the greatest margin first, and those that do all', () => {
    const suits = suitabilityOf([
      one('bar', 'fine', 'yes', 40),
      one('bar', 'middle', 'yes', 90),
      one('bar', 'coarse', 'no', -30),
      one('pass', 'fine', 'not enough data', -5),
      one('pass', 'middle', 'yes', 1),
      one('pass', 'coarse', 'yes', 2),
    ]);
    assert.deepEqual(
      suits.needs.map(({ need, does }) => [need, does]),
      [
        ['bar', ['middle', 'fine']],
        ['pass', ['coarse', 'middle']],
      ],
    );
    assert.deepEqual(suits.all, ['middle']);
    assert.deepEqual(suits.needs[1].configurations[0], {
      id: 'fine',
      predicted: false,
      answer: 'not enough data',
      margin: -5,
    });
  });

  it('two needs of one name stay two, and a candidate stands last as predicted', () => {
    const suits = suitabilityOf([
      one('bar', 'plain', 'yes', 40),
      one('bar', 'plain', 'no', -1),
      one('bar', 'next', 'yes', 1, true),
      one('bar', 'next', 'yes', 3, true),
    ]);
    assert.deepEqual(
      suits.needs.map(({ does }) => does),
      [['plain', 'next'], ['next']],
    );
    assert.deepEqual(suits.configurations.at(-1), { id: 'next', predicted: true });
    assert.deepEqual(suits.all, ['next']);
  });

  it('without missions nobody does all of them', () => {
    assert.deepEqual(suitabilityOf([]), { needs: [], configurations: [], all: [] });
  });
});
