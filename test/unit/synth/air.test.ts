import {
  Air,
  densityAltitude,
  dewPoint,
  pressureAltitude,
  pressureFromAltimeterSetting,
  saturationVapourPressure,
  standardAir,
} from '../../synth/air.ts';
import { near } from '../../tools/near.ts';

const footM = 0.3048;

describe('synth/air', () => {
  it('integrates to the standard atmosphere (FAA-H-8083-25C fig. 11-2)', () => {
    const air = standardAir(0);
    for (const [feet, inHg, celsius] of [
      [0, 29.92, 15],
      [2000, 27.82, 11],
      [5000, 24.896, 5.1],
      [10_000, 20.577, -4.8],
    ]) {
      air.set(feet * footM);
      near(air.pressurePa / 3386.389, inHg, 0.006, `pressure at ${feet} ft`);
      near(air.temperatureK - 273.15, celsius, 0.06, `temperature at ${feet} ft`);
    }
  });

  it('has the density of the standard level table at 5,000 ft (computed independently: 1.05555 kg/m3)', () => {
    const air = standardAir(0);
    air.set(5000 * footM);
    near(air.densityKgM3, 1.05555, 2e-5);
    near(densityAltitude(air.densityKgM3), 5000 * footM, 0.5);
  });

  it('an altimeter set to QNH reads the elevation (FAA-H-8083-25C sample problem 1: 5,883 ft, 30.10 inHg, PA 5,718 ft)', () => {
    const pressure = pressureFromAltimeterSetting(30.1 * 3386.389, 5883 * footM);
    near(pressureAltitude(pressure) / footM, 5718, 1);
  });

  it('damp air is lighter: 30 C, dew point 25 C at PA 1.2 ft is 2,125 ft density altitude (computed independently)', () => {
    const pressure = 101_325 * (1 - 1.2 / 145_442.156) ** 5.25588;
    const share = saturationVapourPressure(298.15) / saturationVapourPressure(303.15);
    const air = new Air({
      fieldElevationM: 0,
      fieldTemperatureK: 303.15,
      lapseKpm: 0.0065,
      altimeterSettingPa: pressure,
      relativeHumidity: share,
    });
    air.set(0);
    // Buck's vapour pressure against Magnus': a few feet.
    near(densityAltitude(air.densityKgM3) / footM, 2125, 8);
    near(dewPoint(saturationVapourPressure(298.15)), 298.15, 0.01);
  });

  it('an inversion warms upward and keeps the column in balance', () => {
    const air = new Air({
      fieldElevationM: 100,
      fieldTemperatureK: 280,
      lapseKpm: 0.0065,
      altimeterSettingPa: 102_000,
      relativeHumidity: 0,
      inversion: { baseM: 400, topM: 600, gainK: 3 },
    });
    air.set(600);
    near(air.temperatureK, 280 - 0.0065 * 300 + 3, 1e-9);
    // Hydrostatic: dp/dh = -rho g, by a central difference.
    air.set(510);
    const above = air.pressurePa;
    air.set(490);
    const below = air.pressurePa;
    air.set(500);
    near((above - below) / 20 / (-air.densityKgM3 * 9.80665), 1, 2e-4);
  });
});
