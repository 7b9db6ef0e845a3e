import { equal, ok } from 'node:assert/strict';
import { summarise, summarisePositive } from '../../../../src/engine/events/mixture.ts';
import { near } from '../../../tools/near.ts';

describe('summarise', () => {
  it('gives a normal distribution its 1.96 sigma either way', () => {
    const found = summarise([{ weight: 3, mean: 10, sigma: 2 }]);
    ok(found);
    near(found.value, 10, 1e-12);
    near(found.sigma, 2, 1e-12);
    near(found.low, 10 - 1.959964 * 2, 1e-4);
    near(found.high, 10 + 1.959964 * 2, 1e-4);
  });

  it('adds the spread of the means to the variance, and follows the skew', () => {
    const found = summarise([
      { weight: 0.9, mean: 0, sigma: 1 },
      { weight: 0.1, mean: 10, sigma: 1 },
    ]);
    ok(found);
    near(found.value, 1, 1e-12);
    near(found.sigma, Math.sqrt(1 + 0.9 * 0.1 * 100), 1e-12);
    ok(found.high > 9 && found.low > -2.2 && found.low < -1.8);
  });

  it('leaves out what is not a number, and answers nothing for nothing', () => {
    equal(summarise([{ weight: 1, mean: Number.NaN, sigma: 1 }]), undefined);
    equal(summarise([]), undefined);
    ok(
      summarise([
        { weight: 1, mean: Number.NaN, sigma: 1 },
        { weight: 1, mean: 4, sigma: 1 },
      ])?.value === 4,
    );
  });
});

describe('summarisePositive', () => {
  it('is the half-normal distribution for a part around zero', () => {
    // Mean sigma sqrt(2/pi), variance sigma^2 (1 - 2/pi), 95 % of |z| below 1.959964: a textbook distribution.
    const found = summarisePositive([{ weight: 2, mean: 0, sigma: 3 }]);
    ok(found);
    near(found.value, 3 * Math.sqrt(2 / Math.PI), 1e-9);
    near(found.sigma, 3 * Math.sqrt(1 - 2 / Math.PI), 1e-9);
    equal(found.low, 0);
    near(found.high, 3 * 1.959964, 1e-5);
  });

  it('changes nothing where zero is far away', () => {
    const parts = [
      { weight: 0.7, mean: 100, sigma: 5 },
      { weight: 0.3, mean: 120, sigma: 8 },
    ];
    const [plain, positive] = [summarise(parts), summarisePositive(parts)];
    ok(plain && positive);
    for (const key of ['value', 'sigma', 'low', 'high'] as const) near(positive[key], plain[key], 1e-6);
  });

  it('gives weight only to what is possible', () => {
    const found = summarisePositive([
      { weight: 0.5, mean: -100, sigma: 5 },
      { weight: 0.5, mean: 40, sigma: 5 },
    ]);
    ok(found);
    near(found.value, 40, 1e-6);
    equal(summarisePositive([{ weight: 1, mean: -100, sigma: 1 }]), undefined);
  });
});
