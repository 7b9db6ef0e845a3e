import assert from 'node:assert/strict';
import { densityAltitudeM, standardAtmosphere } from '../../../../src/engine/atmosphere/index.ts';
import { airAtField, uncertain } from '../../../../src/engine/corrections/index.ts';
import { near } from '../../../tools/near.ts';

const footM = 0.3048;

describe('air at the field', () => {
  it('has the sensitivities computed independently at 5,000 ft', () => {
    const noted = {
      elevationM: 5000 * footM,
      altimeterSettingPa: uncertain(101_325, 0),
      airTemperatureK: uncertain(278.24, 1),
      dewPointK: uncertain(223.15, 0),
    };
    near(airAtField(noted).densityAltitudeM.sigma / footM, 118, 1, '1 degree C');
    // 1 hPa of altimeter setting is 27.3 ft of pressure altitude; 1 hPa at the station, up there, is 39 ft of density altitude.
    const setting = airAtField({
      ...noted,
      altimeterSettingPa: uncertain(101_325, 100),
      airTemperatureK: uncertain(278.24, 0),
    });
    near(setting.pressureAltitudeM.sigma / footM, 27.3, 0.1);
    const station = (shiftPa: number): number =>
      densityAltitudeM({ pressurePa: standardAtmosphere(5000 * footM).pressurePa + shiftPa, temperatureK: 278.24 });
    near((station(-50) - station(50)) / footM, 39, 0.5);
    near(setting.densityAltitudeM.sigma / footM, 39 * standardAtmosphere(5000 * footM).densityRatio, 0.5);
    near(airAtField(noted).densityAltitudeM.value / footM, 5000, 10);
  });

  it('says that it is dry where no dew point was noted, and allows for damp air', () => {
    const air = airAtField({
      elevationM: 0,
      altimeterSettingPa: uncertain(101_325, 0),
      airTemperatureK: uncertain(303.15, 0),
    });
    assert.equal(air.remarks.length, 1);
    // 50 % humidity at 30 degrees C is worth about 270 ft of density altitude.
    near(air.densityAltitudeM.sigma / footM, 270, 25);
  });

  it('survives a dew point above the air by an error of noting', () => {
    const air = airAtField({
      elevationM: 0,
      altimeterSettingPa: uncertain(101_325, 100),
      airTemperatureK: uncertain(288.15, 1),
      dewPointK: uncertain(288.15, 1),
    });
    assert.ok(Number.isFinite(air.densityRatio.sigma));
  });
});
