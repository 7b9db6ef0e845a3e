import type { Unit } from '../../../../shared/units.ts';
import {
  plausibleAltimeterSettingPa,
  pressureAltitudeM,
  pressureAltitudeOfPressureM,
} from '../../atmosphere/pressure-altitude.ts';
import type { ProblemList } from '../problem-list.ts';
import { distanceM } from '../samples/flat-distance.ts';
import type { GrowingColumn, SampleTable } from '../samples/sample-table.ts';
import { type AngleForm, angleForm, toDegrees } from './angle.ts';
import type { ChosenColumn } from './columns.ts';
import type { Auxiliary } from './rows.ts';

/** Brings latitude and longitude, stored as they stand in the file, to degrees. */
export function settlePositions(
  table: SampleTable,
  latitude: ChosenColumn | undefined,
  problems: ProblemList,
  assumptions: string[],
): void {
  const latDeg = table.latDeg.view(table.rows);
  const lonDeg = table.lonDeg.view(table.rows);
  const form = latitude?.unit?.symbol === 'rad' ? 'radians' : formOf(table, latitude?.unit);
  if (form === 'degrees') return;
  if (latitude?.unit === undefined) {
    problems.warning('csv-position-form', `Latitude and longitude were read as ${form}, as their size shows.`);
    assumptions.push(`The file does not state the unit of its positions; their size shows ${form}.`);
  }
  for (let row = 0; row < table.rows; row++) {
    latDeg[row] = toDegrees(latDeg[row], form);
    lonDeg[row] = toDegrees(lonDeg[row], form);
  }
  if (form === 'degrees and minutes') table.writtenUnits.set('latitude', 1 / 60);
  else if (form === 'radians') table.writtenUnits.set('latitude', 180 / Math.PI);
}

function formOf(table: SampleTable, stated: Unit | undefined): AngleForm {
  const form = angleForm(table.latDeg.view(table.rows), table.lonDeg.view(table.rows));
  if (form !== 'radians') return form;
  // Radians taken for degrees show a 57th of the speed. Near 0, 0 degrees are as small as radians, but move.
  return stated !== undefined || fastestMps(table) > slowestInDegreesMps ? 'degrees' : 'radians';
}

/** Radians that look this fast as degrees would be flown at 290 m/s. */
const slowestInDegreesMps = 5;

/** Fastest movement over about 10 s, if the positions are degrees. */
function fastestMps(table: SampleTable): number {
  let fastest = 0;
  for (let from = 0, to = 1; to < table.rows; to++) {
    const spentS = table.timeS.get(to) - table.timeS.get(from);
    if (spentS < 10) continue;
    const movedM = distanceM(
      table.latDeg.get(from),
      table.lonDeg.get(from),
      table.latDeg.get(to),
      table.lonDeg.get(to),
    );
    fastest = Math.max(fastest, Number.isNaN(movedM) ? 0 : movedM / spentS);
    from = to;
  }
  return fastest;
}

/** Speed, direction and vertical speed from recorded velocity components (north, east and down or up). */
export function settleVelocities(table: SampleTable, auxiliary: ReadonlyMap<Auxiliary, GrowingColumn>): void {
  const north = auxiliary.get('velocityNorth');
  const east = auxiliary.get('velocityEast');
  const down = auxiliary.get('velocityDown');
  const up = auxiliary.get('velocityUp');
  const hasSpeed = table.columns.has('groundSpeedMps');
  const hasTrack = table.columns.has('trackRad');
  const hasVertical = table.columns.has('verticalSpeedMps');
  for (let row = 0; row < table.rows; row++) {
    if (north && east) {
      const [northMps, eastMps] = [north.get(row), east.get(row)];
      if (!hasSpeed) table.set('groundSpeedMps', row, Math.hypot(northMps, eastMps));
      if (!hasTrack) table.set('trackRad', row, Math.atan2(eastMps, northMps));
    }
    if (!hasVertical && (down || up))
      table.set('verticalSpeedMps', row, up ? up.get(row) : -(down?.get(row) ?? Number.NaN));
  }
}

/**
 * Pressure altitude from an indicated altitude and the altimeter setting (an altimeter moves its scale by a constant:
 * FAA-H-8083-25C fig. 11-3), or from a static pressure, where the file has none of its own.
 */
export function settlePressureAltitude(
  table: SampleTable,
  auxiliary: ReadonlyMap<Auxiliary, GrowingColumn>,
  problems: ProblemList,
  assumptions: string[],
): void {
  const indicated = auxiliary.get('barometricAltitude');
  const setting = auxiliary.get('altimeterSetting');
  const pressure = auxiliary.get('staticPressure');
  if (table.columns.has('altitude-pressure')) return;
  if (indicated && setting) {
    const { low, high } = plausibleAltimeterSettingPa;
    for (let row = 0; row < table.rows; row++) {
      const settingPa = setting.get(row);
      if (settingPa >= low && settingPa <= high) {
        table.set('altitude-pressure', row, pressureAltitudeM(indicated.get(row), settingPa));
      }
    }
    if (table.columns.has('altitude-pressure')) {
      assumptions.push(
        'Pressure altitude was worked out from the indicated altitude and the altimeter setting in the file.',
      );
    }
  } else if (indicated) {
    problems.info(
      'csv-altimeter-setting-missing',
      'The barometric altitude was not used: without the altimeter setting it is neither a pressure altitude nor a geometric one.',
    );
  } else if (pressure) {
    for (let row = 0; row < table.rows; row++) {
      const pressurePa = pressure.get(row);
      // From the highest pressure ever measured down to that of the tropopause.
      if (pressurePa > 22_700 && pressurePa < 110_000)
        table.set('altitude-pressure', row, pressureAltitudeOfPressureM(pressurePa));
    }
  }
}

/** Headings are magnetic unless the file says true; the variation in the file makes them true. */
export function settleHeading(
  table: SampleTable,
  auxiliary: ReadonlyMap<Auxiliary, GrowingColumn>,
  column: ChosenColumn | undefined,
  assumptions: string[],
): void {
  const heading = table.columns.get('headingRad');
  if (!heading || column?.words.includes('true')) return;
  const variation = auxiliary.get('magneticVariation');
  if (!variation) {
    assumptions.push(
      'The file does not say that its headings are true; as compasses show magnetic ones, they were not used.',
    );
    table.columns.delete('headingRad');
    return;
  }
  assumptions.push('Headings were taken as magnetic and made true with the variation in the file.');
  for (let row = 0; row < table.rows; row++) heading.set(row, heading.get(row) + variation.get(row));
}
