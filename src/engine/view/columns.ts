import type { TrackColumns } from '../../../shared/track-columns.ts';
import type { Motion } from '../track/motion.ts';
import type { Track } from '../track/track.ts';

/** Distance along the ground from the first fix: speed integrated within each stretch, straight lines across gaps. Metres. */
function distanceAlong(motion: Motion): Float64Array {
  const { timeS, eastM, northM, groundSpeedMps, stretches } = motion;
  const distanceM = new Float64Array(timeS.length);
  const starts = new Set(stretches.map((stretch) => stretch.from));
  let travelled = 0;
  let lastPlace = -1;
  let lastSpeed = -1;
  for (let row = 0; row < timeS.length; row++) {
    const placed = Number.isFinite(eastM[row]);
    const timed = Number.isFinite(groundSpeedMps[row]);
    if (starts.has(row)) {
      if (lastPlace >= 0 && placed)
        travelled += Math.hypot(eastM[row] - eastM[lastPlace], northM[row] - northM[lastPlace]);
    } else if (timed && lastSpeed >= 0) {
      travelled += ((groundSpeedMps[row] + groundSpeedMps[lastSpeed]) / 2) * (timeS[row] - timeS[lastSpeed]);
    }
    distanceM[row] = travelled;
    if (timed) lastSpeed = row;
    else if (starts.has(row)) lastSpeed = -1;
    if (placed) lastPlace = row;
  }
  return distanceM;
}

function recorded(column: Float64Array | undefined): Float32Array | undefined {
  return column?.some((value) => Number.isFinite(value)) === true ? Float32Array.from(column) : undefined;
}

/** The receiver's own claim where it made one for most rows, else the noise found in the recording, else nothing. */
function sigma(claimed: Float64Array | undefined, noise: number): Float32Array | number | undefined {
  const claims = claimed?.reduce((count, value) => count + (Number.isFinite(value) ? 1 : 0), 0) ?? 0;
  if (claimed !== undefined && claims > claimed.length / 2) return Float32Array.from(claimed);
  return Number.isFinite(noise) && noise > 0 ? noise : undefined;
}

/**
 * What the page draws: the cleaned motion in single precision. Rows are those of `motion`; those before the first and
 * after the last fix are left out, so that hours of no reception do not squeeze the flight.
 *
 * @returns undefined when no fix is usable
 */
export function columnsOf(motion: Motion, track: Track): TrackColumns | undefined {
  const { stretches } = motion;
  if (stretches.length === 0) return undefined;
  const from = stretches[0].from;
  const to = stretches[stretches.length - 1].to;
  const cut = (column: Float64Array): Float32Array => Float32Array.from(column.subarray(from, to));
  const cutMaybe = (column: Float32Array | undefined): Float32Array | undefined => column?.slice(from, to);
  const startS = motion.timeS[from];
  const distanceM = distanceAlong(motion).slice(from, to);
  const origin = distanceM[0];
  const trueAirspeed = recorded(track.channels.trueAirspeedMps);
  const indicated = recorded(track.channels.indicatedAirspeedMps);
  const airspeedMps = cutMaybe(trueAirspeed ?? indicated);
  const heightSigmaM = sigma(track.verticalSigmaM, motion.altitudeNoiseM);
  const groundSpeedSigmaMps = sigma(track.speedSigmaMps, motion.speedNoiseMps);
  return {
    startS,
    timeS: motion.timeS.slice(from, to).map((t) => t - startS),
    distanceM: distanceM.map((d) => d - origin),
    eastM: cut(motion.eastM),
    northM: cut(motion.northM),
    heightM: cut(motion.altitudeM),
    heightKind: motion.altitudeKind,
    groundSpeedMps: cut(motion.groundSpeedMps),
    speedSource: motion.speedSource,
    verticalSpeedMps: cut(motion.verticalSpeedMps),
    trackRad: cut(motion.trackRad),
    ...(airspeedMps === undefined
      ? {}
      : { airspeedMps, airspeedKind: trueAirspeed === undefined ? ('indicated' as const) : ('true' as const) }),
    ...(heightSigmaM === undefined
      ? {}
      : { heightSigmaM: typeof heightSigmaM === 'number' ? heightSigmaM : heightSigmaM.slice(from, to) }),
    ...(groundSpeedSigmaMps === undefined
      ? {}
      : {
          groundSpeedSigmaMps:
            typeof groundSpeedSigmaMps === 'number' ? groundSpeedSigmaMps : groundSpeedSigmaMps.slice(from, to),
        }),
    gapsBefore: stretches.slice(1).map((stretch) => stretch.from - from),
  };
}
