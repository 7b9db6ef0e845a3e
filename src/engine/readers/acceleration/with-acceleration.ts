import type { Track } from '../../track/track.ts';
import type { BinnedForce } from './binned-force.ts';
import { bodyAcceleration } from './body-axes.ts';

/**
 * The track with the accelerations of the camera in the aeroplane's axes, where they can be found out; says in the
 * contents what was found or why not.
 *
 * @param filmStartS Unix time of the telemetry's media time 0
 */
export function withAcceleration(track: Track, force: BinnedForce, filmStartS: number, contents: string[]): Track {
  if (force.samples === 0) return track;
  const found = bodyAcceleration(force, track, filmStartS);
  if (typeof found === 'string') {
    contents.push(`Accelerometer, ${force.samples} samples, not used: ${found}.`);
    return track;
  }
  contents.push(
    `Accelerometer, ${force.samples} samples, in the aeroplane's axes (correlation with the speed in the roll ${found.correlation.toFixed(2)}; the speed is some ${found.delayS.toFixed(1)} s late).`,
  );
  const { forwardMps2, upMps2 } = found;
  return {
    ...track,
    channels: {
      ...track.channels,
      accelerationForwardMps2: forwardMps2,
      accelerationUpMps2: upMps2,
    },
  };
}
