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
  /** What a reader must know; the reason, when the two were not joined. */
  readonly remarks: readonly string[];
}

/** An offset beyond this is told: it is no longer the delay of a receiver but a wrong clock. */
const usualOffsetS = 3;

/** Channels that are directions: they are interpolated over north. */
const directions: ReadonlySet<ChannelName> = new Set(['headingRad', 'windFromRad']);

/**
 * Two recordings of one flight (a film and an engine log, say) as one: the offset between their clocks is estimated from
 * the speeds and heights that both hold, and the channels and the pressure altitude of the secondary are brought to the
 * times of the primary, linearly, never across a gap of the secondary. Positions and speeds stay those of the primary.
 * Not joined, with the reason among the remarks, when they do not overlap or do not move alike.
 */
export function joinRecordings(primary: Track, secondary: Track): JoinedRecordings {
  const found = clockOffset(primary, secondary);
  if (typeof found === 'string') return { remarks: [found] };
  const { offsetS } = found;
  const remarks = [describe(found)];
  if (Math.abs(offsetS.value) > usualOffsetS) remarks.push(wrongClock(offsetS.value));
  const times = secondary.timeS.map((timeS) => timeS + offsetS.value);
  const bring = (values: Float64Array, circular: boolean): Float64Array =>
    interpolated(times, values, secondary.breaks, primary.timeS, circular);
  const channels: Partial<Record<ChannelName, Float64Array>> = { ...primary.channels };
  for (const [key, values] of Object.entries(secondary.channels)) {
    const name = key as ChannelName;
    if (primary.channels[name] === undefined) channels[name] = bring(values, directions.has(name));
  }
  const pressure = secondary.altitudes.find(({ kind }) => kind === 'pressure');
  const hasPressure = primary.altitudes.some(({ kind }) => kind === 'pressure');
  const altitudes =
    pressure && !hasPressure
      ? [...primary.altitudes, { ...pressure, valuesM: bring(pressure.valuesM, false) }]
      : primary.altitudes;
  return { track: { ...primary, altitudes, channels }, clockOffsetS: offsetS, remarks };
}

function describe({ offsetS, overlapS, correlation, by }: ClockOffset): string {
  const half = (offsetS.high - offsetS.low) / 2;
  return `Clocks compared by ${by} over ${Math.round(overlapS / 60)} min (correlation ${correlation.toFixed(3)}): offset ${offsetS.value.toFixed(2)} s, give or take ${half.toFixed(2)} s. A difference in the delays of the two recorders is part of it.`;
}

function wrongClock(offsetS: number): string {
  const hours = offsetS / 3600;
  const halfHours = Math.round(hours * 2) / 2;
  if (halfHours !== 0 && Math.abs(hours - halfHours) < 0.05) {
    return `The clock of the second recording is off by about ${halfHours} h: it keeps local time, it seems.`;
  }
  return `The clock of the second recording is off by ${offsetS.toFixed(1)} s.`;
}
