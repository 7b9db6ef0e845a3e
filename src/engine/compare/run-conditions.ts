import type { Takeoff } from '../analysis.ts';
import {
  densityAltitudeM,
  densityRatio,
  pressureAltitudeM,
  pressureAtPressureAltitudePa,
  standardTemperatureK,
} from '../atmosphere/index.ts';
import { headwindAtWing, type Uncertain, type WindSurface } from '../corrections/index.ts';
import type { Spec, Surface } from '../spec/types.ts';
import type { AnalysedFlight } from './flight.ts';

/** A quantity of a run with the errors that it has in common with other runs, by name: shift for one standard deviation. */
export interface SharedQuantity {
  readonly value: number;
  readonly shifts: Readonly<Record<string, number>>;
  readonly remarks: readonly string[];
}

export function isKnown<T extends object>(quantity: T | string): quantity is T {
  return typeof quantity !== 'string';
}

export function totalSigma(quantity: SharedQuantity): number {
  return Math.hypot(...Object.values(quantity.shifts));
}

/** Where weather gives an altimeter setting when none was noted: standard pressure with 10 hPa, its spread at middle latitudes (common practice, no source). */
const unknownSetting: Uncertain = { value: 101_325, sigma: 1000 };

/** How far the temperature lapse of the day may be from the standard one, K/m: 1.5 K in 1,000 m (inversions and unstable layers; own judgement). */
const lapseSigmaKPerM = 0.0015;
const standardLapseKPerM = 0.0065;

/** Height of the recorder's altitude column over mean sea level: how wrong it may be when the field's elevation was not noted, m. */
const heightSigmaM: Readonly<Record<string, number>> = { msl: 15, unknown: 50, ellipsoid: 50 };

interface FieldAir {
  readonly elevationM: number;
  readonly elevationSigmaM: number;
  readonly settingPa: Uncertain;
  readonly temperatureK: Uncertain;
  readonly dewPointK?: Uncertain;
  /** Name of the notes, the same for runs that used the same ones. */
  readonly note: string;
  readonly remarks: readonly string[];
}

function firstStart(flight: AnalysedFlight): Takeoff | undefined {
  return flight.analysis?.takeoffs.find((takeoff) => takeoff.startAltitudeM !== undefined);
}

/** What is known of the air at the field; a sentence where it is not enough. */
function fieldAir(flight: AnalysedFlight): FieldAir | string {
  const { airTemperatureK, altimeterSettingPa, dewPointK, runway } = flight.entry.conditions;
  // A season is not a random error: a temperature left to a guess would be wrong for all of the winter's flights alike.
  if (airTemperatureK === undefined) return 'No air temperature was noted, so the air density is not known.';
  const remarks: string[] = [];
  let elevationM = runway?.elevationM;
  let elevationSigmaM = 3;
  if (elevationM === undefined) {
    const recorded = firstStart(flight)?.startAltitudeM;
    const kind = flight.analysis?.recording.altitudeKinds[0] ?? 'unknown';
    if (recorded === undefined || kind === 'pressure') return 'The elevation of the runway is not known.';
    elevationM = recorded;
    elevationSigmaM = heightSigmaM[kind] ?? 50;
    remarks.push('The elevation of the runway was taken from the recording.');
  }
  if (altimeterSettingPa === undefined)
    remarks.push('No altimeter setting was noted: standard pressure within 10 hPa.');
  const settingPa = altimeterSettingPa ?? unknownSetting;
  const note = [flight.day, airTemperatureK.value, settingPa.value, dewPointK?.value ?? 'dry'].join(' ');
  return { elevationM, elevationSigmaM, settingPa, temperatureK: airTemperatureK, dewPointK, note, remarks };
}

export interface Air {
  readonly densityAltitudeM: SharedQuantity;
  readonly densityRatio: SharedQuantity;
}

/**
 * Density ratio and density altitude of a flight at a height above its field (0: at the runway), with the errors of the notes by name. Aloft the noted
 * temperature is carried up with the standard lapse.
 * @param heightM Height above the runway, m; ignored with `pressureAltitudeAtM`.
 * @param pressureAltitudeAtM Recorded pressure altitude, m, where the recording has one.
 */
export function airOf(flight: AnalysedFlight, heightM = 0, pressureAltitudeAtM?: number): Air | string {
  const field = fieldAir(flight);
  if (!isKnown(field)) return field;
  const state = (
    setting: number,
    temperature: number,
    elevation: number,
    lapse: number,
    dewPoint: number | undefined,
  ) => {
    const fieldM = pressureAltitudeM(elevation, setting);
    const climbedM = pressureAltitudeAtM === undefined ? heightM : pressureAltitudeAtM - fieldM;
    const temperatureK = temperature - (standardLapseKPerM + lapse) * climbedM;
    // Geometric height is longer than pressure height in warm air.
    const pressureAltitude =
      pressureAltitudeAtM ??
      fieldM + ((heightM * standardTemperatureK(fieldM + heightM / 2)) / (temperatureK + temperature)) * 2;
    const pressurePa = pressureAtPressureAltitudePa(pressureAltitude);
    // Moisture is known at the field only; aloft the dry density serves.
    const dewPointK = heightM === 0 && dewPoint !== undefined ? Math.min(dewPoint, temperatureK) : undefined;
    return { pressurePa, temperatureK, ...(dewPointK === undefined ? {} : { dewPointK }) };
  };
  const { settingPa, temperatureK, elevationM, elevationSigmaM, dewPointK, note, remarks } = field;
  try {
    const air = state(settingPa.value, temperatureK.value, elevationM, 0, dewPointK?.value);
    const variants: Record<string, ReturnType<typeof state>> = {
      [`temperature note ${note}`]: state(
        settingPa.value,
        temperatureK.value + temperatureK.sigma,
        elevationM,
        0,
        dewPointK?.value,
      ),
      [`altimeter note ${note}`]: state(
        settingPa.value + settingPa.sigma,
        temperatureK.value,
        elevationM,
        0,
        dewPointK?.value,
      ),
      [`elevation ${elevationM}`]: state(
        settingPa.value,
        temperatureK.value,
        elevationM + elevationSigmaM,
        0,
        dewPointK?.value,
      ),
    };
    if (heightM !== 0 || pressureAltitudeAtM !== undefined) {
      variants[`lapse ${flight.day}`] = state(
        settingPa.value,
        temperatureK.value,
        elevationM,
        lapseSigmaKPerM,
        dewPointK?.value,
      );
    }
    const quantity = (of: (air: ReturnType<typeof state>) => number): SharedQuantity => {
      const value = of(air);
      const shifts = Object.fromEntries(Object.entries(variants).map(([name, variant]) => [name, of(variant) - value]));
      return { value, shifts, remarks };
    };
    return { densityAltitudeM: quantity(densityAltitudeM), densityRatio: quantity(densityRatio) };
  } catch (error) {
    if (error instanceof RangeError) return `The notes of the air cannot be right: ${error.message}`;
    throw error;
  }
}

export function windSurface(surface: Surface | undefined): WindSurface {
  switch (surface?.kind) {
    case 'paved':
      return 'paved';
    case 'snow':
      return 'snow';
    case 'water':
      return 'water';
    case 'grass':
      return surface.long ? 'long-grass' : 'grass';
    default:
      return 'grass';
  }
}

/** Winds aloft count as a stand-in for a missing note up to this height above the runway, m, and this long before or after, s. */
const standInHeightM = 900;
const standInS = 3600;

/**
 * Wind at 10 m over that some hundred metres up, over land by day (common practice, from memory of meteorology texts: about two thirds by day, a half at
 * night, backed by 20 to 30 degrees): 0.6, and one standard deviation of each component, 1.5 m/s and 30 % of the wind.
 */
const surfaceShare = 0.6;
const surfaceSigma = { floorMps: 1.5, share: 0.3 } as const;

/** Headwind along a roll at the height of the wing, or its mean up to a screen height. */
export function headwindOf(
  flight: AnalysedFlight,
  headingRad: number,
  timeS: number,
  untilM?: number,
): SharedQuantity | string {
  const { wind, runway } = flight.entry.conditions;
  const surface = windSurface(runway?.surface);
  if (wind !== undefined) {
    const at = headwindAtWing(wind, headingRad, { surface, ...(untilM === undefined ? {} : { untilM }) });
    const componentMps = at.ratio.value > 0 ? at.headwindMps.value / at.ratio.value : 0;
    return {
      value: at.headwindMps.value,
      shifts: {
        // The error of the note lies along its own axes: two opposite runways see the same error with opposite signs.
        ...noteShifts(flight, wind, headingRad, wind.sigmaMps * at.ratio.value),
        'wind profile': componentMps * at.ratio.sigma,
      },
      remarks: at.remarks,
    };
  }
  const aloft = nearestWindAloft(flight, timeS);
  if (aloft === undefined) return 'No wind was noted, and none could be found near the runway in the recording.';
  const noted = { fromRad: aloft.fromRad, speedMps: surfaceShare * aloft.speedMps, sigmaMps: aloft.sigmaMps };
  const at = headwindAtWing(noted, headingRad, { surface, ...(untilM === undefined ? {} : { untilM }) });
  return {
    value: at.headwindMps.value,
    shifts: noteShifts(flight, noted, headingRad, noted.sigmaMps * at.ratio.value),
    remarks: ['No wind was noted: it was taken from the winds aloft in the recording, with a wide margin.'],
  };
}

/** Two independent errors of a wind note, east and north, as they act along a heading. The same note is the same error. */
function noteShifts(
  flight: AnalysedFlight,
  wind: { readonly fromRad: number; readonly speedMps: number },
  headingRad: number,
  sigmaMps: number,
): Record<string, number> {
  const note = `wind note ${flight.day} ${wind.fromRad.toFixed(3)} ${wind.speedMps.toFixed(2)}`;
  return {
    [`${note} east`]: sigmaMps * Math.sin(headingRad),
    [`${note} north`]: sigmaMps * Math.cos(headingRad),
  };
}

function nearestWindAloft(flight: AnalysedFlight, timeS: number) {
  const groundM = firstStart(flight)?.startAltitudeM;
  if (groundM === undefined) return undefined;
  const usable = (flight.analysis?.winds ?? []).filter(
    (wind) => wind.altitudeM - groundM < standInHeightM && Math.abs((wind.startS + wind.endS) / 2 - timeS) < standInS,
  );
  if (usable.length === 0) return undefined;
  const lowest = usable.reduce((a, b) => (b.altitudeM < a.altitudeM ? b : a));
  const sigmaMps = Math.hypot(surfaceSigma.floorMps, surfaceSigma.share * lowest.speedMps.value);
  return { fromRad: lowest.fromRad.value, speedMps: lowest.speedMps.value, sigmaMps };
}

/** Slope of the runway in the direction of a roll; level within 0.5 % where it was not noted (own judgement: most runways lie within 1 %). */
export function slopeOf(flight: AnalysedFlight, headingRad: number): SharedQuantity {
  const { runway } = flight.entry.conditions;
  const noted = runway?.slope;
  // One line of runway has one slope: what is uphill one way is downhill the other, and so is the error of its note.
  const alongRad = runway?.headingRad ?? headingRad;
  const [north, east] = [Math.cos(alongRad), Math.sin(alongRad)];
  const turned = (Math.abs(north) > Math.abs(east) ? north : east) < 0 ? -1 : 1;
  const degrees = ((((alongRad * 180) / Math.PI) % 180) + 180) % 180;
  const line = `slope of ${runway?.airfield ?? 'the field'} ${Math.round(degrees / 20) % 9}`;
  return {
    value: noted?.value ?? 0,
    shifts: { [line]: turned * (noted?.sigma ?? 0.005) },
    remarks: noted === undefined ? ['No slope was noted: level within 0.5 %.'] : [],
  };
}

const usualFuelDensityKgM3 = 720;

/** What burns unseen where the fuel used was not noted: one standard deviation of the mass for each hour since the first take-off, kg. */
const unknownBurnKgPerHour = 12;

/** Mass at an instant: as noted at take-off, less the fuel burnt since the first take-off where it was noted. */
export function massOf(flight: AnalysedFlight, spec: Spec, timeS: number): SharedQuantity | string {
  const { takeoffMassKg, fuelUsedM3 } = flight.entry.conditions;
  if (takeoffMassKg === undefined) return 'No take-off weight was noted.';
  const { analysis } = flight;
  const first = analysis?.takeoffs[0]?.rollStart.timeS ?? timeS;
  const last = analysis?.landings[analysis.landings.length - 1]?.touchdown.timeS ?? analysis?.recording.endS ?? timeS;
  const share = last > first ? Math.min(1, Math.max(0, (timeS - first) / (last - first))) : 0;
  const density = spec.aircraft.fuelDensityKgM3 ?? usualFuelDensityKgM3;
  const note = { [`mass note ${flight.file}`]: takeoffMassKg.sigma };
  if (fuelUsedM3 !== undefined) {
    return { value: takeoffMassKg.value - share * fuelUsedM3.value * density, shifts: note, remarks: [] };
  }
  const hours = Math.max(0, timeS - first) / 3600;
  return {
    value: takeoffMassKg.value - unknownBurnKgPerHour * hours,
    shifts: { ...note, [`fuel burnt ${flight.file}`]: unknownBurnKgPerHour * hours },
    remarks: [],
  };
}

/** Configuration's own propeller, else the aircraft's. */
export function propellerOf(spec: Spec, configuration: string): 'fixed-pitch' | 'constant-speed' {
  return spec.configurations.find(({ id }) => id === configuration)?.propeller ?? spec.aircraft.propeller;
}
