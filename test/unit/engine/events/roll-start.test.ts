import { equal, ok } from 'node:assert/strict';
import { findRollStart } from '../../../../src/engine/events/roll-start.ts';
import { deriveMotion } from '../../../../src/engine/track/derive-motion.ts';
import { Random } from '../../../synth/random.ts';
import { trackOf } from '../track/track-of.ts';

/** Speed that grows from `v0` at time 0 at `a`, the acceleration building up over `ramp` seconds. */
function run(
  rateHz: number,
  seed: string,
  v0: number,
  ramp: number,
  noise = 0.08,
): ReturnType<typeof deriveMotion>['motion'] {
  const random = new Random(seed);
  const rows = [];
  let east = 0;
  let last = -20;
  let speedBefore = v0;
  for (let index = 0; index < 35 * rateHz; index += 1) {
    const t = -20 + index / rateHz;
    const since = t - 0.25;
    let gained = 0;
    if (since > 0) gained = since < ramp ? (2 * since ** 2) / (2 * ramp) : 2 * (since - ramp / 2);
    const speed = v0 + gained;
    // Half way between the two speeds: positions a half step early would read as a late receiver.
    east += ((speedBefore + speed) / 2) * (t - last);
    last = t;
    speedBefore = speed;
    rows.push({ t, east: east + random.normal(0, 0.2), up: 100, speed: Math.max(0, speed + random.normal(0, noise)) });
  }
  return deriveMotion(trackOf(rows)).motion;
}

const zero = 1_700_000_000;

describe('findRollStart', () => {
  function standingStarts(rateHz: number) {
    return Array.from({ length: 20 }, (_, index) => {
      const found = findRollStart(
        run(rateHz, `s${index}`, 0, 0.3),
        { goingS: zero + 6, goingMps: 10, notBeforeS: zero - 20 },
        1,
      );
      ok(found && !found.rolling);
      equal(found.startSpeedMps, 0);
      return { error: found.timeS - zero, sigma: found.sigmaS };
    });
  }

  it('extrapolates a standing start back to rest: a threshold of 2 m/s would be a second late', () => {
    const mean = standingStarts(5).reduce((sum, one) => sum + one.error, 0) / 20;
    // The usual time between brakes off and first motion, 0.4 s, is counted in.
    ok(Math.abs(mean + 0.4) < 0.35, `mean ${mean.toFixed(2)} s`);
  });

  it('at 1 Hz, where the lag of a recorder cannot be told and the usual one is taken off one that has none, says how wrong it may be', () => {
    for (const { error, sigma } of standingStarts(1))
      ok(Math.abs(error) < 1.96 * sigma, `${error} s, sigma ${sigma} s`);
  });

  it('covers a slowly opened throttle by its sigma', () => {
    const found = findRollStart(run(5, 'slow', 0, 3), { goingS: zero + 7, goingMps: 10, notBeforeS: zero - 20 }, 1);
    ok(found && Math.abs(found.timeS - zero) < 2 * found.sigmaS, `${found && found.timeS - zero} ± ${found?.sigmaS}`);
  });

  it('tells a rolling start, its speed, and when the acceleration begins', () => {
    const found = findRollStart(
      run(5, 'rolling', 3.5, 1.5),
      { goingS: zero + 6, goingMps: 11, notBeforeS: zero - 20 },
      1,
    );
    ok(found?.rolling);
    ok(Math.abs(found.startSpeedMps - 3.5) < 0.4, `${found.startSpeedMps} m/s`);
    ok(Math.abs(found.timeS - zero) < 2 * found.sigmaS, `${found.timeS - zero} ± ${found.sigmaS}`);
  });

  it('answers nothing when the run is not in the recording', () => {
    const motion = deriveMotion(
      trackOf([
        { t: 0, east: 0, speed: 0 },
        { t: 20, east: 300, speed: 30 },
      ]),
    ).motion;
    equal(findRollStart(motion, { goingS: zero + 20, goingMps: 15, notBeforeS: zero }, 1), undefined);
  });
});
