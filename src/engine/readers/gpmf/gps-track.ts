import type { AltitudeKind, Track } from '../../track/track.ts';
import type { FilmStart } from '../film-start.ts';
import { filmStart } from '../film-start.ts';
import type { ProblemList } from '../problem-list.ts';
import { buildTrack } from '../samples/build-track.ts';
import { SampleTable } from '../samples/sample-table.ts';
import type { GpsStream, GpsStreams } from './gps-stream.ts';
import { numberSamples } from './gps-stream.ts';
import { fewestFixes, goodRows, isGood, withoutSettling, worstGoodDop } from './good-fixes.ts';
import type { FilmTimes, RowTimes } from './row-times.ts';
import { rowPlaces, rowTimes } from './row-times.ts';

/** The track of the best GPS stream. Says why when there is none. */
export function gpsTrack(
  streams: GpsStreams,
  film: FilmTimes | undefined,
  problems: ProblemList,
  contents: string[],
): Track | undefined {
  tellDamage(streams, problems);
  const stream = bestStream(streams.all);
  if (!stream) {
    problems.error(
      'gpmf-no-gps',
      'The telemetry of the camera holds no GPS positions: the receiver was switched off, or the model has none.',
    );
    return undefined;
  }
  numberSamples(stream.payloads);
  const good = goodRows(stream, problems);
  contents.push(describe(stream, streams.all.length, good.length));
  if (good.length < fewestFixes) {
    problems.error(
      'gpmf-no-fix',
      `The camera's receiver had no good fix: ${stream.latDeg.length} positions are written, but ${good.length === 0 ? 'none' : 'only one'} of them is a measurement (3D fix, dilution of precision up to ${worstGoodDop}).`,
    );
    return undefined;
  }
  const times = rowTimes(stream, good, film, problems);
  const settled = withoutSettling(good, times.timeS, problems);
  const table = fillTable(stream, settled, times);
  const assumptions = [...times.assumptions];
  if (altitudeKind(stream) === 'unknown') {
    assumptions.push('The recording does not say what its altitudes are measured from (mean sea level or ellipsoid).');
  }
  const start = film ? startOfFilm(stream, settled, times.timeS) : {};
  if (start.remark !== undefined) assumptions.push(start.remark);
  const videoStartS = film && start.startS !== undefined ? start.startS + film.firstPictureS : undefined;
  return buildTrack(table, { assumptions, ...(videoStartS === undefined ? {} : { videoStartS }) }, problems);
}

function tellDamage(streams: GpsStreams, problems: ProblemList): void {
  if (streams.damaged > 0) {
    problems.warning(
      'gpmf-damaged',
      'Items of the telemetry declare more data than there is: what follows them in their second was left out.',
      { byte: streams.firstDamageByte ?? 0 },
      streams.damaged,
    );
  }
  if (streams.compressed) {
    problems.error('gpmf-compressed', 'The GPS stream of this camera is compressed, which is not supported.');
  }
}

/** The stream with the most good samples; samples with their own times win over those without. */
function bestStream(streams: readonly GpsStream[]): GpsStream | undefined {
  return [...streams].sort((a, b) => worthOf(b) - worthOf(a))[0];
}

/** Own times are worth more than a rate of 18 instead of 10 a second. */
function worthOf(stream: GpsStream): number {
  let good = 0;
  for (let row = 0; row < stream.fix.length; row++) good += Number(isGood(stream, row));
  return good * (stream.key === 'GPS9' ? 2.5 : 1) + stream.fix.length * 1e-6;
}

function altitudeKind(stream: GpsStream): AltitudeKind {
  if (stream.altitudeSystem === 'MSLV') return 'msl';
  return stream.key === 'GPS5' && stream.altitudeSystem === '' ? 'ellipsoid' : 'unknown';
}

function fillTable(stream: GpsStream, rows: readonly number[], times: RowTimes): SampleTable {
  const table = new SampleTable();
  const altitude = `altitude-${altitudeKind(stream)}` as const;
  let last = rows[0];
  for (const row of rows) {
    if (row > last + 1) table.breakHere();
    last = row;
    const at = table.add(times.timeS[row], stream.latDeg[row], stream.lonDeg[row]);
    table.set(altitude, at, stream.altitudeM[row]);
    table.set('groundSpeedMps', at, stream.groundSpeedMps[row]);
    table.set('hdop', at, stream.dop[row]);
  }
  return table;
}

/** When the film begins (its media time 0), from the samples that have both times. */
function startOfFilm(stream: GpsStream, rows: readonly number[], timeS: Float64Array): FilmStart {
  const { videoS } = rowPlaces(stream);
  const timed = rows.filter((row) => Number.isFinite(timeS[row]) && Number.isFinite(videoS[row]));
  return filmStart(
    timed.map((row) => videoS[row]),
    timed.map((row) => timeS[row]),
  );
}

function describe(stream: GpsStream, streams: number, good: number): string {
  const device = stream.deviceName === '' ? 'camera' : `device "${stream.deviceName}"`;
  const own = stream.key === 'GPS9' ? 'each with its own time' : 'with one time a second';
  const others = streams > 1 ? ` (the best of ${streams} GPS streams)` : '';
  return `GPS stream ${stream.key} of the ${device}, ${stream.latDeg.length} samples ${own}, ${good} with a good fix${others}.`;
}
