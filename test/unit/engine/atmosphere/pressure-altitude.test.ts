import assert from 'node:assert/strict';
import {
  pressureAltitudeM,
  pressureAltitudeOfPressureM,
  pressureAtPressureAltitudePa,
} from '../../../../src/engine/atmosphere/index.ts';
import { near } from '../../../tools/near.ts';

const footM = 0.3048;
const inchOfMercuryPa = 3386.389;
const feet = (elevationFt: number, settingPa: number): number =>
  pressureAltitudeM(elevationFt * footM, settingPa) / footM;

describe('pressure altitude', () => {
  it('gives the table of FAA-H-8083-25C fig. 11-3', () => {
    for (const [inches, expected] of [
      [28.2, 1630],
      [29.7, 205],
      [30.1, -165],
      [30.5, -531],
      [31.0, -983],
    ]) {
      near(feet(0, inches * inchOfMercuryPa), expected, 1);
    }
  });

  it('gives FAA-H-8083-25C ch. 11 sample problem 1: 5,883 ft, 30.10 inHg', () => {
    near(feet(5883, 30.1 * inchOfMercuryPa), 5718, 1);
  });

  it('agrees with values computed independently', () => {
    near(feet(1500, 103_000), 1045.6, 0.1);
    near(feet(3000, 99_500), 3502.1, 0.1);
    near(feet(0, 100_900), 116.3, 0.1);
  });

  it('is the inverse of the standard pressure', () => {
    for (const heightM of [-300, 0, 1234.5, 5000, 10_999]) {
      near(pressureAltitudeOfPressureM(pressureAtPressureAltitudePa(heightM)), heightM, 1e-6);
    }
  });

  it('refuses a setting in another unit', () => {
    assert.throws(() => pressureAltitudeM(0, 29.92), /wrong unit/);
    assert.throws(() => pressureAltitudeM(0, 1013.25), /wrong unit/);
    assert.throws(() => pressureAltitudeM(0, Number.NaN), RangeError);
    assert.throws(() => pressureAltitudeOfPressureM(0), RangeError);
  });
});
