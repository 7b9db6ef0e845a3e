import assert from 'node:assert/strict';
import {
  densityAltitudeM,
  densityAltitudeNwsM,
  densityKgM3,
  densityRatio,
  pressureAtPressureAltitudePa,
  standardAtmosphere,
  vapourPressureNwsPa,
  vapourPressurePa,
  virtualTemperatureK,
} from '../../../../src/engine/atmosphere/index.ts';
import { near } from '../../../tools/near.ts';

const footM = 0.3048;
const inchOfMercuryPa = 3386.389;
const kelvin = (celsius: number): number => celsius + 273.15;

describe('density altitude', () => {
  it('reads the chart of FAA-H-8083-25C ch. 11 sample problem 1: PA 5,718 ft, 70 degrees F, about 7,700 ft', () => {
    const air = { pressurePa: pressureAtPressureAltitudePa(5718 * footM), temperatureK: kelvin((70 - 32) / 1.8) };
    near(densityAltitudeM(air) / footM, 7700, 100);
    near(densityAltitudeM(air) / footM, 7709, 1); // computed independently
  });

  it('is above 7,000 ft at 5,000 ft and ISA+20 (FAA-H-8083-25C ch. 11); 7,272 ft computed independently', () => {
    const { pressurePa, temperatureK } = standardAtmosphere(5000 * footM);
    const air = { pressurePa, temperatureK: temperatureK + 20 };
    assert.ok(densityAltitudeM(air) / footM > 7000);
    near(densityAltitudeM(air) / footM, 7272, 1);
    near(densityRatio(air), 0.80389, 1e-5);
  });

  it('is zero on a standard day and equals pressure altitude at standard temperature', () => {
    for (const heightM of [0, 500, 3000]) near(densityAltitudeM(standardAtmosphere(heightM)), heightM, 0.05);
  });

  it('gives the closed form of the US National Weather Service as a cross-check, and its known excess', () => {
    const cases: readonly (readonly [number, number, number | undefined, number, number])[] = [
      [30, 24.9, undefined, 7809.4, 7795.4],
      [30, 24.9, 20, 8149.0, 8135.2],
      [35, 29.92, 25, 2691.8, 2675.2],
      [15, 29.92, undefined, 19.5, 1.4],
      [-10, 29.92, undefined, -3113.6, -3133.4],
    ];
    for (const [celsius, inches, dewCelsius, formFt, exactFt] of cases) {
      const air = {
        pressurePa: inches * inchOfMercuryPa,
        temperatureK: kelvin(celsius),
        dewPointK: dewCelsius === undefined ? undefined : kelvin(dewCelsius),
      };
      near(densityAltitudeNwsM(air) / footM, formFt, 0.1);
      // The exact inversion uses the Magnus form of vapour pressure: 0.2 % more vapour moves it by less than 1 ft.
      near(densityAltitudeM(air) / footM, exactFt, 1);
    }
  });

  it('rises by 400 ft when a hot day is damp (computed independently)', () => {
    const pressurePa = pressureAtPressureAltitudePa(1.2 * footM);
    near(densityAltitudeM({ pressurePa, temperatureK: kelvin(30) }) / footM, 1725, 1);
    near(densityAltitudeM({ pressurePa, temperatureK: kelvin(30), dewPointK: kelvin(25) }) / footM, 2125, 1);
  });

  it('has the vapour pressure and virtual temperature of the National Weather Service form', () => {
    near(vapourPressureNwsPa(kelvin(20)) / 100, 23.34, 0.01);
    near(virtualTemperatureK(kelvin(30), vapourPressureNwsPa(kelvin(20)), 24.9 * inchOfMercuryPa), 306.355, 0.01);
    near(vapourPressurePa(kelvin(20)) / vapourPressureNwsPa(kelvin(20)), 1, 0.003);
  });

  it('refuses what cannot be air', () => {
    assert.throws(() => densityKgM3({ pressurePa: 0, temperatureK: 288 }), RangeError);
    assert.throws(() => densityKgM3({ pressurePa: 101_325, temperatureK: 15 }), /wrong unit/);
    assert.throws(() => densityKgM3({ pressurePa: 101_325, temperatureK: 288, dewPointK: 295 }), /Dew point/);
  });
});
