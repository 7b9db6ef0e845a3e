import assert from 'node:assert/strict';
import { confidenceText, holmLevels } from '../../../../src/engine/compare/questions.ts';
import { holm } from '../../../../src/engine/stats/adjust-p-values.ts';
import { near } from '../../../tools/near.ts';

describe('levels of several questions', () => {
  it('a single question is tested at 5 %', () => {
    assert.deepEqual(holmLevels([0.03]), [{ alpha: 0.05, pAdjusted: 0.03 }]);
  });

  it("p is adjusted as by Holm, and below its own level exactly where Holm's is below 5 %", () => {
    for (const pValues of [
      [0.001, 0.02, 0.03],
      [0.04, 0.03, 0.02, 0.01],
      [0.5, 0.0001, 0.012, 0.013, 0.2],
      [0.02, 0.02, 0.02],
      [1, 1],
    ]) {
      const levels = holmLevels(pValues);
      const adjusted = holm(pValues);
      levels.forEach(({ alpha, pAdjusted }, i) => {
        near(pAdjusted, adjusted[i], 1e-12);
        assert.equal(pValues[i] < alpha, adjusted[i] < 0.05, `${pValues.join(' ')}: ${i}`);
        assert.ok(alpha <= 0.05 && alpha >= 0.05 / pValues.length);
      });
    }
  });

  it('tells its level', () => {
    assert.equal(confidenceText(0.05), '95 %');
    assert.equal(confidenceText(0.05 / 3), '98.3 %');
    assert.equal(confidenceText(0.01), '99.0 %');
  });
});
