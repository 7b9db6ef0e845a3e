import { motionColumnNames } from '../../track/columns.ts';
import type { AltitudeColumn, AltitudeKind, ChannelName, Track } from '../../track/track.ts';
import type { ProblemList } from '../problem-list.ts';
import { cleanPositions } from './clean-positions.ts';
import { checkDate } from './date-check.ts';
import { settleDirections } from './directions.ts';
import { metresPerDegree } from './flat-distance.ts';
import { writtenStep } from './resolution.ts';
import type { GrowingColumn, SampleColumn, SampleTable } from './sample-table.ts';
import { settleTrack } from './settle-track.ts';
import { withoutStaleFixes } from './stale-fixes.ts';
import { orderRows } from './time-order.ts';
import { zerosToMissing } from './zero-altitude.ts';

/** Geometric ones before pressure, a stated datum before none. */
const altitudeOrder: readonly AltitudeKind[] = ['msl', 'ellipsoid', 'unknown', 'pressure'];

const directionColumns: readonly SampleColumn[] = ['trackRad', 'headingRad', 'windFromRad'];

/** What a reader knows about its file beside the samples. */
export interface TrackFacts {
  readonly assumptions?: readonly string[];
  readonly videoStartS?: number;
  /** Steps with which the format writes, where the values alone do not show it. */
  readonly positionStepM?: number;
  readonly altitudeStepM?: number;
  /** Magnetic variation a row, radians east, where the file states it. */
  readonly variationRad?: GrowingColumn;
}

/**
 * The samples of a file as a track: impossible positions and placeholders become missing, rows come into the order of
 * time, repeated fixes go, and the steps with which values were written are found. `undefined`, with an error among the
 * problems, when no sample has both a time and a position.
 */
export function buildTrack(table: SampleTable, facts: TrackFacts, problems: ProblemList): Track | undefined {
  const assumptions = [...(facts.assumptions ?? [])];
  cleanPositions(table, problems);
  const inOrder = orderRows(table, problems, assumptions);
  const positionStepM = stepOfPositions(table) ?? facts.positionStepM;
  const { rows, timeS } = withoutStaleFixes(inOrder, table, positionStepM, problems);
  if (rows.length === 0) {
    const message = 'No sample has both a time and a position, so nothing can be measured from this file.';
    problems.error('no-usable-fix', message);
    return undefined;
  }
  const latDeg = gather(table.latDeg.view(table.rows), rows);
  const lonDeg = gather(table.lonDeg.view(table.rows), rows);
  const columns = gatherColumns(table, rows);
  for (const name of directionColumns) {
    const values = columns.get(name);
    if (values) settleDirections(values);
  }
  const variationRad = facts.variationRad && gather(facts.variationRad.view(table.rows), rows);
  if (!settleTrack({ timeS, latDeg, lonDeg, trackRad: columns.get('trackRad'), variationRad }, problems, assumptions)) {
    columns.delete('trackRad');
  }
  const altitudes = altitudesOf(table, columns, timeS, facts.altitudeStepM, problems);
  const speed = columns.get('groundSpeedMps');
  const channels: Partial<Record<ChannelName, Float64Array>> = {};
  for (const [name, values] of columns) if (isChannel(name)) channels[name] = values;
  checkDate(timeS[0], timeS[timeS.length - 1], problems);
  return {
    timeS,
    latDeg,
    lonDeg,
    altitudes,
    ...Object.fromEntries(motionColumnNames.flatMap((name) => (columns.has(name) ? [[name, columns.get(name)]] : []))),
    breaks: breaksOf(table, rows),
    channels,
    positionResolutionM: positionStepM,
    speedResolutionMps: speed && writtenStep(speed, table.writtenUnits.get('groundSpeedMps')),
    assumptions,
    videoStartS: facts.videoStartS,
  };
}

function stepOfPositions(table: SampleTable): number | undefined {
  const step = writtenStep(table.latDeg.view(table.rows), table.writtenUnits.get('latitude'));
  return step === undefined ? undefined : step * metresPerDegree;
}

/** The values of some rows; the column itself where these are all its rows in order, as in most files. */
function gather(values: Float64Array, rows: Int32Array): Float64Array {
  if (rows.length === values.length && rows.every((row, i) => row === i)) return values;
  const out = new Float64Array(rows.length);
  for (let i = 0; i < rows.length; i++) out[i] = values[rows[i]];
  return out;
}

function gatherColumns(table: SampleTable, rows: Int32Array): Map<SampleColumn, Float64Array> {
  const columns = new Map<SampleColumn, Float64Array>();
  for (const [name, column] of table.columns) {
    const values = gather(column.view(table.rows), rows);
    if (values.some((value) => !Number.isNaN(value))) columns.set(name, values);
  }
  return columns;
}

function altitudesOf(
  table: SampleTable,
  columns: ReadonlyMap<SampleColumn, Float64Array>,
  timeS: Float64Array,
  knownStepM: number | undefined,
  problems: ProblemList,
): AltitudeColumn[] {
  return altitudeOrder.flatMap((kind) => {
    const valuesM = columns.get(`altitude-${kind}`);
    if (!valuesM || !zerosToMissing(timeS, valuesM, problems)) return [];
    const resolutionM = writtenStep(valuesM, table.writtenUnits.get(`altitude-${kind}`)) ?? knownStepM;
    return [{ kind, valuesM, resolutionM }];
  });
}

function isChannel(name: SampleColumn): name is ChannelName {
  return !name.startsWith('altitude-') && !(motionColumnNames as readonly string[]).includes(name);
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
