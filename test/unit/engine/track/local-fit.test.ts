import { ok } from 'node:assert/strict';
import { localFit } from '../../../../src/engine/track/local-fit.ts';
import { Random } from '../../../synth/random.ts';

const whole = (length: number): { from: number; to: number }[] => [{ from: 0, to: length }];

describe('localFit', () => {
  it('reproduces a quadratic and its derivative exactly over uneven times (a property of local quadratic smoothing: Savitzky and Golay 1964)', () => {
    const random = new Random('uneven');
    const timeS = new Float64Array(200);
    for (let row = 1; row < 200; row += 1) timeS[row] = timeS[row - 1] + random.uniform(0.05, 0.6);
    const values = timeS.map((t) => 3 - 2 * t + 0.7 * t * t);
    const fit = localFit(timeS, values, whole(200), { halfWidthS: 2 });
    for (let row = 3; row < 197; row += 1) {
      ok(Math.abs(fit.value[row] - values[row]) < 1e-8 * (1 + Math.abs(values[row])), `value at ${row}`);
      ok(Math.abs(fit.slope[row] - (-2 + 1.4 * timeS[row])) < 1e-7, `slope at ${row}`);
    }
  });

  it('reproduces a straight line at the very ends', () => {
    const timeS = Float64Array.from({ length: 20 }, (_, row) => row);
    const fit = localFit(
      timeS,
      timeS.map((t) => 5 + 3 * t),
      whole(20),
      { halfWidthS: 2.5 },
    );
    for (const row of [0, 1, 18, 19]) {
      ok(Math.abs(fit.slope[row] - 3) < 1e-12);
      ok(Math.abs(fit.value[row] - (5 + 3 * row)) < 1e-12);
    }
  });

  it('never looks across a gap', () => {
    const timeS = Float64Array.from({ length: 20 }, (_, row) => (row < 10 ? row : row + 30));
    const values = timeS.map((t) => (t < 20 ? 0 : 1000));
    const fit = localFit(
      timeS,
      values,
      [
        { from: 0, to: 10 },
        { from: 10, to: 20 },
      ],
      { halfWidthS: 50 },
    );
    for (let row = 0; row < 20; row += 1) {
      ok(Math.abs(fit.slope[row]) < 1e-9, `slope ${fit.slope[row]} at ${row}`);
      ok(Math.abs(fit.value[row] - values[row]) < 1e-9);
    }
  });

  it('skips missing samples and answers NaN where too few are left', () => {
    const timeS = Float64Array.from({ length: 9 }, (_, row) => row);
    const values = timeS.map((t) => (t === 3 || t === 4 ? Number.NaN : 2 * t));
    const fit = localFit(timeS, values, whole(9), { halfWidthS: 1.5 });
    ok(Number.isNaN(fit.value[3]) && Number.isNaN(fit.slope[4]));
    ok(Math.abs(fit.slope[5] - 2) < 1e-12);
    const alone = localFit(Float64Array.of(1), Float64Array.of(7), whole(1), { halfWidthS: 2 });
    ok(Number.isNaN(alone.slope[0]));
  });
});
