import { geometricRateFactor, standardTemperatureK } from '../../../../src/engine/atmosphere/index.ts';
import { near } from '../../../tools/near.ts';

/** Flight-test reference handbook (SFTE, 2013) ch. 12; values computed independently. */
describe('geometric rate from a pressure altitude', () => {
  it('is faster in warm air', () => {
    const heightM = 3000 * 0.3048;
    near(700 * geometricRateFactor(heightM, standardTemperatureK(heightM) + 20), 749.6, 0.1);
    near(650 * geometricRateFactor(heightM, 273.15 + 24), 684.4, 0.1);
  });

  it('is 1 at the standard temperature', () => {
    near(geometricRateFactor(2000, standardTemperatureK(2000)), 1, 1e-12);
  });
});
