import assert from 'node:assert/strict';
import { standardAtmosphere } from '../../../../src/engine/atmosphere/index.ts';
import { near } from '../../../tools/near.ts';

const footM = 0.3048;
const inchOfMercuryPa = 3386.389;

describe('standard atmosphere', () => {
  it('has the pressures of FAA-H-8083-25C fig. 11-2', () => {
    // 5,000 and 10,000 ft are printed truncated there (24.89, 20.57): computed 24.896 and 20.577.
    const table: readonly (readonly [number, number])[] = [
      [0, 29.92],
      [1000, 28.86],
      [2000, 27.82],
      [3000, 26.82],
      [5000, 24.9],
      [7000, 23.09],
      [8000, 22.22],
      [10_000, 20.58],
    ];
    for (const [feet, inches] of table) {
      near(standardAtmosphere(feet * footM).pressurePa / inchOfMercuryPa, inches, 0.01, `${feet} ft`);
    }
  });

  it('has the temperatures of FAA-H-8083-25C fig. 11-2', () => {
    for (const [feet, celsius] of [
      [5000, 5.1],
      [10_000, -4.8],
      [20_000, -24.6],
    ]) {
      near(standardAtmosphere(feet * footM).temperatureK - 273.15, celsius, 0.05, `${feet} ft`);
    }
  });

  it('has the ratios computed independently for 5,000 ft', () => {
    const air = standardAtmosphere(5000 * footM);
    near(air.densityRatio, 0.86167, 1e-5);
    near(air.pressureRatio, 0.83205, 1e-5);
    near(air.densityKgM3, 1.05555, 1e-5);
  });

  it('meets the level table of the US Standard Atmosphere 1976 at 11,000 m', () => {
    const air = standardAtmosphere(11_000);
    near(air.temperatureK, 216.65, 5e-4);
    near(air.pressurePa / 100, 226.32, 0.005);
    near(air.densityKgM3, 0.36392, 5e-6);
  });

  it('refuses the stratosphere and what is no height', () => {
    assert.throws(() => standardAtmosphere(11_000.1), RangeError);
    assert.throws(() => standardAtmosphere(-5001), RangeError);
    assert.throws(() => standardAtmosphere(Number.NaN), RangeError);
  });
});
