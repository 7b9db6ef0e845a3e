import type { AmbientAir } from './density.ts';
import { virtualTemperatureK } from './density.ts';
import { vapourPressureNwsPa } from './vapour-pressure.ts';

/**
 * Density altitude by the closed form of the US National Weather Service, metres:
 * 145,366 ft x (1 - (17.326 p[inHg] / T[Rankine])^0.235) at the virtual temperature.
 * Only a cross-check: it gives 19.5 ft, not zero, on a standard day at sea level.
 */
export function densityAltitudeNwsM(air: AmbientAir): number {
  const pascalPerInchOfMercury = 3386.389;
  const vapourPa = air.dewPointK === undefined ? 0 : vapourPressureNwsPa(air.dewPointK);
  const virtualK = virtualTemperatureK(air.temperatureK, vapourPa, air.pressurePa);
  const rankine = 1.8 * (virtualK - 273.15) + 32 + 459.69;
  const feet = 145_366 * (1 - ((17.326 * air.pressurePa) / pascalPerInchOfMercury / rankine) ** 0.235);
  return feet * 0.3048;
}
