import type { RecordedForce } from '../accelerometer.ts';
import type { Recording } from '../receive.ts';
import { writeFit } from '../write-fit.ts';
import { writeCammMp4, writeGpmfMp4 } from '../write-mp4.ts';

/** A film whose telemetry is a GPMF stream: GPS5 at 18 Hz or GPS9 at 10 Hz. The camera's own clock is wrong. */
export function writeGpmfFilm(recording: Recording, stream: 'GPS5' | 'GPS9'): Uint8Array {
  return writeGpmfMp4(
    recording.fixes.map((fix) => ({
      timeS: fix.timeS,
      latDeg: fix.latDeg,
      lonDeg: fix.lonDeg,
      altitudeM: fix.heightM,
      groundSpeedMps: fix.groundSpeedMps,
      fix: fix.valid ? 3 : 0,
      dop: fix.valid ? 1.4 : 99.99,
    })),
    {
      stream,
      creationS: Math.floor(recording.fixes[0].timeS) - 86_400 * 3 + 1234,
      ...(recording.kind.heightDatum === 'msl' && { altitudeSystem: 'MSLV' }),
      ...(recording.force && { acceleration: secondsOf(recording.force) }),
    },
  );
}

/** The samples that fall into each second of the film. */
function secondsOf(
  force: RecordedForce,
): (payload: number, startS: number) => readonly (readonly [number, number, number])[] {
  let next = 0;
  return (_, startS) => {
    const samples: [number, number, number][] = [];
    while (next < force.timeS.length && force.timeS[next] - force.leadS < startS) next++;
    while (next < force.timeS.length && force.timeS[next] - force.leadS < startS + 1) {
      samples.push([force.x[next], force.y[next], force.z[next]]);
      next++;
    }
    return samples;
  };
}

/** A film with a camera motion metadata track, packet type 6. */
export function writeCammFilm(recording: Recording): Uint8Array {
  const { claims, verticalVelocity } = recording.kind;
  return writeCammMp4(
    recording.fixes
      .filter((fix) => fix.valid)
      .map((fix) => ({
        timeS: fix.timeS,
        latDeg: fix.latDeg,
        lonDeg: fix.lonDeg,
        altitudeM: fix.heightM,
        eastMps: fix.eastMps,
        northMps: fix.northMps,
        ...(verticalVelocity && { upMps: fix.verticalSpeedMps }),
        ...(claims && {
          horizontalSigmaM: claims.horizontalM,
          verticalSigmaM: claims.verticalM,
          speedSigmaMps: claims.speedMps,
        }),
      })),
    { creationS: Math.floor(recording.fixes[0].timeS) },
  );
}

/** Whole seconds only: a faster recording is thinned to the first sample of each second, as such recorders do. */
export function writeFitFile(recording: Recording): Uint8Array {
  let before = Number.NaN;
  return writeFit(
    recording.fixes
      .filter((fix) => {
        if (!fix.valid) return false;
        const second = Math.round(fix.timeS);
        const fresh = second !== before;
        before = second;
        return fresh;
      })
      .map((fix) => ({
        timeS: Math.round(fix.timeS),
        latDeg: fix.latDeg,
        lonDeg: fix.lonDeg,
        altitudeM: fix.heightM,
        ...(!Number.isNaN(fix.groundSpeedMps) && { groundSpeedMps: fix.groundSpeedMps }),
      })),
  );
}
