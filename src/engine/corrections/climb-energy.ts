import { gravityMps2 } from '../atmosphere/index.ts';

/**
 * Specific excess power, m/s: the rate of energy height h + V^2/2g, that is dh/dt + (V/g) dV/dt. It is the rate of climb that the aeroplane
 * would have had at constant true airspeed: zooms and decelerations drop out.
 * Source: flight-test reference handbook (SFTE, 2013) ch. 12; FAA-H-8083-25C ch. 11 for the forms of energy.
 * @param trueAirspeedMps True airspeed, not ground speed.
 * @example specificExcessPowerMps(0, 41.16, 0.2572) // 80 kt gaining 0.5 kt/s in level flight: 1.079 m/s = 212.5 ft/min
 */
export function specificExcessPowerMps(climbMps: number, trueAirspeedMps: number, accelerationMps2: number): number {
  return climbMps + (trueAirspeedMps / gravityMps2) * accelerationMps2;
}

/**
 * (V/g) dV/dh of a climb at constant equivalent airspeed in the standard atmosphere: the fraction of the rate of climb that goes into true
 * airspeed. dV/dh = -V/(2 sigma) dsigma/dh = V (n - 1) L / (2 T), with T the standard temperature.
 * @example 38.58 m/s (75 kt EAS) at 914.4 m: 0.0081
 */
export function accelerationFactor(equivalentAirspeedMps: number, pressureAltitudeM: number): number {
  const lapse = 0.0065 / 288.15;
  const temperatureRatio = 1 - lapse * pressureAltitudeM;
  const densityExponent = 4.25588;
  const trueAirspeedMps = equivalentAirspeedMps / temperatureRatio ** (densityExponent / 2);
  const gradientPerS = (trueAirspeedMps * densityExponent * lapse) / (2 * temperatureRatio);
  return (trueAirspeedMps / gravityMps2) * gradientPerS;
}

/**
 * What a headwind that grows with height adds to the measured rate of a climb at constant airspeed when the ground speed stands for the
 * airspeed, m/s: (V/g) (dVw/dh) (dh/dt). The aeroplane is carried into faster air against it and gains energy from the shear.
 * Source: flight-test reference handbook (SFTE, 2013) ch. 12.
 * @param headwindGradientPerS dVw/dh, (m/s)/m, positive for a headwind growing with height.
 */
export function windGradientRateMps(trueAirspeedMps: number, headwindGradientPerS: number, climbMps: number): number {
  return (trueAirspeedMps / gravityMps2) * headwindGradientPerS * climbMps;
}
