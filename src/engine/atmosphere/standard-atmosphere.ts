import {
  lapseRateKPerM,
  lowestM,
  pressureExponent,
  seaLevelDensityKgM3,
  seaLevelPressurePa,
  seaLevelTemperatureK,
  tropopauseM,
} from './constants.ts';

/** State of the standard atmosphere at one height. */
export interface StandardAir {
  readonly temperatureK: number;
  readonly pressurePa: number;
  readonly densityKgM3: number;
  /** Temperature, pressure and density over their sea-level values: theta, delta, sigma. */
  readonly temperatureRatio: number;
  readonly pressureRatio: number;
  readonly densityRatio: number;
}

/** True where the formulas of this file hold: the troposphere and the lower end of the ICAO tables. */
export function isInTroposphere(heightM: number): boolean {
  return heightM >= lowestM && heightM <= tropopauseM;
}

/** Throws outside the troposphere (-5,000 m to 11,000 m = 36,089 ft): an error, not an extrapolation. */
export function requireTroposphere(heightM: number): void {
  if (!isInTroposphere(heightM)) {
    throw new RangeError(
      `Height ${heightM} m is outside the range of the standard atmosphere used here: ${lowestM} m to ${tropopauseM} m (36,089 ft).`,
    );
  }
}

/**
 * The standard atmosphere of the troposphere at a geopotential height (pressure altitude), metres:
 * theta = 1 - L h/T0, delta = theta^5.25588, sigma = theta^4.25588.
 *
 * Geometric height is larger by h^2 over the Earth's radius: 1.5 m at 3,000 m, left out.
 * Source: flight-test reference handbook (SFTE, 2013) ch. 3; FAA-H-8083-25C fig. 11-2.
 * @throws RangeError outside -5,000 m to 11,000 m.
 * @example standardAtmosphere(1524).densityRatio // 0.86167, 5,000 ft
 */
export function standardAtmosphere(heightM: number): StandardAir {
  requireTroposphere(heightM);
  const temperatureRatio = 1 - (lapseRateKPerM / seaLevelTemperatureK) * heightM;
  const pressureRatio = temperatureRatio ** pressureExponent;
  const densityRatio = temperatureRatio ** (pressureExponent - 1);
  return {
    temperatureK: seaLevelTemperatureK * temperatureRatio,
    pressurePa: seaLevelPressurePa * pressureRatio,
    densityKgM3: seaLevelDensityKgM3 * densityRatio,
    temperatureRatio,
    pressureRatio,
    densityRatio,
  };
}

/** Standard temperature at a pressure altitude, K. Not checked: linear, for use on columns. */
export function standardTemperatureK(heightM: number): number {
  return seaLevelTemperatureK - lapseRateKPerM * heightM;
}
