import assert from 'node:assert/strict';
import { studentQuantile } from '../../accuracy/print.ts';
import { binomialInterval, summarise, Tally } from '../../accuracy/tally.ts';
import { near } from '../../tools/near.ts';

describe('accuracy/tally', () => {
  it('sums up errors and coverage', () => {
    const s = summarise([
      { value: 101, low: 99, high: 103, truth: 100 },
      { value: 97, low: 96, high: 98, truth: 100 },
      { value: 202, low: 198, high: 206, truth: 200 },
    ]);
    near(s.bias, 0, 1e-12);
    near(s.rms, Math.sqrt((1 + 9 + 4) / 3), 1e-12);
    near(s.rmsRelative, Math.sqrt((1e-4 + 9e-4 + 1e-4) / 3), 1e-12);
    near(s.coverage, 2 / 3, 1e-12);
    near(s.meanHalfWidth, (2 + 1 + 4) / 3, 1e-12);
    assert.equal(s.medianAbsolute, 2);
  });

  it('interval of a share (R 4.2 prop.test without continuity correction: 15 of 20 is 0.531299 to 0.888138)', () => {
    const [low, high] = binomialInterval(15, 20);
    near(low, 0.531299, 1e-5);
    near(high, 0.888138, 1e-5);
    assert.deepEqual(binomialInterval(0, 0), [0, 1]);
    assert.equal(binomialInterval(0, 10)[0], 0);
    assert.equal(binomialInterval(10, 10)[1], 1);
  });

  it("Student's t quantiles (tables: 0.975 with 4 is 2.776445, with 10 is 2.228139, with 100 is 1.983972; 0.995 with 6 is 3.707428)", () => {
    near(studentQuantile(0.975, 4), 2.776445, 1e-5);
    near(studentQuantile(0.975, 10), 2.228139, 1e-5);
    near(studentQuantile(0.975, 100), 1.983972, 1e-5);
    near(studentQuantile(0.995, 6), 3.707428, 1e-5);
  });

  it('keeps groups apart and passes over what has no answer', () => {
    const tally = new Tally();
    tally.add('roll', 'a', { value: 1, low: 0, high: 2, truth: 1 });
    tally.add('roll', 'b', { value: 3, low: 2, high: 4, truth: 1 });
    tally.add('roll', 'b', { value: Number.NaN, low: 2, high: 4, truth: 1 });
    tally.add('roll', 'b', undefined);
    assert.equal(tally.of('roll').length, 2);
    assert.equal(tally.of('roll', (group) => group === 'a').length, 1);
    tally.count('take-off', 'a', 'found');
    tally.count('take-off', 'b', 'missed', 2);
    assert.deepEqual(tally.total('take-off'), { found: 1, missed: 2, invented: 0 });
  });
});
