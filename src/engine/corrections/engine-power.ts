/**
 * Full-throttle brake power of a normally aspirated engine over its sea-level value: 1.1324 sigma - 0.1324.
 * Source: flight-test reference handbook (SFTE, 2013) ch. 10. Good to a few per cent up to 15,000 ft.
 * @throws RangeError where the line gives no power (sigma below 0.117).
 */
export function normallyAspiratedPowerRatio(densityRatio: number): number {
  const ratio = 1.1324 * densityRatio - 0.1324;
  if (!(ratio > 0)) throw new RangeError(`A density ratio of ${densityRatio} is beyond the range of the power line.`);
  return ratio;
}

/**
 * Brake power at fixed manifold pressure and pressure altitude over that at the standard temperature: sqrt(T_std / T).
 * Source: flight-test reference handbook (SFTE, 2013) ch. 10; the chart rule is 1 % for 6 degrees C.
 */
export function temperaturePowerRatio(standardTemperatureK: number, temperatureK: number): number {
  return Math.sqrt(standardTemperatureK / temperatureK);
}
