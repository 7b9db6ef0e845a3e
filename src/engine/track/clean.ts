import type { Problem } from '../../../shared/problem.ts';
import { localPlane } from '../geo/local-plane.ts';
import { median } from '../stats/sample.ts';
import { findOutliers } from './outliers.ts';
import type { AltitudeColumn, Track } from './track.ts';

/**
 * Faster over the ground than a light aeroplane with a strong tail wind (own choice: 270 kt), so a fix that demands it is
 * wrong. Accelerations: 15 m/s2 is half as much again as gravity along the track, and a turn of 1.8 g across it.
 */
const fastestMps = 140;
const hardestMps2 = 15;
const positionSlackM = 25;
/** Falling free or in a fast jump descent stays under this. */
const fastestVerticalMps = 100;
const altitudeSlackM = 30;
const speedSlackMps = 4;
/** Fixes that the receiver itself calls worse than this, one sigma, are not used (own choice: they wander by more than the runway's width). */
const worstHorizontalSigmaM = 30;
const worstVerticalSigmaM = 60;
const worstSpeedSigmaMps = 3;
/** Moving this fast, two equal fixes in a row mean that the second is stale. */
const movingMps = 2;

export interface CleanTrack {
  /** The same rows; what was rejected is `NaN`. Jumps of place that last are added to `breaks`. */
  readonly track: Track;
  readonly problems: readonly Problem[];
}

/** Rejects what cannot be right and counts it. Never repairs, never fills. */
export function cleanTrack(track: Track): CleanTrack {
  const problems: Problem[] = [];
  const report = (code: string, severity: Problem['severity'], count: number, message: string): void => {
    if (count > 0) problems.push({ code, severity, message, count });
  };
  const length = track.timeS.length;
  const latDeg = track.latDeg.slice();
  const lonDeg = track.lonDeg.slice();
  const drop = (row: number): void => {
    latDeg[row] = Number.NaN;
    lonDeg[row] = Number.NaN;
  };

  let disordered = 0;
  let latest = Number.NEGATIVE_INFINITY;
  const usable = new Uint8Array(length);
  for (let row = 0; row < length; row += 1) {
    if (track.timeS[row] > latest) {
      latest = track.timeS[row];
      usable[row] = 1;
    } else {
      disordered += 1;
      drop(row);
    }
  }
  report(
    'rows-not-in-time-order',
    'warning',
    disordered,
    'Rows whose time is not later than the row before were not used.',
  );

  let impossible = 0;
  let poor = 0;
  for (let row = 0; row < length; row += 1) {
    const lat = latDeg[row];
    const lon = lonDeg[row];
    if (Number.isNaN(lat) || Number.isNaN(lon)) {
      drop(row);
      continue;
    }
    // Exactly 0, 0 is what receivers write without a fix; a real flight does not stand on that point to the last digit.
    if (Math.abs(lat) > 89.9 || Math.abs(lon) > 360 || (lat === 0 && lon === 0)) {
      impossible += 1;
      drop(row);
    } else if ((track.horizontalSigmaM?.[row] ?? 0) > worstHorizontalSigmaM) {
      poor += 1;
      drop(row);
    }
  }
  report(
    'position-impossible',
    'warning',
    impossible,
    'Positions that cannot be (0, 0 or outside the globe) were not used.',
  );
  report(
    'position-poor',
    'info',
    poor,
    `Positions that the receiver itself rated worse than ${worstHorizontalSigmaM} m were not used.`,
  );

  const speeds = track.groundSpeedMps?.slice();
  const altitudes = track.altitudes.map((column) => ({ ...column, valuesM: column.valuesM.slice() }));
  const climbs = track.verticalSpeedMps?.slice();
  for (let row = 0; row < length; row += 1) {
    if (usable[row] === 1) continue;
    if (speeds !== undefined) speeds[row] = Number.NaN;
    if (climbs !== undefined) climbs[row] = Number.NaN;
    for (const column of altitudes) column.valuesM[row] = Number.NaN;
  }

  const stale = findStaleRows(track, latDeg, lonDeg);
  for (const row of stale) {
    drop(row);
    if (speeds !== undefined) speeds[row] = Number.NaN;
    if (climbs !== undefined) climbs[row] = Number.NaN;
    for (const column of altitudes) if (column.kind !== 'pressure') column.valuesM[row] = Number.NaN;
  }
  report(
    'fix-repeated',
    'info',
    stale.length,
    'Rows that repeat the fix before them although the aeroplane was moving were not used.',
  );

  const breaks = rejectPositionSpikes(track, latDeg, lonDeg, report);
  if (speeds !== undefined) rejectSpeedSpikes(track, speeds, report);
  for (const column of altitudes) rejectAltitudeSpikes(track, column, report);

  const cleaned: Track = {
    ...track,
    latDeg,
    lonDeg,
    altitudes,
    breaks,
    ...(speeds === undefined ? {} : { groundSpeedMps: speeds }),
    ...(climbs === undefined ? {} : { verticalSpeedMps: climbs }),
  };
  return { track: cleaned, problems };
}

type Report = (code: string, severity: Problem['severity'], count: number, message: string) => void;

/**
 * Rows equal to the valid row before in every value of the receiver while the aeroplane moved: a phone or panel that
 * writes faster than its receiver gives fixes. Equal rows at a standstill are left: many receivers hold still on purpose.
 */
function findStaleRows(track: Track, latDeg: Float64Array, lonDeg: Float64Array): number[] {
  const stale: number[] = [];
  const geometric = track.altitudes.find((column) => column.kind !== 'pressure')?.valuesM;
  let first = -1;
  let run: number[] = [];
  const settle = (next: number): void => {
    if (run.length === 0 || first < 0) return;
    const speed = track.groundSpeedMps?.[first] ?? Number.NaN;
    let moving = speed > movingMps;
    if (!moving && Number.isNaN(speed) && next >= 0) {
      // Without a speed: the next fix lies as far away as movement through the whole run makes it.
      const plane = localPlane(latDeg[first], lonDeg[first]);
      const there = plane.toPlane(latDeg[next], lonDeg[next]);
      const lasted = track.timeS[next] - track.timeS[first];
      const last = track.timeS[next] - track.timeS[run[run.length - 1]];
      const moved = Math.hypot(there.eastM, there.northM);
      // Standing still and then rolling off covers little in one step; a stale row of a moving aeroplane catches up.
      moving = run.length <= 3 && moved > movingMps * lasted && moved / last > 4 * movingMps;
    }
    if (moving) stale.push(...run);
  };
  for (let row = 0; row < latDeg.length; row += 1) {
    if (Number.isNaN(latDeg[row])) continue;
    if (
      first >= 0 &&
      latDeg[row] === latDeg[first] &&
      lonDeg[row] === lonDeg[first] &&
      sameValue(track.groundSpeedMps, row, first) &&
      sameValue(geometric, row, first)
    ) {
      run.push(row);
      continue;
    }
    settle(row);
    first = row;
    run = [];
  }
  settle(-1);
  return stale;
}

function sameValue(column: Float64Array | undefined, a: number, b: number): boolean {
  return column === undefined || column[a] === column[b] || (Number.isNaN(column[a]) && Number.isNaN(column[b]));
}

function rejectPositionSpikes(track: Track, latDeg: Float64Array, lonDeg: Float64Array, report: Report): number[] {
  const origin = latDeg.findIndex((value) => Number.isFinite(value));
  if (origin < 0) return [...track.breaks];
  const plane = localPlane(latDeg[origin], lonDeg[origin]);
  const east = new Float64Array(latDeg.length);
  const north = new Float64Array(latDeg.length);
  for (let row = 0; row < latDeg.length; row += 1) {
    const place = plane.toPlane(latDeg[row], lonDeg[row]);
    east[row] = place.eastM;
    north[row] = place.northM;
  }
  const found = findOutliers(
    { timeS: track.timeS, x: east, y: north },
    { rate: fastestMps, bend: hardestMps2, slack: positionSlackM },
  );
  for (const row of found.outliers) {
    latDeg[row] = Number.NaN;
    lonDeg[row] = Number.NaN;
  }
  report(
    'position-spike',
    'warning',
    found.outliers.length,
    'Positions that could only be reached at an impossible speed or acceleration were not used.',
  );
  report(
    'position-jump',
    'warning',
    found.jumps.length,
    'The position jumps to another place and stays there; the recording is treated as interrupted there.',
  );
  return [...new Set([...track.breaks, ...found.jumps])].sort((a, b) => a - b);
}

function rejectSpeedSpikes(track: Track, speeds: Float64Array, report: Report): void {
  let count = 0;
  for (let row = 0; row < speeds.length; row += 1) {
    const speed = speeds[row];
    if (Number.isNaN(speed)) continue;
    if (speed < 0 || speed > fastestMps || (track.speedSigmaMps?.[row] ?? 0) > worstSpeedSigmaMps) {
      speeds[row] = Number.NaN;
      count += 1;
    }
  }
  const found = findOutliers(
    { timeS: track.timeS, x: speeds },
    { rate: hardestMps2, bend: hardestMps2, slack: speedSlackMps },
  );
  for (const row of found.outliers) speeds[row] = Number.NaN;
  report(
    'speed-spike',
    'warning',
    count + found.outliers.length,
    'Recorded speeds that are impossible, or that the receiver itself rated useless, were not used.',
  );
}

function rejectAltitudeSpikes(track: Track, column: AltitudeColumn, report: Report): void {
  const values = column.valuesM;
  let zeros = 0;
  // Exactly zero among altitudes that are not near zero is the mark of a missing altitude, not sea level.
  const typical = median(values.filter((value) => Number.isFinite(value) && value !== 0));
  if (typical > 60 || typical < -60) {
    const near = nearestOthers(values);
    for (let row = 0; row < values.length; row += 1) {
      if (values[row] === 0 && Math.abs(near[row]) > 40) {
        values[row] = Number.NaN;
        zeros += 1;
      }
    }
  }
  if (column.kind !== 'pressure' && track.verticalSigmaM !== undefined) {
    for (let row = 0; row < values.length; row += 1) {
      if ((track.verticalSigmaM[row] ?? 0) > worstVerticalSigmaM) values[row] = Number.NaN;
    }
  }
  report(
    'altitude-dropout',
    'warning',
    zeros,
    `Altitudes (${column.kind}) written as 0 in the middle of others were not used.`,
  );
  const found = findOutliers(
    { timeS: track.timeS, x: values },
    { rate: fastestVerticalMps, bend: hardestMps2, slack: altitudeSlackM },
  );
  for (const row of found.outliers) values[row] = Number.NaN;
  report(
    'altitude-spike',
    'warning',
    found.outliers.length,
    `Altitudes (${column.kind}) that could only be reached at an impossible rate were not used.`,
  );
}

/** For every row the last value before it, else the first after it, that is neither missing nor exactly zero. */
function nearestOthers(values: Float64Array): Float64Array {
  const near = new Float64Array(values.length).fill(Number.NaN);
  let last = values.find(isReading) ?? Number.NaN;
  for (let row = 0; row < values.length; row += 1) {
    near[row] = last;
    if (isReading(values[row])) last = values[row];
  }
  return near;
}

function isReading(value: number): boolean {
  return Number.isFinite(value) && value !== 0;
}
