import { median } from '../../stats/sample.ts';
import type { AltitudeKind, Track } from '../../track/track.ts';
import type { ProblemList } from '../problem-list.ts';
import { buildTrack } from '../samples/build-track.ts';
import { SampleTable } from '../samples/sample-table.ts';
import type { GpsStream, GpsStreams } from './gps-stream.ts';
import { numberSamples } from './gps-stream.ts';
import type { ClockAnchor, SampleClock } from './sample-clock.ts';
import { sampleClock } from './sample-clock.ts';

/** What the film says about its own times; absent for a bare stream. */
export interface FilmTimes {
  /** Unix time of creation by the camera's clock. */
  readonly creationS?: number;
  /** Time of presentation of the first picture less the media time 0 of the telemetry track. */
  readonly firstPictureS: number;
}

/** A dilution of precision above this is no usable position: the format's own text calls under 5.00 good. */
const worstGoodDop = 5;

/**
 * Positions still settle for about this long after the receiver's first fix (common practice, no source): the filter of
 * the receiver starts from a coarse position. Left out where the film shows the moment of the first fix.
 */
const settlingS = 10;

/** A sample's own time this far from the line through all of them is wrong. */
const wrongTimeS = 5;

/** One payload holds about one second (GPMF introduction): the spacing when there is nothing else to tell it. */
const payloadS = 1;

/** Fewer samples than this are no recording of anything. */
const fewestFixes = 2;

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
  const spacingS = nominalSpacing(stream);
  contents.push(describe(stream, streams.all.length, good.length));
  if (good.length < fewestFixes) {
    problems.error(
      'gpmf-no-fix',
      `The camera's receiver never had a good fix: ${stream.latDeg.length} positions are written, but none of them is a measurement (no 3D fix, or a dilution of precision above ${worstGoodDop}).`,
    );
    return undefined;
  }
  const times = rowTimes(stream, good, film, spacingS, problems);
  const settled = withoutSettling(good, times, problems);
  const table = fillTable(stream, settled, times);
  const assumptions = [...times.assumptions];
  if (altitudeKind(stream) === 'unknown') {
    assumptions.push('The recording does not say what its altitudes are measured from (mean sea level or ellipsoid).');
  }
  const videoStartS = film && startOfVideo(stream, settled, times.timeS, film);
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

/** A fix in three dimensions with a good dilution of precision; what the stream does not state cannot speak against it. */
function isGood(stream: GpsStream, row: number): boolean {
  const { fix, dop } = stream;
  return (Number.isNaN(fix[row]) || fix[row] >= 3) && (Number.isNaN(dop[row]) || dop[row] <= worstGoodDop);
}

function goodRows(stream: GpsStream, problems: ProblemList): number[] {
  const good: number[] = [];
  for (let row = 0; row < stream.latDeg.length; row++) if (isGood(stream, row)) good.push(row);
  if (good.length === 0) return good;
  const before = good[0];
  const after = stream.latDeg.length - before - good.length;
  if (before > 0) {
    problems.warning(
      'gpmf-before-fix',
      'Positions before the first good fix were left out: a camera writes plausible ones before it has any.',
      {},
      before,
    );
  }
  if (after > 0) {
    problems.warning(
      'gpmf-fix-lost',
      'Positions without a good fix (3D, dilution of precision 5 or better) were left out.',
      {},
      after,
    );
  }
  if (Number.isNaN(stream.fix[good[0]])) {
    problems.warning(
      'gpmf-fix-not-stated',
      'The stream does not say whether the receiver had a fix: all positions are taken.',
    );
  }
  return good;
}

function nominalSpacing(stream: GpsStream): number {
  const each = stream.payloads
    .filter(({ count }) => count > 0)
    .map(({ durationS, count }) => (durationS > 0 ? durationS : payloadS) / count);
  return each.length > 0 ? median(each) : payloadS;
}

interface RowTimes {
  readonly timeS: Float64Array;
  readonly assumptions: string[];
}

/** Number of a row in the stream, and the film's time at it. */
function rowPlaces(stream: GpsStream): { index: Float64Array; videoS: Float64Array } {
  const index = new Float64Array(stream.latDeg.length);
  const videoS = new Float64Array(stream.latDeg.length);
  for (const payload of stream.payloads) {
    for (let k = 0; k < payload.count; k++) {
      index[payload.firstRow + k] = payload.firstIndex + k;
      videoS[payload.firstRow + k] = payload.videoS + (k / payload.count) * payload.durationS;
    }
  }
  return { index, videoS };
}

function rowTimes(
  stream: GpsStream,
  good: readonly number[],
  film: FilmTimes | undefined,
  spacingS: number,
  problems: ProblemList,
): RowTimes {
  const { index, videoS } = rowPlaces(stream);
  const isGoodRow = new Set(good);
  const anchors: ClockAnchor[] = [];
  for (const payload of stream.payloads) {
    const row = payload.firstRow;
    const utcS = stream.key === 'GPS9' ? stream.timeS[row] : payload.utcS;
    if (payload.count > 0 && isGoodRow.has(row) && Number.isFinite(utcS)) {
      anchors.push({ index: payload.firstIndex, videoS: payload.videoS, utcS });
    }
  }
  const clock = sampleClock(anchors, spacingS);
  if (!clock) return timesFromFilm(videoS, film, problems);
  tellClock(clock, stream, problems);
  if (stream.key === 'GPS9') return { timeS: ownTimes(stream, clock, index, good, problems), assumptions: [] };
  return {
    timeS: index.map((value) => clock.timeAt(value)),
    assumptions: [
      'The camera states the time once a second, without its delay: all times may be early or late together by up to 1.5 s.',
    ],
  };
}

/** Without a single time of the receiver, the camera's clock and the film are all there is. */
function timesFromFilm(videoS: Float64Array, film: FilmTimes | undefined, problems: ProblemList): RowTimes {
  const creationS = film?.creationS;
  if (creationS === undefined) return { timeS: videoS.map(() => Number.NaN), assumptions: [] };
  problems.warning(
    'gpmf-time-from-camera',
    "The GPS stream states no time: the camera's own clock is used, which may be wrong by hours.",
  );
  return {
    timeS: videoS.map((value) => creationS + value),
    assumptions: ["Times come from the camera's own clock, not from the satellites."],
  };
}

function tellClock(clock: SampleClock, stream: GpsStream, problems: ProblemList): void {
  const { clockStepsS, lostS } = clock;
  if (clockStepsS.length > 0) {
    const sizes = clockStepsS.map((step) => `${step.toFixed(2)} s`).join(', ');
    problems.warning(
      'gpmf-clock-step',
      `The receiver's clock was corrected during the recording (by ${sizes}); times before that were moved to the corrected clock.`,
      {},
      clockStepsS.length,
    );
  }
  if (lostS.length > 0 && stream.key === 'GPS5') {
    const sizes = lostS.map((step) => `${step.toFixed(2)} s`).join(', ');
    problems.warning(
      'gpmf-samples-lost',
      `The stamps of the receiver show that samples are missing from the stream (${sizes}).`,
      {},
      lostS.length,
    );
  }
}

/** Times that the samples themselves carry, moved to the corrected clock; wrong ones become missing. */
function ownTimes(
  stream: GpsStream,
  clock: SampleClock,
  index: Float64Array,
  good: readonly number[],
  problems: ProblemList,
): Float64Array {
  const timeS = new Float64Array(index.length).fill(Number.NaN);
  let wrong = 0;
  const corrected = clock.clockStepsS.length > 0;
  for (const row of good) {
    const off = stream.timeS[row] - clock.timeAt(index[row]);
    if (Math.abs(off) <= wrongTimeS)
      timeS[row] = corrected && Math.abs(off) > 0.5 ? clock.timeAt(index[row]) : stream.timeS[row];
    else if (corrected) timeS[row] = clock.timeAt(index[row]);
    else wrong++;
  }
  if (wrong > 0) {
    problems.warning('gpmf-wrong-time', 'Samples whose own time does not fit the rest were left out.', {}, wrong);
  }
  return timeS;
}

/** Leaves out the first seconds after the first fix, where the recording shows that there was none before. */
function withoutSettling(good: readonly number[], times: RowTimes, problems: ProblemList): readonly number[] {
  if (good[0] === 0) return good;
  const endS = times.timeS[good[0]] + settlingS;
  const settled = good.filter((row) => !(times.timeS[row] < endS));
  if (settled.length < fewestFixes) {
    problems.warning(
      'gpmf-short-after-fix',
      `The recording ends less than ${settlingS} s after the first fix: its positions may still be settling.`,
    );
    return good;
  }
  problems.info(
    'gpmf-settling',
    `The first ${settlingS} s after the first fix were left out, as positions still settle then.`,
    {},
    good.length - settled.length,
  );
  return settled;
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

/** Unix time of the first picture: the median over the samples takes out the jitter of payloads. */
function startOfVideo(
  stream: GpsStream,
  rows: readonly number[],
  timeS: Float64Array,
  film: FilmTimes,
): number | undefined {
  const { videoS } = rowPlaces(stream);
  const starts = rows.map((row) => timeS[row] - videoS[row]).filter((start) => Number.isFinite(start));
  return starts.length > 0 ? median(starts) + film.firstPictureS : undefined;
}

function describe(stream: GpsStream, streams: number, good: number): string {
  const device = stream.deviceName === '' ? 'camera' : `device "${stream.deviceName}"`;
  const own = stream.key === 'GPS9' ? 'each with its own time' : 'with one time a second';
  const others = streams > 1 ? ` (the best of ${streams} GPS streams)` : '';
  return `GPS stream ${stream.key} of the ${device}, ${stream.latDeg.length} samples ${own}, ${good} with a good fix${others}.`;
}
