import assert from 'node:assert/strict';
import { lastRowAtOrBefore, nearestRow, valueAt } from '../../../shared/track-columns.ts';

const times = Float64Array.of(0, 1, 2, 5, 6);

describe('track columns', () => {
  it('finds the last row at or before a time', () => {
    assert.equal(lastRowAtOrBefore(times, -1), -1);
    assert.equal(lastRowAtOrBefore(times, 0), 0);
    assert.equal(lastRowAtOrBefore(times, 4.9), 2);
    assert.equal(lastRowAtOrBefore(times, 99), 4);
    assert.equal(lastRowAtOrBefore([], 1), -1);
  });

  it('finds the nearest row, and none in an empty column', () => {
    assert.equal(nearestRow(times, 3.4), 2);
    assert.equal(nearestRow(times, 3.6), 3);
    assert.equal(nearestRow(times, -10), 0);
    assert.equal(nearestRow([], 0), -1);
  });

  it('interpolates between rows, but not across a gap, a missing sample or the ends', () => {
    const values = [0, 10, 20, 50, Number.NaN];
    assert.equal(valueAt(times, values, 1.5), 15);
    assert.equal(valueAt(times, values, 3.5), 35);
    assert.ok(Number.isNaN(valueAt(times, values, 3.5, [3])));
    assert.ok(Number.isNaN(valueAt(times, values, 5.5)));
    assert.ok(Number.isNaN(valueAt(times, values, -0.1)));
    assert.ok(Number.isNaN(valueAt(times, values, 6.1)));
  });
});
