import assert from 'node:assert/strict';
import { benjaminiHochberg, holm } from '../../../../src/engine/stats/adjust-p-values.ts';
import {
  daysNeeded,
  daysNeededExact,
  detectableDifference,
  powerOfDays,
  standardErrorOfDifference,
} from '../../../../src/engine/stats/days-needed.ts';
import { effectiveSampleSize, lagOneCorrelation } from '../../../../src/engine/stats/effective-sample-size.ts';
import { powerOfT } from '../../../../src/engine/stats/power.ts';
import { near } from '../../../tools/near.ts';

describe('planning', () => {
  it('power and number of days (R, power.t.test)', () => {
    near(powerOfDays(20, 1, 1), 0.8689528, 1e-6);
    near(daysNeededExact(1, 1, 0.9), 22.0211, 1e-4);
  });

  it('power against high-precision integration: df 18, noncentrality 2.5', () => {
    near(powerOfT(2.5, 18), 0.657326, 1e-6);
  });

  it('smallest difference shown with 80 % power, in standard deviations (R)', () => {
    const expected = [
      [3, 3.071],
      [5, 2.024],
      [6, 1.796],
      [8, 1.507],
      [10, 1.325],
      [15, 1.06],
      [20, 0.909],
    ];
    for (const [days, ratio] of expected) near(detectableDifference(days, 1), ratio, 6e-4, `${days} days`);
  });

  it('days a side for a change and a scatter in per cent (R)', () => {
    const expected = [
      [3, 5, 7],
      [3, 10, 3],
      [5, 5, 17],
      [5, 10, 6],
      [5, 15, 4],
      [8, 5, 42],
      [8, 10, 12],
      [8, 15, 6],
      [10, 5, 64],
      [10, 10, 17],
      [10, 15, 9],
    ];
    for (const [scatter, change, days] of expected) {
      assert.equal(daysNeeded(change, { dayDeviation: scatter, runDeviation: 0 }), days, `${scatter} %, ${change} %`);
    }
  });

  it('more days, not more runs (computed independently)', () => {
    // Variances of the random-intercept example in `models.test.ts`.
    const scatter = { dayDeviation: Math.sqrt(103.75), runDeviation: Math.sqrt(14.1667) };
    near(standardErrorOfDifference(scatter, 3, 2), 8.596, 0.002);
    near(standardErrorOfDifference(scatter, 3, 4), 8.457, 0.002);
    near(standardErrorOfDifference(scatter, 6, 1), 6.269, 0.002);
    near(standardErrorOfDifference(scatter, 6, 2), 6.078, 0.002);
  });

  it('an error that all runs share sets a limit that no number of days passes', () => {
    assert.equal(daysNeeded(0.03, { dayDeviation: 0.02, runDeviation: 0.02, commonSigma: 0.02 }), undefined);
    assert.ok((daysNeeded(0.1, { dayDeviation: 0.02, runDeviation: 0.02, commonSigma: 0.02 }) ?? 99) < 10);
    assert.equal(daysNeededExact(0, 1), Number.POSITIVE_INFINITY);
  });
});

describe('several questions', () => {
  const p = [
    0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324, 0.4262, 0.5719, 0.6528, 0.759, 1,
  ];

  it('Holm (data of Benjamini and Hochberg, 1995, from memory; adjusted values R, p.adjust)', () => {
    const expected = [0.0015, 0.0056, 0.0247, 0.114, 0.2211, 0.278, 0.278, 0.278, 0.3213, 1, 1, 1, 1, 1, 1];
    holm(p).forEach((value, i) => {
      near(value, expected[i], 1e-4);
    });
    assert.equal(holm(p).filter((value) => value <= 0.05).length, 3);
  });

  it('Benjamini-Hochberg', () => {
    const expected = [
      0.0015, 0.003, 0.0095, 0.0356, 0.0603, 0.0639, 0.0639, 0.0645, 0.0765, 0.486, 0.5812, 0.7149, 0.7532, 0.8132, 1,
    ];
    benjaminiHochberg(p).forEach((value, i) => {
      near(value, expected[i], 1e-4);
    });
    assert.equal(benjaminiHochberg(p).filter((value) => value <= 0.05).length, 4);
  });

  it('keeps the order of the questions and leaves missing ones out', () => {
    assert.deepEqual(holm([0.04, Number.NaN, 0.01]), [0.04, Number.NaN, 0.02]);
    assert.deepEqual(benjaminiHochberg([0.04, 0.01, 0.03]), [0.04, 0.03, 0.04]);
  });
});

describe('correlated samples', () => {
  it('worth of n values at lag-one correlation r: n/3, n/9, n/19', () => {
    near(effectiveSampleSize(90, 0.5), 30, 1e-9);
    near(effectiveSampleSize(90, 0.8), 10, 1e-9);
    near(effectiveSampleSize(95, 0.9), 5, 1e-9);
    assert.equal(effectiveSampleSize(10, -0.3), 10);
    assert.equal(effectiveSampleSize(5, 0.99), 1);
  });

  it('lag-one correlation (computed independently, NumPy)', () => {
    near(lagOneCorrelation([1, 2, 4, 3, 5, 7]), 0.309523809524, 1e-10);
    assert.ok(Number.isNaN(lagOneCorrelation([1, 2])));
  });
});
