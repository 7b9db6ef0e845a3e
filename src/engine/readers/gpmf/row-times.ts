import { localPlane } from '../../geo/local-plane.ts';
import { median } from '../../stats/sample.ts';
import type { ProblemList } from '../problem-list.ts';
import type { GpsStream } from './gps-stream.ts';
import type { ClockAnchor, SampleClock } from './sample-clock.ts';
import { sampleClock } from './sample-clock.ts';

/** What the film says about its own times; absent for a bare stream. */
export interface FilmTimes {
  /** Unix time of creation by the camera's clock. */
  readonly creationS?: number;
  /** Time of presentation of the first picture less the media time 0 of the telemetry track. */
  readonly firstPictureS: number;
}

/** A sample's own time this far from the line through all of them is wrong. */
const wrongTimeS = 5;

/** Beyond the way of two seconds: positions of a receiver that keeps its fix wander far less. */
const farM = 30;

/** One payload holds about one second (GPMF introduction): the spacing when there is nothing else to tell it. */
const payloadS = 1;

export interface RowTimes {
  readonly timeS: Float64Array;
  readonly assumptions: string[];
}

/** Number of a row in the stream, and the film's time at it. */
export function rowPlaces(stream: GpsStream): { index: Float64Array; videoS: Float64Array } {
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

/** UTC of every row of a stream; NaN where it cannot be told. */
export function rowTimes(
  stream: GpsStream,
  good: readonly number[],
  film: FilmTimes | undefined,
  problems: ProblemList,
): RowTimes {
  const { index, videoS } = rowPlaces(stream);
  const isGoodRow = new Set(good);
  const anchors: ClockAnchor[] = [];
  const anchorRows: number[] = [];
  for (const payload of stream.payloads) {
    const row = payload.firstRow;
    const utcS = stream.key === 'GPS9' ? stream.timeS[row] : payload.utcS;
    if (payload.count > 0 && isGoodRow.has(row) && Number.isFinite(utcS)) {
      anchors.push({ index: payload.firstIndex, videoS: payload.videoS, utcS });
      anchorRows.push(row);
    }
  }
  const placeJumpsBefore = (anchor: number): boolean => {
    for (let row = anchorRows[anchor - 1] + 1; row <= anchorRows[anchor]; row++) if (jumps(stream, row)) return true;
    return false;
  };
  const clock = sampleClock(anchors, nominalSpacing(stream), placeJumpsBefore);
  if (!clock) return timesFromFilm(videoS, film, problems);
  tellClock(clock, stream, problems);
  if (stream.key === 'GPS9') return { timeS: ownTimes(stream, clock, index, good, problems), assumptions: [] };
  const timeS = index.map((value) => clock.timeAt(value));
  for (const next of clock.lostBefore) forgetTimesBehindJump(stream, next, timeS);
  return {
    timeS,
    assumptions: [
      'The camera states the time once a second, without its delay: all times may be early or late together by up to 1.5 s.',
    ],
  };
}

/** Where time is missing inside a payload, the samples behind it cannot be placed until the next stamp. */
function forgetTimesBehindJump(stream: GpsStream, nextIndex: number, timeS: Float64Array): void {
  const payload = stream.payloads.filter(({ firstIndex }) => firstIndex < nextIndex).at(-1);
  if (!payload) return;
  const endRow = payload.firstRow + payload.count;
  for (let row = payload.firstRow + 1; row < endRow; row++) {
    if (jumps(stream, row)) timeS.fill(Number.NaN, row, endRow);
  }
}

/** Whether a sample lies further from the one before than its speed explains in two seconds. */
function jumps(stream: GpsStream, row: number): boolean {
  if (row === 0) return false;
  const { latDeg, lonDeg, groundSpeedMps } = stream;
  const place = localPlane(latDeg[row - 1], lonDeg[row - 1]).toPlane(latDeg[row], lonDeg[row]);
  return Math.hypot(place.eastM, place.northM) > farM + 2 * Math.max(groundSpeedMps[row - 1], groundSpeedMps[row]);
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
      `The stamps of the receiver show that time is missing from the stream (${sizes}): samples were lost, or the recording was paused.`,
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

function nominalSpacing(stream: GpsStream): number {
  const each = stream.payloads
    .filter(({ count }) => count > 0)
    .map(({ durationS, count }) => (durationS > 0 ? durationS : payloadS) / count);
  return each.length > 0 ? median(each) : payloadS;
}
