import { ok } from 'node:assert/strict';
import { findEvents } from '../../../../src/engine/events/find-events.ts';
import { deriveMotion } from '../../../../src/engine/track/derive-motion.ts';
import { liftoffAfterS, recordRun, rollM, type Run, startS } from './made-up-run.ts';

const lags = { speedLagS: 0.3, positionLagS: 0.25, heightLagS: 0.45 } as const;
const liftoffS = startS + liftoffAfterS;

function errors(
  run: Omit<Run, 'seed'>,
  count: number,
): { timeS: number; sigmaS: number; rollM: number; inside: boolean }[] {
  return Array.from({ length: count }, (_, index) => {
    const { motion } = deriveMotion(recordRun({ ...lags, ...run, seed: `${JSON.stringify(run)} ${index}` }));
    const [takeoff] = findEvents(motion).takeoffs;
    ok(takeoff?.liftoff && takeoff.groundRollM, 'the take-off is found and measured');
    const roll = takeoff.groundRollM;
    return {
      timeS: takeoff.liftoff.timeS - liftoffS,
      sigmaS: takeoff.liftoff.sigmaS,
      rollM: roll.value - rollM,
      inside: roll.low <= rollM && rollM <= roll.high,
    };
  });
}

function rms(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);
}

const good = {
  speedNoiseMps: 0.08,
  positionNoiseM: 0.15,
  positionWanderM: 2,
  heightNoiseM: 0.3,
  heightWanderM: 2.5,
} as const;

describe('lift-off from speed and height together', () => {
  it('is within 0.35 s at 5 Hz with a vertical speed, and says so', () => {
    const found = errors({ ...good, rateHz: 5, verticalNoiseMps: 0.12 }, 16);
    const time = rms(found.map((each) => each.timeS));
    ok(time < 0.35, `${time.toFixed(2)} s`);
    ok(rms(found.map((each) => each.sigmaS)) < 0.5);
    ok(found.filter((each) => each.inside).length >= 14, 'intervals hold the roll');
  });

  it('is within 0.5 s at 5 Hz with wandering heights only (heights alone: 0.5 s and a bias of technique, computed independently)', () => {
    const found = errors({ ...good, rateHz: 5 }, 16);
    const time = rms(found.map((each) => each.timeS));
    ok(time < 0.5, `${time.toFixed(2)} s`);
    ok(found.filter((each) => each.inside).length >= 14, 'intervals hold the roll');
  });

  it('is within 0.8 s at 1 Hz, and the interval is honest about it', () => {
    const found = errors({ ...good, rateHz: 1 }, 20);
    const time = rms(found.map((each) => each.timeS));
    ok(time < 0.8, `${time.toFixed(2)} s`);
    const z = rms(found.map((each) => each.timeS / each.sigmaS));
    ok(z < 1.3, `z ${z.toFixed(2)}`);
    ok(found.filter((each) => each.inside).length >= 17, 'intervals hold the roll');
  });

  it('widens without a speed, and without any height', () => {
    const sigma = (run: Omit<Run, 'seed'>): number => rms(errors(run, 4).map((each) => each.sigmaS));
    const withBoth = sigma({ ...good, rateHz: 1 });
    ok(sigma({ ...good, rateHz: 1, withSpeed: false, positionNoiseM: 0.5 }) > withBoth);
    ok(sigma({ ...good, rateHz: 1, heightWanderM: 8, heightNoiseM: 3 }) > withBoth);
  });

  it('bridges two lost seconds in the roll and measures on', () => {
    const found = errors({ ...good, rateHz: 1, missing: [5.1, 7.9] }, 6);
    ok(rms(found.map((each) => each.timeS)) < 1.2);
    ok(found.filter((each) => each.inside).length >= 5);
  });

  it('finds lift-off on a strip that rises or falls by two per cent', () => {
    for (const slope of [0.02, -0.02]) {
      const time = rms(errors({ ...good, rateHz: 5, slope }, 6).map((each) => each.timeS));
      ok(time < 0.6, `${time.toFixed(2)} s at a slope of ${slope}`);
    }
  });

  it('is not fooled by a recorder that is later than usual: the distance stays within its interval', () => {
    const late = { speedLagS: 0.5, positionLagS: 0.45, heightLagS: 0.8 } as const;
    const found = errors({ ...good, rateHz: 5, ...late }, 10);
    ok(found.filter((each) => each.inside).length >= 9);
  });
});
