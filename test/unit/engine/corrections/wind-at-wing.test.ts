import assert from 'node:assert/strict';
import { headwindAtWing, meanWindRatio, windComponents, windRatio } from '../../../../src/engine/corrections/index.ts';
import { near } from '../../../tools/near.ts';

const degree = Math.PI / 180;

describe('wind at the wing', () => {
  it('has the components of FAA-H-8083-25C ch. 11 sample problem 10: runway 17, wind 140 degrees 25 kt', () => {
    const { headwindMps, crosswindMps } = windComponents(140 * degree, 25, 170 * degree);
    near(headwindMps, 22, 1);
    near(headwindMps, 21.65, 0.01);
    near(Math.abs(crosswindMps), 13, 1);
    near(crosswindMps, -12.5, 0.01, 'from the left');
  });

  it('falls by the logarithmic law over open grass (z0 0.03 m, Davenport-Wieringa) and lies beside the 1/7 power law', () => {
    const ratio = windRatio(2, { surface: 'grass' });
    near(ratio.value, Math.log(2 / 0.03) / Math.log(10 / 0.03), 1e-12);
    near(ratio.value, (2 / 10) ** (1 / 7), 1.1 * ratio.sigma, 'power law within one standard deviation');
    near(windRatio(10).value, 1, 1e-12);
    near(windRatio(10).sigma, 0, 1e-12);
    assert.equal(windRatio(0.01).value, 0);
  });

  it('means the ratio over the way up to a screen like a fine sum', () => {
    let sum = 0;
    const steps = 20_000;
    for (let i = 0; i < steps; i++) sum += windRatio(2 + ((i + 0.5) / steps) * 15, { surface: 'paved' }).value;
    near(meanWindRatio(2, 17, { surface: 'paved' }).value, sum / steps, 1e-6);
  });

  it('carries the error of the note and of the profile', () => {
    const wind = { fromRad: 0, speedMps: 5, sigmaMps: 1 };
    const at = headwindAtWing(wind, 0, { wingHeightM: 2 });
    const ratio = windRatio(2);
    near(at.headwindMps.value, 5 * ratio.value, 1e-12);
    near(at.headwindMps.sigma, Math.hypot(ratio.value, 5 * ratio.sigma), 1e-12);
    assert.ok(headwindAtWing(wind, 0, { wingHeightM: 2, untilM: 15 }).headwindMps.value > at.headwindMps.value);
  });

  it('remarks on gusts and on crosswind', () => {
    const { remarks } = headwindAtWing({ fromRad: Math.PI / 2, speedMps: 6, gustMps: 10, sigmaMps: 1 }, 0);
    assert.equal(remarks.length, 2);
  });
});
