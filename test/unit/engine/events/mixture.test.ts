import { equal, ok } from 'node:assert/strict';
import { summarise } from '../../../../src/engine/events/mixture.ts';
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
