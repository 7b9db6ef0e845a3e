import assert from 'node:assert/strict';
import * as fc from 'fast-check';
import { downsample } from '../../../shared/downsample.ts';

const xs = (n: number): Float64Array => Float64Array.from({ length: n }, (_, i) => i);

describe('downsample', () => {
  it('gives few rows as they are', () => {
    assert.deepEqual(downsample(xs(3), [5, 6, 7], 0, 2, 10), [
      { x: 0, y: 5 },
      { x: 1, y: 6 },
      { x: 2, y: 7 },
    ]);
  });

  it('keeps a single spike among 100,000 rows', () => {
    const ys = new Float64Array(100_000);
    ys[54_321] = 9;
    const points = downsample(xs(100_000), ys, 0, 99_999, 500);
    assert.ok(points.length <= 2000);
    assert.ok(points.some((point) => point.x === 54_321 && point.y === 9));
  });

  it('breaks the line at missing samples and at gaps, once each', () => {
    const ys = [1, 2, Number.NaN, Number.NaN, 3, 4];
    const line = downsample(xs(6), ys, 0, 5, 100, [5]);
    assert.deepEqual(
      line.map((point) => point.y),
      [1, 2, null, 3, null, 4],
    );
  });

  it('takes one row on either side of the view', () => {
    const line = downsample(xs(10), xs(10), 3.5, 5.5, 100);
    assert.deepEqual(
      line.map((point) => point.x),
      [3, 4, 5, 6],
    );
  });

  it('loses no extreme, no hole and no order, for any line', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.oneof(
            { weight: 9, arbitrary: fc.integer({ min: -50, max: 50 }) },
            { weight: 1, arbitrary: fc.constant(Number.NaN) },
          ),
          {
            minLength: 1,
            maxLength: 300,
          },
        ),
        fc.integer({ min: 1, max: 20 }),
        (ys, buckets) => {
          const line = downsample(xs(ys.length), ys, 0, ys.length - 1, buckets);
          const there = ys.filter((y) => !Number.isNaN(y));
          const drawn = line.flatMap((point) => (point.y === null ? [] : [point.y]));
          if (there.length > 0) {
            assert.equal(Math.max(...drawn), Math.max(...there));
            assert.equal(Math.min(...drawn), Math.min(...there));
          }
          assert.ok(drawn.length <= Math.max(there.length, 4 * (buckets + 2)));
          for (let i = 1; i < line.length; i++) assert.ok(line[i].x >= line[i - 1].x);
          // Between two drawn neighbours without a break there is no missing sample.
          for (let i = 1; i < line.length; i++) {
            if (line[i].y === null || line[i - 1].y === null) continue;
            for (let row = line[i - 1].x; row <= line[i].x; row++) assert.ok(!Number.isNaN(ys[row]));
          }
        },
      ),
      { seed: 7, numRuns: 300 },
    );
  });
});
