import {
  calibratedFromTrueMps,
  densityKgM3,
  densityRatio,
  equivalentFromTrueMps,
  pressureAtPressureAltitudePa,
  trueFromCalibratedMps,
  trueFromEquivalentMps,
} from '../../../../src/engine/atmosphere/index.ts';
import { near } from '../../../tools/near.ts';

const footM = 0.3048;
const knotMps = 1852 / 3600;

/** Formulas of the flight-test reference handbook (SFTE, 2013) ch. 4; values computed independently. */
describe('airspeeds', () => {
  it('turns calibrated into true and equivalent airspeed', () => {
    const pressurePa = pressureAtPressureAltitudePa(5000 * footM);
    const tas = trueFromCalibratedMps(120 * knotMps, pressurePa, 293.15);
    const density = densityKgM3({ pressurePa, temperatureK: 293.15 });
    near(tas / knotMps, 132.58, 0.01);
    near(equivalentFromTrueMps(tas, density) / knotMps, 119.9, 0.01);
    near(120 / Math.sqrt(densityRatio({ pressurePa, temperatureK: 293.15 })), 132.69, 0.01);
    near(trueFromEquivalentMps(equivalentFromTrueMps(tas, density), density), tas, 1e-9);
  });

  it('does so at 8,000 ft, 5 degrees C and at sea level', () => {
    const highPa = pressureAtPressureAltitudePa(8000 * footM);
    near(trueFromCalibratedMps(100 * knotMps, highPa, 278.15) / knotMps, 113.89, 0.01);
    near(trueFromCalibratedMps(65 * knotMps, 101_325, 288.15) / knotMps, 65, 0.01);
  });

  it('goes both ways', () => {
    const pressurePa = pressureAtPressureAltitudePa(3000);
    for (const cas of [20, 40, 80]) {
      near(calibratedFromTrueMps(trueFromCalibratedMps(cas, pressurePa, 270), pressurePa, 270), cas, 1e-9);
    }
  });
});
