import {
  densityAltitudeOfDensityM,
  densityKgM3,
  pressureAltitudeM,
  pressureAtPressureAltitudePa,
  seaLevelDensityKgM3,
  vapourPressurePa,
} from '../atmosphere/index.ts';
import { propagate } from './propagate.ts';
import { rootSumSquare, type Uncertain } from './uncertain.ts';

/** What a pilot notes of the air at the field. */
export interface NotedAir {
  readonly elevationM: number;
  readonly altimeterSettingPa: Uncertain;
  readonly airTemperatureK: Uncertain;
  readonly dewPointK?: Uncertain;
}

export interface AirAtField {
  readonly pressureAltitudeM: Uncertain;
  readonly densityRatio: Uncertain;
  readonly densityAltitudeM: Uncertain;
  readonly remarks: readonly string[];
}

function altitudeAt(densityRatio: number): number {
  return densityAltitudeOfDensityM(densityRatio * seaLevelDensityKgM3);
}

/**
 * Pressure altitude, density ratio and density altitude at a field from what was noted, with standard deviations.
 *
 * Without a dew point the air is computed dry, and the effect of 50 % relative humidity (own choice: the middle of what weather gives) is
 * added to the standard deviation, with a remark.
 * @throws RangeError for a setting or temperature that cannot be (see `atmosphere/`).
 */
export function airAtField(noted: NotedAir): AirAtField {
  const { elevationM, altimeterSettingPa, airTemperatureK, dewPointK } = noted;
  const pressure = propagate({ setting: altimeterSettingPa }, (at) => pressureAltitudeM(elevationM, at.setting));
  const density = (setting: number, temperatureK: number, dewK: number | undefined): number =>
    densityKgM3({
      pressurePa: pressureAtPressureAltitudePa(pressureAltitudeM(elevationM, setting)),
      temperatureK,
      // A dew point above the air by an error of noting means saturated air.
      dewPointK: dewK === undefined ? undefined : Math.min(dewK, temperatureK),
    }) / seaLevelDensityKgM3;
  const inputs: Record<string, Uncertain> = { setting: altimeterSettingPa, temperature: airTemperatureK };
  if (dewPointK !== undefined) inputs.dew = dewPointK;
  const moist = propagate(inputs, (at) => density(at.setting, at.temperature, at.dew));
  const remarks: string[] = [];
  let sigma = moist.sigma;
  if (dewPointK === undefined) {
    const halfSaturatedPa = 0.5 * vapourPressurePa(airTemperatureK.value);
    const pressurePa = pressureAtPressureAltitudePa(pressure.value);
    sigma = rootSumSquare([sigma, (moist.value * 0.378 * halfSaturatedPa) / pressurePa]);
    remarks.push('No dew point was noted: density computed for dry air; moist air is lighter.');
  }
  const slope = (altitudeAt(moist.value - 1e-4) - altitudeAt(moist.value + 1e-4)) / 2e-4;
  return {
    pressureAltitudeM: { value: pressure.value, sigma: pressure.sigma },
    densityRatio: { value: moist.value, sigma },
    densityAltitudeM: { value: altitudeAt(moist.value), sigma: slope * sigma },
    remarks,
  };
}
