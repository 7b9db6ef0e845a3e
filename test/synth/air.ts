/**
 * The air column over the simulated field: own implementation, integrated hydrostatically in small steps so that any
 * lapse rate, inversion and humidity can be flown. Heights are metres above mean sea level.
 *
 * Constants: US Standard Atmosphere 1976 sea-level values and gas constant (from memory, checked by its level table in
 * the tests). Saturation vapour pressure: A. L. Buck's 1996 equation (from memory).
 */
const gravityMps2 = 9.80665;
const gasConstant = 287.05287;
const standardPressurePa = 101325;
const standardTemperatureK = 288.15;
const standardLapseKpm = 0.0065;
/** Gas constant x lapse / gravity: exponent of the altimeter's calibration. */
const altimeterExponent = (gasConstant * standardLapseKpm) / gravityMps2;

export const standardDensity = standardPressurePa / (gasConstant * standardTemperatureK);

export interface AirColumn {
  readonly fieldElevationM: number;
  readonly fieldTemperatureK: number;
  /** Kelvin lost a metre of height outside an inversion. */
  readonly lapseKpm: number;
  readonly altimeterSettingPa: number;
  readonly relativeHumidity: number;
  /** A layer in which it gets warmer with height. */
  readonly inversion?: { readonly baseM: number; readonly topM: number; readonly gainK: number };
}

/** Station pressure of a field whose altimeter, set to `altimeterSettingPa`, reads its elevation. */
export function pressureFromAltimeterSetting(altimeterSettingPa: number, elevationM: number): number {
  const base = (altimeterSettingPa / standardPressurePa) ** altimeterExponent;
  return (
    standardPressurePa * (base - (standardLapseKpm * elevationM) / standardTemperatureK) ** (1 / altimeterExponent)
  );
}

/** What an altimeter set to 1013.25 hPa reads at that pressure, metres. */
export function pressureAltitude(pressurePa: number): number {
  return (standardTemperatureK / standardLapseKpm) * (1 - (pressurePa / standardPressurePa) ** altimeterExponent);
}

/** Height in the standard atmosphere at which the density is the one given, metres. */
export function densityAltitude(densityKgM3: number): number {
  const exponent = altimeterExponent / (1 - altimeterExponent);
  return (standardTemperatureK / standardLapseKpm) * (1 - (densityKgM3 / standardDensity) ** exponent);
}

/** Saturation vapour pressure over water, pascal. */
export function saturationVapourPressure(temperatureK: number): number {
  const celsius = temperatureK - 273.15;
  return 611.21 * Math.exp((18.678 - celsius / 234.5) * (celsius / (257.14 + celsius)));
}

/** Temperature at which air of that vapour pressure is saturated, kelvin (bisection on the same equation). */
export function dewPoint(vapourPressurePa: number): number {
  let low = 213;
  let high = 323;
  for (let i = 0; i < 50; i++) {
    const middle = (low + high) / 2;
    if (saturationVapourPressure(middle) < vapourPressurePa) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

const stepM = 20;
const belowFieldM = 200;
const depthM = 6500;

export class Air {
  private readonly bottomM: number;
  private readonly temperatures: Float64Array;
  private readonly pressures: Float64Array;
  /** Vapour pressure as a share of the pressure: the same at all heights (well mixed, no cloud). */
  readonly vapourShare: number;
  // The state at the height last asked for.
  pressurePa = 0;
  temperatureK = 0;
  densityKgM3 = 0;
  /** Density of the dry part: what an engine can burn. */
  dryDensityKgM3 = 0;

  constructor(readonly column: AirColumn) {
    const field = column.fieldElevationM;
    const fieldPressure = pressureFromAltimeterSetting(column.altimeterSettingPa, field);
    this.vapourShare = (column.relativeHumidity * saturationVapourPressure(column.fieldTemperatureK)) / fieldPressure;
    this.bottomM = field - belowFieldM;
    const levels = Math.ceil((depthM + belowFieldM) / stepM) + 1;
    this.temperatures = new Float64Array(levels);
    this.pressures = new Float64Array(levels);
    for (let i = 0; i < levels; i++) this.temperatures[i] = this.temperatureAt(this.bottomM + i * stepM);
    const start = Math.round(belowFieldM / stepM);
    this.pressures[start] = fieldPressure;
    for (let i = start + 1; i < levels; i++) this.pressures[i] = this.pressures[i - 1] * this.ratioAcross(i - 1, 1);
    for (let i = start - 1; i >= 0; i--) this.pressures[i] = this.pressures[i + 1] * this.ratioAcross(i, -1);
    this.set(field);
  }

  private temperatureAt(heightM: number): number {
    const { fieldElevationM, fieldTemperatureK, lapseKpm, inversion } = this.column;
    const plain = fieldTemperatureK - lapseKpm * (heightM - fieldElevationM);
    if (!inversion || heightM <= inversion.baseM) return plain;
    const inside = Math.min(heightM, inversion.topM) - inversion.baseM;
    const depth = inversion.topM - inversion.baseM;
    return plain + inside * (lapseKpm + inversion.gainK / depth);
  }

  /** Pressure ratio across one level, with the mean virtual temperature of the layer. */
  private ratioAcross(lower: number, direction: 1 | -1): number {
    const mean = (this.temperatures[lower] + this.temperatures[lower + 1]) / 2;
    const virtual = mean / (1 - 0.378 * this.vapourShare);
    return Math.exp((-direction * gravityMps2 * stepM) / (gasConstant * virtual));
  }

  /** Sets the state to that at `heightM`. */
  set(heightM: number): void {
    const place = Math.max(0, Math.min(this.pressures.length - 1.001, (heightM - this.bottomM) / stepM));
    const i = Math.floor(place);
    const part = place - i;
    this.temperatureK = this.temperatures[i] + part * (this.temperatures[i + 1] - this.temperatures[i]);
    // Second-order in the step: pressure is exponential between levels.
    const fall = this.pressures[i + 1] / this.pressures[i] - 1;
    this.pressurePa = this.pressures[i] * (1 + part * fall + (part * (part - 1) * fall * fall) / 2);
    const dry = this.pressurePa / (gasConstant * this.temperatureK);
    this.densityKgM3 = dry * (1 - 0.378 * this.vapourShare);
    this.dryDensityKgM3 = dry * (1 - this.vapourShare);
  }
}

/** Still standard air whose density at `fieldElevationM` = `densityAltitudeM`: the air of the standard answers. */
export function standardAir(densityAltitudeM: number): Air {
  return new Air({
    fieldElevationM: densityAltitudeM,
    fieldTemperatureK: standardTemperatureK - standardLapseKpm * densityAltitudeM,
    lapseKpm: standardLapseKpm,
    altimeterSettingPa: standardPressurePa,
    relativeHumidity: 0,
  });
}
