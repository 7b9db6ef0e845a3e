import { standardTemperatureK } from './standard-atmosphere.ts';

/**
 * Geometric rate over pressure-altitude rate: T / T_std(PA), absolute temperatures. A pressure altimeter is calibrated for the
 * standard temperature, so in warm air it climbs slower than the aeroplane. Never for a satellite height: that is geometric already.
 * Source: flight-test reference handbook (SFTE, 2013) ch. 12, first step of the climb correction.
 * @example geometricRateFactor(914.4, 297.15) // PA 3,000 ft, 24 degrees C: 1.0530
 */
export function geometricRateFactor(pressureAltitudeM: number, temperatureK: number): number {
  return temperatureK / standardTemperatureK(pressureAltitudeM);
}
