import assert from 'node:assert/strict';
import { combination, integratedRandomIntercept } from '../../../../src/engine/stats/integrated-random-intercept.ts';
import { mixtureCdf, mixtureMean, mixtureQuantile } from '../../../../src/engine/stats/normal-mixture.ts';
import { studentQuantile } from '../../../../src/engine/stats/student.ts';
import { mean } from '../../../../src/engine/stats/sample.ts';
import { pooledT, welchT } from '../../../../src/engine/stats/two-sample.ts';
import { randomOf } from '../../../tools/campaign-in-memory.ts';
import { near } from '../../../tools/near.ts';

describe('random intercept with the variances integrated out', () => {
  it('one value a day: as by fine numerical integration (computed independently, SciPy)', () => {
    const fit = integratedRandomIntercept({
      y: [0.1, -0.2, 0.05, 0.3, 0.55, 0.2],
      columns: [
        [1, 1, 1, 0, 0, 0],
        [0, 0, 0, 1, 1, 1],
      ],
      group: [0, 1, 2, 3, 4, 5],
      knownVariance: [0.01, 0.02, 0.01, 0.03, 0.01, 0.02],
      shared: [],
      usualScatter: 0.15,
    });
    assert.ok(fit);
    const difference = combination(fit, [-1, 1]);
    near(mixtureMean(difference), 0.37864, 2e-4);
    near(mixtureQuantile(difference, 0.025), 0.05782, 0.002);
    near(mixtureQuantile(difference, 0.975), 0.68864, 0.002);
    near(mixtureCdf(difference, 0), 0.014495, 2e-4);
  });

  it('runs in days, a shared error, two classes: as by fine numerical integration in three dimensions (SciPy)', () => {
    const y = [0.1, 0.16, -0.2, -0.11, 0.05, 0.3, 0.42, 0.55, 0.2, 0.24];
    const fit = integratedRandomIntercept({
      y,
      columns: [y.map((_, i) => (i < 5 ? 1 : 0)), y.map((_, i) => (i < 5 ? 0 : 1))],
      group: [0, 0, 1, 1, 2, 3, 3, 4, 5, 5],
      knownVariance: y.map(() => 0.004),
      shared: [[0.05, 0.05, 0.02, 0.02, 0, -0.03, -0.03, -0.02, -0.06, -0.06]],
      scatterClass: y.map((_, i) => (i < 5 ? 0 : 1)),
      usualScatter: 0.15,
    });
    assert.ok(fit);
    const difference = combination(fit, [-1, 1]);
    near(mixtureMean(difference), 0.3907, 1e-3);
    near(mixtureQuantile(difference, 0.025), 0.07688, 0.003);
    near(mixtureQuantile(difference, 0.975), 0.6859, 0.003);
    near(mixtureCdf(difference, 0), 0.011086, 3e-4);
  });

  it('the unit is the day: runs of a day do not make the interval of the run-level test', () => {
    const before = [
      [214, 221],
      [205, 209],
      [233, 227],
    ];
    const after = [
      [181, 185],
      [199, 192],
      [176, 178],
    ];
    const days = [...before, ...after];
    const y = days.flat();
    const second = days.flatMap((day, d) => day.map(() => (d >= 3 ? 1 : 0)));
    const fit = integratedRandomIntercept({
      y,
      columns: [y.map(() => 1), second],
      group: days.flatMap((day, d) => day.map(() => d)),
      knownVariance: y.map(() => 0),
      shared: [],
      usualScatter: 12,
    });
    assert.ok(fit);
    const difference = combination(fit, [0, 1]);
    near(mixtureMean(difference), -33, 1e-6);
    const width = mixtureQuantile(difference, 0.975) - mixtureQuantile(difference, 0.025);
    const byRuns = welchT(after.flat(), before.flat()).interval;
    const byDays = pooledT(after.map(mean), before.map(mean)).interval;
    assert.ok(width > 1.25 * (byRuns.high - byRuns.low), 'not as if twelve independent values');
    assert.ok(width > 0.7 * (byDays.high - byDays.low) && width < 1.1 * (byDays.high - byDays.low));
  });

  it('with errors that are known and dominate it is the normal distribution', () => {
    const y = [0, 2, 1, 3, 4, 2, 1.5, 2.5, 0.5, 3.5, 2.2, 1.8];
    const fit = integratedRandomIntercept({
      y,
      columns: [y.map(() => 1)],
      group: y.map((_, i) => i),
      knownVariance: y.map(() => 4),
      shared: [],
      usualScatter: 0.01,
    });
    assert.ok(fit);
    const half = mixtureQuantile(combination(fit, [1]), 0.975) - mean(y);
    near(half / (1.959964 * Math.sqrt(4 / 12)), 1, 0.02);
  });

  it('an error that all values share does not average out, one of a single day does', () => {
    const y = [1, 1.1, 0.9, 1.05, 0.95, 1];
    const halfWidth = (shared: readonly number[][]): number => {
      const fit = integratedRandomIntercept({
        y,
        columns: [y.map(() => 1)],
        group: y.map((_, i) => i),
        knownVariance: y.map(() => 0.0025),
        shared,
        usualScatter: 0.05,
      });
      assert.ok(fit);
      return mixtureQuantile(combination(fit, [1]), 0.975) - mean(y);
    };
    const alone = halfWidth([]);
    assert.ok(halfWidth([y.map(() => 0.1)]) > Math.hypot(alone, 0.19));
    assert.ok(halfWidth(y.map((_, i) => y.map((_, j) => (i === j ? 0.02 : 0)))) < 1.3 * alone);
  });

  it('covers a true difference of zero 95 times in 100, whatever the days share', () => {
    // Two-sided binomial limits of 95 % with 150 trials: 88.7 to 99.3 % (three standard deviations).
    for (const [share, known] of [
      [0.1, 0.5],
      [0.7, 0.5],
    ]) {
      let covered = 0;
      const trials = 150;
      for (let seed = 1; seed <= trials; seed++) {
        const { normal } = randomOf(seed);
        const y: number[] = [];
        const group: number[] = [];
        const second: number[] = [];
        for (let day = 0; day < 8; day++) {
          const ofDay = Math.sqrt(share) * normal();
          for (let r = 0; r < 1 + (day % 2); r++) {
            y.push(ofDay + Math.sqrt(1 - share) * normal() + known * normal());
            group.push(day);
            second.push(day < 4 ? 0 : 1);
          }
        }
        const fit = integratedRandomIntercept({
          y,
          columns: [y.map(() => 1), second],
          group,
          knownVariance: y.map(() => known * known),
          shared: [],
          scatterClass: second,
          usualScatter: 1,
        });
        assert.ok(fit);
        const below = mixtureCdf(combination(fit, [0, 1]), 0);
        if (below > 0.025 && below < 0.975) covered++;
      }
      assert.ok(covered / trials > 0.887 && covered / trials <= 0.993, `${covered} of ${trials} at share ${share}`);
    }
  });
});

describe('mixtures of normal distributions', () => {
  it('one part is the normal distribution, many parts of t the t distribution', () => {
    const one = { weights: Float64Array.of(1), means: Float64Array.of(2), deviations: Float64Array.of(3) };
    near(mixtureQuantile(one, 0.975), 2 + 3 * 1.959963984540054, 1e-8);
    near(mixtureCdf(one, 2), 0.5, 1e-12);
    // Student's t with 4 degrees of freedom as a mixture over the variance 4 / chi-square(4), density u exp(-u/2) / 4.
    const parts = Array.from({ length: 4000 }, (_, i) => 0.01 * (i + 0.5));
    const density = parts.map((u) => (u * Math.exp(-u / 2)) / 4);
    const total = density.reduce((sum, value) => sum + value, 0);
    const t = {
      weights: Float64Array.from(density, (value) => value / total),
      means: new Float64Array(parts.length),
      deviations: Float64Array.from(parts, (u) => Math.sqrt(4 / u)),
    };
    near(mixtureQuantile(t, 0.975), studentQuantile(0.975, 4), 1e-3);
    assert.throws(() => mixtureQuantile(one, 1), RangeError);
  });
});
