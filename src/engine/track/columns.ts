import type { AltitudeColumn, ChannelName, Track } from './track.ts';

/** The columns of a track that a recording may have or not, beside altitudes and channels. */
export const motionColumnNames = [
  'groundSpeedMps',
  'trackRad',
  'verticalSpeedMps',
  'horizontalSigmaM',
  'verticalSigmaM',
  'speedSigmaMps',
  'hdop',
] as const;

/** Every column of a track through one function (time and position are left to the caller). */
export function mapColumns(
  track: Track,
  map: (values: Float64Array) => Float64Array,
): Pick<Track, (typeof motionColumnNames)[number] | 'altitudes' | 'channels'> {
  const motion: Partial<Record<(typeof motionColumnNames)[number], Float64Array>> = {};
  for (const name of motionColumnNames) {
    const values = track[name];
    if (values) motion[name] = map(values);
  }
  const altitudes: AltitudeColumn[] = track.altitudes.map((column) => ({ ...column, valuesM: map(column.valuesM) }));
  const channels: Partial<Record<ChannelName, Float64Array>> = {};
  for (const [name, values] of Object.entries(track.channels)) channels[name as ChannelName] = map(values);
  return { ...motion, altitudes, channels };
}

/** The rows of a track at ascending indices. A break lies before a kept row when one lay between it and the kept row before, or when rows were left out there. */
export function keepRows(track: Track, rows: readonly number[]): Track {
  const pick = (values: Float64Array): Float64Array => Float64Array.from(rows, (row) => values[row]);
  const breaks: number[] = [];
  let next = 0;
  for (const [i, row] of rows.entries()) {
    let stated = false;
    while (next < track.breaks.length && track.breaks[next] <= row) {
      next++;
      stated = true;
    }
    if (i > 0 && (stated || row > rows[i - 1] + 1)) breaks.push(i);
  }
  return {
    ...track,
    ...mapColumns(track, pick),
    timeS: pick(track.timeS),
    latDeg: pick(track.latDeg),
    lonDeg: pick(track.lonDeg),
    breaks,
  };
}
