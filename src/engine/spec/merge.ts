import { windSigmaMps } from './defaults.ts';
import type { WrittenAirfield, WrittenConditions } from './grammar/language.ts';
import type { WrittenDirection } from './grammar/shapes.ts';
import type { Conditions, FlightEntry, NotedWind, Runway, SharedConditions } from './types.ts';

/** `YYYY-MM-DD` of a key of `days`, which may have words after the date. */
export function dateOfDay(day: string): string {
  return day.slice(0, 10);
}

/** The most particular of what was written for each key: the first layer that has it. */
function mostParticular(layers: readonly (WrittenConditions | undefined)[]): WrittenConditions {
  const merged: WrittenConditions & Record<string, unknown> = {};
  for (const layer of layers) {
    for (const [name, value] of Object.entries(layer ?? {})) {
      if (value !== undefined && !Object.hasOwn(merged, name)) merged[name] = value;
    }
  }
  return merged;
}

/** True direction, or undefined where the variation that it needs is not written. */
function trueDirection(written: WrittenDirection, airfield: WrittenAirfield | undefined): number | undefined {
  if (!written.magnetic) return written.rad;
  const variation = airfield?.['magnetic-variation'];
  if (variation === undefined) return undefined;
  const turn = 2 * Math.PI;
  return (((written.rad + variation) % turn) + turn) % turn;
}

/** The name of the airfield that these conditions speak of: as written, or the only one there is. */
export function airfieldName(
  written: WrittenConditions,
  airfields: Readonly<Record<string, WrittenAirfield>>,
): string | undefined {
  const names = Object.keys(airfields);
  return written.airfield ?? (names.length === 1 ? names[0] : undefined);
}

function runwayOf(written: WrittenConditions, airfields: SharedConditions['airfields']): Runway | undefined {
  const place = airfieldName(written, airfields);
  const airfield = place !== undefined && Object.hasOwn(airfields, place) ? airfields[place] : undefined;
  const name = typeof written.runway === 'string' ? written.runway : undefined;
  const runways = airfield?.runways ?? {};
  const facts =
    typeof written.runway === 'object'
      ? written.runway
      : name !== undefined && Object.hasOwn(runways, name)
        ? runways[name]
        : undefined;
  const headingRad = facts?.heading && trueDirection(facts.heading, airfield);
  const elevationM = facts?.elevation ?? airfield?.elevation;
  const surface = written.surface ?? facts?.surface ?? airfield?.surface;
  const runway: Runway = {
    ...(name === undefined ? {} : { name }),
    ...(place === undefined ? {} : { airfield: place }),
    ...(headingRad === undefined ? {} : { headingRad }),
    ...(elevationM === undefined ? {} : { elevationM }),
    ...(facts?.slope === undefined ? {} : { slope: facts.slope }),
    ...(surface === undefined ? {} : { surface }),
  };
  return Object.keys(runway).length === 0 ? undefined : runway;
}

function windOf(written: WrittenConditions, airfields: SharedConditions['airfields']): NotedWind | undefined {
  const { wind } = written;
  if (wind === undefined) return undefined;
  const place = airfieldName(written, airfields);
  const airfield = place !== undefined && Object.hasOwn(airfields, place) ? airfields[place] : undefined;
  const shared = {
    sigmaStated: wind.sigmaMps !== undefined,
    ...(wind.gustMps === undefined ? {} : { gustMps: wind.gustMps }),
    ...(wind.source === undefined ? {} : { source: wind.source }),
    ...(wind.heightM === undefined ? {} : { heightM: wind.heightM }),
  };
  if (wind.from === undefined) {
    // Of unknown direction: no mean wind along the runway, and each component as uncertain as the speed is large.
    const usual = wind.sigmaMps ?? windSigmaMps(0);
    return { fromRad: 0, speedMps: 0, sigmaMps: Math.hypot(usual, wind.speedMps * Math.SQRT1_2), ...shared };
  }
  const fromRad = trueDirection(wind.from, airfield);
  if (fromRad === undefined) return undefined;
  return { fromRad, speedMps: wind.speedMps, sigmaMps: wind.sigmaMps ?? windSigmaMps(wind.speedMps), ...shared };
}

/**
 * The conditions of one flight: what it says itself, then its day, its configuration, its airfield. `day` is a key of
 * `days`. What nobody wrote stays undefined.
 */
export function mergeConditions(
  own: WrittenConditions,
  shared: SharedConditions,
  configuration: string,
  day: string | undefined,
): Conditions {
  const ofDay = day !== undefined && Object.hasOwn(shared.days, day) ? shared.days[day] : undefined;
  const ofConfiguration = Object.hasOwn(shared.configurations, configuration)
    ? shared.configurations[configuration]
    : undefined;
  const written = mostParticular([own, ofDay, ofConfiguration]);
  const candidates: Conditions = {
    airTemperatureK: written['air-temperature'],
    dewPointK: written['dew-point'],
    altimeterSettingPa: written['altimeter-setting'],
    wind: windOf(written, shared.airfields),
    takeoffMassKg: written.weight,
    runway: runwayOf(written, shared.airfields),
    start: written.start,
    technique: written.technique,
    cruiseSetting: written['cruise-setting'],
    climbIndicatedAirspeedMps: written['climb-speed'],
    fuelAtStartM3: written['fuel-at-start'],
    fuelUsedM3: written['fuel-used'],
    note: written.note,
  };
  return Object.fromEntries(Object.entries(candidates).filter(([, value]) => value !== undefined)) as Conditions;
}

/** A flight whose date has become known from its recording: the conditions of that day are merged in. */
export function withDate(entry: FlightEntry, shared: SharedConditions, date: string): FlightEntry {
  if (entry.day !== undefined || entry.written === undefined) return entry;
  return {
    ...entry,
    date: entry.date ?? date,
    conditions: mergeConditions(entry.written, shared, entry.configuration, date),
  };
}
