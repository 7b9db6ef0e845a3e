import type { AltitudeColumn, AltitudeKind, ChannelName, Track } from '../../track/track.ts';
import type { ProblemList } from '../problem-list.ts';
import { writtenStep } from './resolution.ts';
import type { SampleColumn, SampleTable } from './sample-table.ts';
import { type OrderedRows, orderRows } from './time-order.ts';
import { zerosToMissing } from './zero-altitude.ts';

/** Metres of one degree of latitude: 60 nautical miles. */
const metresPerDegree = 60 * 1852;

/** Geometric ones before pressure, a stated datum before none. */
const altitudeOrder: readonly AltitudeKind[] = ['msl', 'ellipsoid', 'unknown', 'pressure'];

const motionColumns = [
  'groundSpeedMps',
  'trackRad',
  'verticalSpeedMps',
  'horizontalSigmaM',
  'verticalSigmaM',
  'speedSigmaMps',
  'hdop',
] as const;

/** What a reader knows about its file beside the samples. */
export interface TrackFacts {
  readonly assumptions?: readonly string[];
  readonly videoStartS?: number;
}

/**
 * The samples of a file as a track: impossible positions and placeholders of altitude become missing, rows come into
 * the order of time, and the steps with which values were written are found. `undefined`, with an error among the
 * problems, when no sample has both a time and a position.
 */
export function buildTrack(table: SampleTable, facts: TrackFacts, problems: ProblemList): Track | undefined {
  cleanPositions(table, problems);
  const assumptions = [...(facts.assumptions ?? [])];
  const ordered = orderRows(table, problems, assumptions);
  if (ordered.rows.length === 0) {
    problems.error(
      'no-usable-fix',
      'No sample has both a time and a position, so nothing can be measured from this file.',
    );
    return undefined;
  }
  const columns = gatherColumns(table, ordered);
  const altitudes = altitudesOf(table, columns, ordered.timeS, problems);
  const speed = columns.get('groundSpeedMps');
  const channels: Partial<Record<ChannelName, Float64Array>> = {};
  for (const [name, values] of columns) if (isChannel(name)) channels[name] = values;
  const latDeg = gather(table.latDeg.view(table.rows), ordered.rows);
  const positionStep = writtenStep(latDeg, table.writtenUnits.get('latitude'));
  warnOfDate(ordered.timeS, problems);
  return {
    timeS: ordered.timeS,
    latDeg,
    lonDeg: gather(table.lonDeg.view(table.rows), ordered.rows),
    altitudes,
    ...Object.fromEntries(motionColumns.flatMap((name) => (columns.has(name) ? [[name, columns.get(name)]] : []))),
    breaks: breaksOf(table, ordered.rows),
    channels,
    positionResolutionM: positionStep === undefined ? undefined : positionStep * metresPerDegree,
    speedResolutionMps: speed && writtenStep(speed, table.writtenUnits.get('groundSpeedMps')),
    assumptions,
    videoStartS: facts.videoStartS,
  };
}

function cleanPositions(table: SampleTable, problems: ProblemList): void {
  const lat = table.latDeg.view(table.rows);
  const lon = table.lonDeg.view(table.rows);
  let outside = 0;
  let zero = 0;
  for (let row = 0; row < table.rows; row++) {
    const inside = Math.abs(lat[row]) <= 90 && Math.abs(lon[row]) <= 180;
    const placeholder = lat[row] === 0 && lon[row] === 0;
    if (inside && !placeholder) continue;
    if (placeholder) zero++;
    else if (!Number.isNaN(lat[row]) && !Number.isNaN(lon[row])) outside++;
    lat[row] = Number.NaN;
    lon[row] = Number.NaN;
  }
  if (outside > 0) {
    const message = 'Positions outside 90 degrees of latitude or 180 degrees of longitude were taken as missing.';
    problems.warning('position-out-of-range', message, {}, outside);
  }
  if (zero > 0) {
    const message = 'Positions of exactly 0, 0 were taken as missing: recorders write them when they have none.';
    problems.warning('position-zero', message, {}, zero);
  }
}

function gather(values: Float64Array, rows: Int32Array): Float64Array {
  const out = new Float64Array(rows.length);
  for (let i = 0; i < rows.length; i++) out[i] = values[rows[i]];
  return out;
}

function gatherColumns(table: SampleTable, ordered: OrderedRows): Map<SampleColumn, Float64Array> {
  const columns = new Map<SampleColumn, Float64Array>();
  for (const [name, column] of table.columns) {
    const values = gather(column.view(table.rows), ordered.rows);
    if (values.some((value) => !Number.isNaN(value))) columns.set(name, values);
  }
  return columns;
}

function altitudesOf(
  table: SampleTable,
  columns: ReadonlyMap<SampleColumn, Float64Array>,
  timeS: Float64Array,
  problems: ProblemList,
): AltitudeColumn[] {
  return altitudeOrder.flatMap((kind) => {
    const valuesM = columns.get(`altitude-${kind}`);
    if (!valuesM || !zerosToMissing(timeS, valuesM, problems)) return [];
    return [{ kind, valuesM, resolutionM: writtenStep(valuesM, table.writtenUnits.get(`altitude-${kind}`)) }];
  });
}

function isChannel(name: SampleColumn): name is ChannelName {
  return !name.startsWith('altitude-') && !(motionColumns as readonly string[]).includes(name);
}

/** Break rows of the table as indices of the ordered rows; a break at a dropped row moves to the next kept one. */
function breaksOf(table: SampleTable, rows: Int32Array): number[] {
  if (table.breaks.length === 0) return [];
  const starts = [...table.breaks].sort((a, b) => a - b);
  const segmentOf = (row: number): number => {
    let low = 0;
    let high = starts.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (starts[middle] <= row) low = middle + 1;
      else high = middle;
    }
    return low;
  };
  const breaks: number[] = [];
  for (let i = 1; i < rows.length; i++) if (segmentOf(rows[i]) !== segmentOf(rows[i - 1])) breaks.push(i);
  return breaks;
}

/** 1990-01-01: no satellite receiver recorded flights before (the GPS epoch is 1980). */
const earliestDateS = 631_152_000;

function warnOfDate(timeS: Float64Array, problems: ProblemList): void {
  if (timeS[0] >= earliestDateS && timeS[timeS.length - 1] < 4_102_444_800) return;
  problems.warning('date-implausible', `The recording begins ${dateOf(timeS[0])}: the date cannot be right.`);
}

function dateOf(timeS: number): string {
  const milliseconds = timeS * 1000;
  return Math.abs(milliseconds) <= 8.64e15
    ? new Date(milliseconds).toISOString().slice(0, 10)
    : 'at an impossible time';
}
