import assert from 'node:assert/strict';
import { decisionJson } from '../../../src/cli/decision-json.ts';
import { suitsJson } from '../../../src/cli/several-json.ts';
import type { Evaluation } from '../../../src/engine/evaluate/index.ts';

const need = { kind: 'climb' as const, factors: [], why: [], predicted: false };
const missions = [
  { ...need, need: 'pass', configuration: 'fine', answer: 'yes' as const, margin: 0.5 },
  { ...need, need: 'pass', configuration: 'coarse', answer: 'no' as const, margin: -0.2 },
];

describe('missions for machines', () => {
  it('say of each answer whether its configuration does everything', () => {
    assert.deepEqual(
      decisionJson({ missions }).missions?.map(({ configuration, doesAll }) => [configuration, doesAll]),
      [
        ['fine', true],
        ['coarse', false],
      ],
    );
  });

  it('stand as a table of needs by configurations beside the comparison, and are absent without missions', () => {
    assert.deepEqual(suitsJson({ decision: { missions } } as unknown as Evaluation), {
      needs: [
        {
          need: 'pass',
          kind: 'climb',
          configurations: [
            { id: 'fine', predicted: false, answer: 'yes', margin: 0.5 },
            { id: 'coarse', predicted: false, answer: 'no', margin: -0.2 },
          ],
          does: ['fine'],
        },
      ],
      all: ['fine'],
    });
    assert.equal(suitsJson({ decision: {} } as unknown as Evaluation), undefined);
  });
});
