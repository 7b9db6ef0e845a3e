import { formatDuration, formatFixed } from '../../../shared/format.ts';
import { interpolated } from './interpolate-column.ts';
import { clockOffset } from './clock-offset.ts';
import type { ClockOffset } from './clock-offset.ts';
import type { ChannelName, Track } from './track.ts';
import type { Interval } from '../../../shared/measured.ts';

export interface JoinedRecordings {
  /** The primary with the channels that only the secondary has; absent when the two were not joined. */
  readonly track?: Track;
  /** To be added to the secondary's times to get the primary's, seconds, with its 95 % interval. */
  readonly clockOffsetS?: Interval;
  readonly by?: 'ground speed' | 'height' | 'pilot';
  /** Names of the channels and kinds of altitude (`pressure altitude`) that the primary has from the secondary. */
  readonly brings?: readonly string[];
  /** What a reader must know; the reason, when the two were not joined. */
  readonly remarks: readonly string[];
}

/** An offset that a person gives, with its standard deviation, seconds. */
export interface GivenOffset {
  readonly value: number;
  readonly sigma: number;
}

/** An offset beyond this is told: it is no longer the delay of a receiver but a wrong clock. */
const usualOffsetS = 3;

/** A written offset that differs from the one in the recordings by more than this is asked back. */
const doubtfulOffsetS = 2;

/** Minutes of the secondary outside the primary that are worth a word. */
const leastOutsideS = 300;

/** Channels that are directions: they are interpolated over north. */
const directions: ReadonlySet<ChannelName> = new Set(['headingRad', 'windFromRad']);

/**
 * Means over the rows of the camera that felt or heard them, used to tenths of a second against its own positions. At the
 * rows of another recorder, with the uncertainty of the offset, they would say something else: they stay where they are.
 */
const ofOwnRows: ReadonlySet<ChannelName> = new Set(['accelerationForwardMps2', 'accelerationUpMps2', 'engineNoise']);

/**
 * Two recordings of one flight (a film and an engine log, say) as one: the offset between their clocks is estimated from
 * the speeds and heights that both hold, and the channels and the pressure altitude of the secondary are brought to the
 * times of the primary, linearly, never across a gap of the secondary. Positions and speeds stay those of the primary;
 * heights, too, unless it has none. Not joined, with the reason among the remarks, when they do not overlap or do not move
 * alike.
 *
 * @param given the offset where a person tells it: it is used as it is, and held against the recordings
 */
export function joinRecordings(primary: Track, secondary: Track, given?: GivenOffset): JoinedRecordings {
  const found = clockOffset(primary, secondary);
  if (given === undefined) {
    if (typeof found === 'string') return { remarks: [found] };
    const remarks = [describe(found)];
    if (Math.abs(found.offsetS.value) > usualOffsetS) remarks.push(wrongClock(found.offsetS.value));
    return joinedAt(primary, secondary, found.offsetS, found.by, remarks);
  }
  const half = 1.96 * given.sigma;
  const offsetS = { value: given.value, low: given.value - half, high: given.value + half };
  const remarks = ["The offset of the clocks is the pilot's."];
  if (typeof found !== 'string') {
    const apartS = Math.abs(found.offsetS.value - given.value);
    const foundHalf = (found.offsetS.high - found.offsetS.low) / 2;
    if (apartS > Math.hypot(half, foundHalf) && apartS > doubtfulOffsetS)
      remarks.push(
        `By ${found.by} the recordings agree at an offset of ${formatFixed(found.offsetS.value, 1)} s, give or take ${formatFixed(foundHalf, 1)} s: is the written one right?`,
      );
  }
  return joinedAt(primary, secondary, offsetS, 'pilot', remarks);
}

function joinedAt(
  primary: Track,
  secondary: Track,
  offsetS: Interval,
  by: NonNullable<JoinedRecordings['by']>,
  remarks: readonly string[],
): JoinedRecordings {
  const times = secondary.timeS.map((timeS) => timeS + offsetS.value);
  const outsideS = outside(primary.timeS, times);
  if (outsideS === undefined) {
    return { remarks: [...remarks, 'At this offset of the clocks the two recordings have no time in common.'] };
  }
  const told = [...remarks];
  if (outsideS > leastOutsideS) {
    told.push(
      `${formatDuration(outsideS)} of the second recording lie outside the first and are not used: name the longer one first to use them.`,
    );
  }
  const bring = (values: Float64Array, circular: boolean): Float64Array =>
    interpolated(times, values, secondary.breaks, primary.timeS, circular);
  const brings: string[] = [];
  const channels: Partial<Record<ChannelName, Float64Array>> = { ...primary.channels };
  for (const [key, values] of Object.entries(secondary.channels)) {
    const name = key as ChannelName;
    if (ofOwnRows.has(name) || hasValues(primary.channels[name]) || !hasValues(values)) continue;
    const brought = bring(values, directions.has(name));
    if (!hasValues(brought)) continue;
    channels[name] = brought;
    brings.push(name);
  }
  const altitudes = [...primary.altitudes];
  const hasGeometric = altitudes.some(({ kind, valuesM }) => kind !== 'pressure' && hasValues(valuesM));
  for (const column of secondary.altitudes) {
    const wanted =
      column.kind === 'pressure'
        ? !altitudes.some(({ kind, valuesM }) => kind === 'pressure' && hasValues(valuesM))
        : !hasGeometric;
    if (!wanted || !hasValues(column.valuesM)) continue;
    altitudes.push({ ...column, valuesM: bring(column.valuesM, false) });
    brings.push(column.kind === 'pressure' ? 'pressure altitude' : 'altitude');
  }
  return { track: { ...primary, altitudes, channels }, clockOffsetS: offsetS, by, brings, remarks: told };
}

function hasValues(values: Float64Array | undefined): boolean {
  return values?.some((value) => Number.isFinite(value)) === true;
}

/** Seconds of the second span outside the first; `undefined` when they have nothing in common. */
function outside(first: Float64Array, second: Float64Array): number | undefined {
  const [from, to] = [first[0], first[first.length - 1]];
  const [begin, end] = [second[0], second[second.length - 1]];
  if (!(begin <= to && end >= from)) return undefined;
  return Math.max(0, from - begin) + Math.max(0, end - to);
}

function describe({ offsetS, overlapS, correlation, by }: ClockOffset): string {
  const half = (offsetS.high - offsetS.low) / 2;
  return `Clocks compared by ${by} over ${Math.round(overlapS / 60)} min (correlation ${correlation.toFixed(3)}): offset ${offsetS.value.toFixed(2)} s, give or take ${half.toFixed(2)} s. A difference in the delays of the two recorders is part of it.`;
}

/** An offset is added to the times: what has to be taken off stands ahead. */
function wrongClock(offsetS: number): string {
  const side = offsetS < 0 ? 'ahead' : 'behind';
  const hours = Math.abs(offsetS) / 3600;
  const halfHours = Math.round(hours * 2) / 2;
  if (halfHours !== 0 && Math.abs(hours - halfHours) < 0.05) {
    return `The clock of the second recording is about ${halfHours} h ${side}: it keeps local time, it seems.`;
  }
  return `The clock of the second recording is ${formatFixed(Math.abs(offsetS), 1)} s ${side}.`;
}
