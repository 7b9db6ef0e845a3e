import assert from 'node:assert/strict';
import type { Change } from '../../../../src/engine/compare/result.ts';
import { cautionsOf } from '../../../../src/engine/report/index.ts';

describe('report: cautions of a metric', () => {
  const change = (from: string, to: string, ...warnings: string[]): Change => ({
    from,
    to,
    verdict: 'no difference shown',
    moreDays: null,
    sentence: '',
    warnings,
  });

  it('names the pair where a caution is not one of all', () => {
    assert.deepEqual(
      cautionsOf([
        change('fine', 'middle', 'The days are few.', 'Four runs are corrected.'),
        change('fine', 'coarse', 'The days are few.', 'Two runs are corrected'),
        change('middle', 'coarse', 'The days are few.', 'Two runs are corrected'),
      ]),
      [
        'The days are few.',
        'Four runs are corrected ("fine" and "middle").',
        'Two runs are corrected ("fine" and "coarse"; "middle" and "coarse")',
      ],
    );
  });

  it('says it once, and no pair, where there is only one', () => {
    assert.deepEqual(cautionsOf([change('before', 'after', 'a', 'a', 'b')]), ['a', 'b']);
    assert.deepEqual(cautionsOf([]), []);
  });
});
