import assert from 'node:assert/strict';
import { BinnedForce } from '../../../../../src/engine/readers/acceleration/binned-force.ts';
import { bodyAcceleration } from '../../../../../src/engine/readers/acceleration/body-axes.ts';
import { readRecording } from '../../../../../src/engine/readers/index.ts';
import type { Track } from '../../../../../src/engine/track/track.ts';
import { bytesInMemory } from '../../../../../src/engine/world.ts';
import { gpmfRun, speedMpsAt } from '../../../../synth/camera-walk.ts';
import { Random } from '../../../../synth/random.ts';
import { writeGpmfMp4 } from '../../../../synth/write-mp4.ts';
import { near } from '../../../../tools/near.ts';
import { trackOf } from '../../track/track-of.ts';

const gravityMps2 = 9.80665;

/** A camera turned in some way: what it feels of a force forward, right and up. */
function turned(forward: number, right: number, up: number): readonly [number, number, number] {
  // A rotation by Euler angles of 130, 25 and -70 degrees.
  const [a, b, c] = [130, 25, -70].map((degrees) => (degrees * Math.PI) / 180);
  const x1 = forward * Math.cos(a) - right * Math.sin(a);
  const y1 = forward * Math.sin(a) + right * Math.cos(a);
  const x2 = x1 * Math.cos(b) + up * Math.sin(b);
  const z2 = -x1 * Math.sin(b) + up * Math.cos(b);
  return [x2, y1 * Math.cos(c) - z2 * Math.sin(c), y1 * Math.sin(c) + z2 * Math.cos(c)];
}

/** Forward 2 m/s2 from 10 to 30 s, up 3 m/s2 in second 25, as in the run of the test films. */
function forceAt(sinceS: number, noise: () => number): readonly [number, number, number] {
  const forward = sinceS >= 10 && sinceS < 30 ? 2 : 0;
  const up = sinceS >= 25 && sinceS < 26 ? 3 : 0;
  return turned(forward + noise(), noise(), gravityMps2 + up + noise());
}

const startS = Date.UTC(2026, 2, 31) / 1000;

describe("a camera's accelerometer", () => {
  it('gives forward and upward acceleration however the camera is turned', async () => {
    const random = new Random('vibration');
    const bytes = writeGpmfMp4(gpmfRun({ startS, seconds: 60, rateHz: 18.169 }), {
      acceleration: (_, payloadS) =>
        Array.from({ length: 200 }, (__, k) => forceAt(payloadS - startS + k / 200, () => random.normal(0, 1.5))),
    });
    const { track, contents } = await readRecording(bytesInMemory('film.mp4', bytes));
    assert.match(contents.join(' '), /12000 samples, in the aeroplane's axes/);
    const forward = track?.channels.accelerationForwardMps2;
    const up = track?.channels.accelerationUpMps2;
    assert.ok(track && forward && up);
    const mean = (values: Float64Array, fromS: number, toS: number): number => {
      const inside = [...values].filter((_, i) => track.timeS[i] - startS >= fromS && track.timeS[i] - startS < toS);
      return inside.reduce((sum, value) => sum + value, 0) / inside.length;
    };
    // Vibration of 1.5 m/s2 at 200 a second, over 10 s: 0.03 m/s2.
    near(mean(forward, 2, 9), 0, 0.15);
    near(mean(forward, 12, 22), 2, 0.15);
    near(mean(forward, 40, 55), 0, 0.15);
    near(mean(up, 12, 22), 0, 0.15);
    near(mean(up, 25.3, 25.8), 3, 0.4);
  });

  const speeds = trackOf(Array.from({ length: 600 }, (_, k) => ({ t: k / 10, east: 0, speed: speedMpsAt(k / 10) })));
  const filmStartS = speeds.timeS[0];
  const felt = (of: (sinceS: number) => readonly [number, number, number]): BinnedForce => {
    const force = new BinnedForce();
    for (let k = 0; k < 12_000; k++) force.add(k / 200, ...of(k / 200));
    return force;
  };
  const quiet = (): number => 0;
  const reason = (force: BinnedForce, track: Track): string => {
    const found = bodyAcceleration(force, track, filmStartS);
    return typeof found === 'string' ? found : 'it is used';
  };

  it('says why it is not used', () => {
    const whole = felt((sinceS) => forceAt(sinceS, quiet));
    assert.ok(typeof bodyAcceleration(whole, speeds, filmStartS) === 'object');
    const { groundSpeedMps, ...noSpeeds } = speeds;
    assert.ok(groundSpeedMps);
    assert.match(reason(whole, noSpeeds), /no speeds/);
    const moving = { ...speeds, groundSpeedMps: groundSpeedMps.map((value) => value + 3) };
    assert.match(reason(whole, moving), /never stands/);
    const still = { ...speeds, groundSpeedMps: new Float64Array(600) };
    assert.match(reason(whole, still), /no take-off roll/);
    const light = felt((sinceS) => forceAt(sinceS, quiet).map((value) => value / 9.8) as [number, number, number]);
    assert.match(reason(light, speeds), /not gravity/);
    // Held in a hand: the force has nothing to do with the speed.
    const held = felt((sinceS) => turned(Math.sin(sinceS * 1.7), 0, gravityMps2));
    assert.match(reason(held, speeds), /does not follow/);
  });
});
