import { deepEqual, equal, ok } from 'node:assert/strict';
import { findCoverage } from '../../../../src/engine/track/gaps.ts';

const all = (): boolean => true;
const clock = (steps: readonly number[]): Float64Array => {
  let now = 0;
  return Float64Array.from([0, ...steps].map((step) => (now += step)));
};

describe('findCoverage', () => {
  it('calls ten missing seconds of a 1 Hz track a gap, and one or two missing seconds not', () => {
    const timeS = clock([1, 1, 1, 1, 2, 1, 1, 3, 1, 1, 1, 1, 11, 1, 1, 1]);
    const found = findCoverage(timeS, all, []);
    deepEqual(found.gaps, [{ startS: 15, endS: 26 }]);
    deepEqual(found.stretches, [
      { from: 0, to: 13 },
      { from: 13, to: 17 },
    ]);
    ok(Math.abs(found.rateHz - 1) < 1e-12);
  });

  it('does not call a recorder that slows down at rest interrupted', () => {
    const timeS = clock([15, 15, 15, 15, 15, 5, 5, 5, 5, 5, 5]);
    equal(findCoverage(timeS, all, []).gaps.length, 0);
    equal(findCoverage(clock([1, 1, 1, 1, 1, 4, 4, 4, 4, 4]), all, []).gaps.length, 0);
  });

  it('takes a run of rejected fixes as a gap', () => {
    const timeS = clock(Array.from({ length: 40 }, () => 0.2));
    const found = findCoverage(timeS, (row) => row < 10 || row > 30, []);
    equal(found.gaps.length, 1);
    deepEqual(found.stretches, [
      { from: 0, to: 10 },
      { from: 31, to: 41 },
    ]);
  });

  it('heeds a stated break only where time is missing', () => {
    const even = clock(Array.from({ length: 20 }, () => 1));
    equal(findCoverage(even, all, [10]).gaps.length, 0);
    equal(findCoverage(clock([1, 1, 1, 1, 1, 3, 1, 1, 1, 1, 1]), all, [6]).gaps.length, 1);
  });

  it('answers nothing for no fix', () => {
    deepEqual(findCoverage(clock([1, 1]), () => false, []).stretches, []);
  });
});
