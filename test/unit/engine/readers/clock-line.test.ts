import assert from 'node:assert/strict';
import { fitClockLine, stepsIn, valueAt } from '../../../../src/engine/readers/clock-line.ts';
import { leastSquaresLine } from '../../../tools/least-squares-line.ts';
import { near } from '../../../tools/near.ts';

const x = Array.from({ length: 200 }, (_, i) => i);
/** Repeatable scatter of about 0.3. */
const scatter = (i: number): number => 0.5 * Math.sin(i * i * 1.37);

describe('a robust line through time stamps', () => {
  it('is the least squares line when nothing is wrong', () => {
    const y = x.map((value) => 5 + 1.0002 * value + 1e-3 * scatter(value));
    const { line } = fitClockLine(x, y);
    const expected = leastSquaresLine(x, y);
    near(line.slope, expected.slope, 1e-7);
    near(valueAt(line, 100), expected.intercept + 100 * expected.slope, 2e-4);
  });

  it('does not follow a tenth of wrong stamps', () => {
    const y = x.map((value) => 5 + 1.0002 * value + 0.01 * scatter(value) + (value % 10 === 3 ? 40 : 0));
    const { line } = fitClockLine(x, y);
    near(line.slope, 1.0002, 3e-5);
    near(valueAt(line, 100), 105.02, 0.005);
    near(line.sigma, 0.004, 0.003);
  });

  it('gives stretches one slope and levels of their own', () => {
    const y = x.map((value) => 2 * value + (value >= 80 ? 7 : 0) + (value >= 150 ? -3 : 0));
    const { line, levels } = fitClockLine(x, y, (i) => Number(i >= 80) + Number(i >= 150));
    near(line.slope, 2, 1e-9);
    assert.deepEqual(
      levels.map((level) => Math.round(level * 1e6) / 1e6),
      [0, 7, 4],
    );
  });
});

describe('steps of a series', () => {
  const stepped = x.map((value) => 0.05 * scatter(value) + (value >= 80 ? 2 : 0) + (value >= 150 ? -1 : 0));

  it('are found where they are, in spite of scatter and single wrong values', () => {
    assert.deepEqual(stepsIn(stepped, 0.5), [80, 150]);
    assert.deepEqual(
      stepsIn(
        stepped.map((value, i) => (i % 20 === 5 ? 50 : value)),
        0.5,
      ),
      [80, 150],
    );
  });

  it('are none in scatter, drift and short bursts', () => {
    assert.deepEqual(
      stepsIn(
        x.map((value) => scatter(value)),
        1.2,
      ),
      [],
    );
    assert.deepEqual(
      stepsIn(
        x.map((value) => 0.001 * value),
        0.5,
      ),
      [],
    );
    assert.deepEqual(
      stepsIn(
        x.map((value) => (value > 50 && value < 54 ? 9 : 0)),
        0.5,
      ),
      [],
    );
    assert.deepEqual(stepsIn([], 0.5), []);
    assert.deepEqual(stepsIn([0, 0, 5, 5], 0.5), [], 'too few to tell');
  });
});
