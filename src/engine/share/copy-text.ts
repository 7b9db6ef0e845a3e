import { channelWords } from '../track/channel-words.ts';
import { formatList } from '../../../shared/format.ts';
import type { ChannelName, Track } from '../track/track.ts';
import { channelsNotInCsv, writeCsv } from '../track/write-csv.ts';
import { writeGpx } from '../track/write-gpx.ts';
import type { ShareOptions } from './share.ts';

export type CopyFormat = 'gpx' | 'csv';

/**
 * A table where the recording holds what GPX has no place for: instruments, a pressure altitude beside another height, or
 * what its heights are above (without which their error is taken to be larger).
 */
export function formatFor(track: Track): CopyFormat {
  const carried = Object.keys(track.channels).length - channelsNotInCsv(track).length;
  const more = track.verticalSpeedMps ?? track.horizontalSigmaM ?? track.verticalSigmaM ?? track.speedSigmaMps;
  return carried > 0 || more !== undefined || track.altitudes.length > 1 || track.altitudes[0]?.kind !== 'unknown'
    ? 'csv'
    : 'gpx';
}

/** Where a copy leaves something behind, it is said of which sensor. */
const lostWords: Readonly<Record<string, string>> = {
  ...channelWords,
  accelerationForwardMps2: "the accelerometer's forward axis",
  accelerationUpMps2: "the accelerometer's upward axis",
};

/** What of a recording its copy lacks and an analysis might have used, as plain sentences. */
export function leftBehind(original: Track, copy: Track, format: CopyFormat): string[] {
  const names = format === 'csv' ? channelsNotInCsv(copy) : (Object.keys(copy.channels) as ChannelName[]);
  const lost = names.map((name) => lostWords[name] ?? name);
  const hadPressure = original.altitudes.some(({ kind }) => kind === 'pressure');
  if (hadPressure && !copy.altitudes.some(({ kind }) => kind === 'pressure')) lost.push('pressure altitude');
  if (format === 'gpx') {
    if (copy.altitudes.length > 1)
      lost.push(copy.altitudes[1].kind === 'pressure' ? 'pressure altitude' : 'a second height');
    if (copy.verticalSpeedMps !== undefined) lost.push('vertical speed');
    if (copy.horizontalSigmaM ?? copy.verticalSigmaM ?? copy.speedSigmaMps) lost.push("the receiver's own accuracies");
  }
  const film = original.videoStartS === undefined ? [] : ['times into the film'];
  const all = [...lost, ...film];
  return all.length === 0 ? [] : [`Not in the copy: ${formatList(all)}.`];
}

/** The file of a copy. Nothing of the recording but its samples goes in. */
export function textOf(track: Track, format: CopyFormat, options: ShareOptions): string {
  const remark = [
    options.places === 'moved'
      ? 'Positions were moved to hide the field: they lie relative to a point in the ocean.'
      : 'What lies around the fields was cut out.',
    ...(options.dates === 'moved' ? ['The date was moved by whole days.'] : []),
  ].join(' ');
  const heights = 'Heights are above the place where the recording begins.';
  const relative = options.heights === 'relative';
  if (format === 'csv') return writeCsv(track, { remark: relative ? `${remark} ${heights}` : remark });
  return writeGpx(track, { remark, ...(relative ? { datum: heights } : {}) });
}
