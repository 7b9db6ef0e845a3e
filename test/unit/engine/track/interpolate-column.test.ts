import assert from 'node:assert/strict';
import { interpolated } from '../../../../src/engine/track/interpolate-column.ts';

const times = Float64Array.of(0, 1, 2, 3, 10, 11, 12);

describe('a column at other times', () => {
  it('is straight between neighbours and missing outside and across gaps', () => {
    const values = Float64Array.of(0, 10, 20, 30, 100, 110, 120);
    const at = Float64Array.of(-1, 0, 0.5, 2.25, 3, 3.5, 9.9, 10, 11.5, 12, 13);
    const nothing = Number.NaN;
    assert.deepEqual(
      [...interpolated(times, values, [], at)],
      [nothing, 0, 5, 22.5, 30, nothing, nothing, 100, 115, 120, nothing],
    );
  });

  it('is missing across a stated break', () => {
    const values = Float64Array.of(0, 10, 20, 30, 100, 110, 120);
    assert.deepEqual([...interpolated(times, values, [2], Float64Array.of(0.5, 1.5, 2.5))], [5, Number.NaN, 25]);
  });

  it('bridges a single missing value of an even recording', () => {
    const values = Float64Array.of(0, Number.NaN, 20, 30, Number.NaN, Number.NaN, Number.NaN);
    assert.deepEqual([...interpolated(times, values, [], Float64Array.of(1, 1.5, 11))], [10, 15, Number.NaN]);
  });

  it('takes directions the shorter way over north', () => {
    const values = Float64Array.of(6.2, 0.1, 0.2, 0.3, 1, 1, 1);
    const [at] = interpolated(times, values, [], Float64Array.of(0.5), true);
    const expected = (6.2 + 0.1 - 2 * Math.PI) / 2;
    assert.ok(Math.abs(at - expected) < 1e-12, `${at}`);
    const [back] = interpolated(times, Float64Array.of(0.1, 6.2, 0, 0, 0, 0, 0), [], Float64Array.of(0.9), true);
    assert.ok(Math.abs(back - (6.2 + 0.1 * (2 * Math.PI + 0.1 - 6.2))) < 1e-12, `${back}`);
  });
});
