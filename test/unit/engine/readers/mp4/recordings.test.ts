import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { readRecording } from '../../../../../src/engine/readers/index.ts';
import type { Track } from '../../../../../src/engine/track/track.ts';
import { bytesInMemory } from '../../../../../src/engine/world.ts';
import { near } from '../../../../tools/near.ts';
import { sharedData } from '../../../../tools/shared-data.ts';
import { itWithData } from '../../../../tools/with-shared-data.ts';

describe('a real film with a GPS track', () => {
  // Facts as described in data/SOURCES.md: 191 samples at about 18.2 Hz, 3D fix, 2019-11-18T23:45:14Z, a walk of 13.6 m
  // at 0.5 to 1.4 m/s, altitude -23.6 to -22.9 m above the ellipsoid, five tracks.
  itWithData('is read with its facts', 'data/video/video-gpmf-01.mp4', async (bytes) => {
    const { track, format, problems, contents } = await readRecording(bytesInMemory('film.mp4', bytes));
    assert.equal(format, 'gpmf');
    assert.deepEqual(problems, []);
    assert.ok(track);
    assert.equal(track.timeS.length, 191);
    near(track.timeS[0], Date.UTC(2019, 10, 18, 23, 45, 14) / 1000, 2);
    near(190 / (track.timeS[190] - track.timeS[0]), 18.2, 0.3);
    const altitudes = track.altitudes[0];
    assert.equal(altitudes.kind, 'ellipsoid');
    near(Math.min(...altitudes.valuesM), -23.6, 0.05);
    near(Math.max(...altitudes.valuesM), -22.9, 0.05);
    const speeds = track.groundSpeedMps ?? new Float64Array([Number.NaN]);
    near(Math.min(...speeds), 0.5, 0.05);
    near(Math.max(...speeds), 1.4, 0.05);
    let walkedM = 0;
    for (let i = 1; i < 191; i++) {
      const northM = (track.latDeg[i] - track.latDeg[i - 1]) * 111_195;
      const eastM = (track.lonDeg[i] - track.lonDeg[i - 1]) * 111_195 * Math.cos((track.latDeg[i] * Math.PI) / 180);
      walkedM += Math.hypot(northM, eastM);
    }
    near(walkedM, 13.6, 0.1);
    assert.match(
      contents[0],
      /video \(avc1\), sound \(mp4a\), time code \(tmcd\), metadata \(gpmd\), metadata \(fdsc\)/,
    );
    near((track.videoStartS ?? 0) - track.timeS[0], 0, 0.2);
  });
});

interface Moment {
  readonly utc: string;
  readonly lat: number;
  readonly lon: number;
  readonly groundSpeedKt: number;
}

interface TrueFlight {
  readonly file: string;
  readonly epochUtc: string;
  readonly receiver: { positionLagS: number; velocityLagS: number; samples: number; firstFixT: number };
  readonly takeoffs: readonly { rejected: boolean; brakeRelease: { utc: string }; liftoff?: Moment | null }[];
}

function at(track: Track, column: Float64Array, timeS: number): number {
  const next = track.timeS.findIndex((value) => value > timeS);
  const weight = (timeS - track.timeS[next - 1]) / (track.timeS[next] - track.timeS[next - 1]);
  return column[next - 1] + weight * (column[next] - column[next - 1]);
}

describe('simulated films with known answers', () => {
  const films = [
    ['engine', '2024-10-29_1749'],
    ['engine', '2024-11-13_1627'],
    ['plugs', '2023-12-21_1650'],
    ['plugs', '2024-01-04_1648'],
    ['plugs', '2024-07-04_1316'],
    ['plugs', '2024-07-15_1315'],
  ];
  for (const [story, name] of films) {
    itWithData(
      `${name}: places and speeds at lift-off are the true ones`,
      `flights/${story}/tracks/${name}.mp4`,
      async (bytes) => {
        const truth = JSON.parse(readFileSync(sharedData(`flights/${story}/truth.json`) as string, 'utf8')) as {
          flights: TrueFlight[];
        };
        const flight = truth.flights.find(({ file }) => file === `tracks/${name}.mp4`);
        assert.ok(flight);
        const { receiver } = flight;
        const { track, problems, contents } = await readRecording(bytesInMemory('film.mp4', bytes));
        assert.ok(track);
        assert.equal(problems.filter(({ severity }) => severity === 'error').length, 0);
        assert.match(contents.join(' '), new RegExp(`\\b${receiver.samples}\\b`));
        const firstFixS = Date.parse(flight.epochUtc) / 1000 + receiver.firstFixT;
        assert.ok(track.timeS[0] >= firstFixS - 0.1 && track.timeS[0] < firstFixS + 12, 'begins at the first fix');
        let checked = 0;
        for (const { liftoff } of flight.takeoffs) {
          if (!liftoff) continue;
          const liftoffS = Date.parse(liftoff.utc) / 1000;
          if (liftoffS < track.timeS[1]) continue;
          const placeS = liftoffS + receiver.positionLagS;
          const northM = (at(track, track.latDeg, placeS) - liftoff.lat) * 111_195;
          const eastM =
            (at(track, track.lonDeg, placeS) - liftoff.lon) * 111_195 * Math.cos((liftoff.lat * Math.PI) / 180);
          // Positions wander by a few metres over minutes; half a second of wrong time alone would be 12 m along the runway.
          near(Math.hypot(northM, eastM), 0, 9, 'place at lift-off');
          const speedMps = at(track, track.groundSpeedMps as Float64Array, liftoffS + receiver.velocityLagS);
          near(speedMps, liftoff.groundSpeedKt * 0.514444, 0.9, 'speed at lift-off');
          checked++;
        }
        assert.ok(checked > 0, 'at least one lift-off in the recording');
        // The film begins when recording does; the pictures and the positions share its time.
        assert.ok(track.videoStartS !== undefined && track.videoStartS <= track.timeS[0]);
      },
    );
  }
});
