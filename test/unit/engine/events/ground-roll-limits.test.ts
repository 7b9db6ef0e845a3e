import { ok } from 'node:assert/strict';
import { findEvents } from '../../../../src/engine/events/find-events.ts';
import { deriveMotion } from '../../../../src/engine/track/derive-motion.ts';
import { liftoffAfterS, liftoffMps, recordRun, rollM, type Run, startS } from './made-up-run.ts';

/**
 * The limits that sampling and noise put on a ground roll, computed independently (SciPy, 600 runs each) for a roll of
 * 196 m in 12.85 s to 28 m/s with speeds of 0.10 m/s white noise and positions of 2 m wander (memory 100 s) with 0.15 m of
 * white noise. The recorder here is late by the usual lags, which the engine allows for.
 */
const runs = 60;
const lags = { speedLagS: 0.3, positionLagS: 0.25, heightLagS: 0.45 } as const;

interface Outcome {
  readonly errorM: number;
  readonly halfM: number;
}

function measure(run: Omit<Run, 'seed'>, sigmaS: number, shiftS: (index: number) => number, count = runs): Outcome[] {
  return Array.from({ length: count }, (_, index) => {
    const { motion } = deriveMotion(recordRun({ ...run, ...lags, seed: `limit ${index} ${run.rateHz}` }));
    const { takeoffs } = findEvents(motion, {
      overrides: [
        { event: 'roll-start', number: 1, timeS: startS, sigmaS: 0.05 },
        { event: 'liftoff', number: 1, timeS: startS + liftoffAfterS + shiftS(index), sigmaS },
      ],
    });
    const roll = takeoffs[0].groundRollM;
    ok(roll, 'the roll is measured');
    return { errorM: roll.value - rollM, halfM: (roll.high - roll.low) / 2 };
  });
}

function rms(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);
}

const usual = { speedNoiseMps: 0.1, positionNoiseM: 0.15, positionWanderM: 2 } as const;

describe('the ground roll with lift-off known (limits computed independently)', () => {
  it('is the run that the limits were computed for', () => {
    ok(Math.abs(rollM - 196) < 3 && Math.abs(liftoffAfterS - 12.85) < 0.3 && liftoffMps === 28);
  });

  for (const [rateHz, limitM] of [
    [1, 0.36],
    [5, 0.16],
    [18, 0.09],
  ] as const) {
    it(`from speeds at ${rateHz} Hz errs by no more than 1.25 times the limit of ${limitM} m and 0.03 s of lag`, () => {
      const found = rms(measure({ ...usual, rateHz }, 0.001, () => 0).map((outcome) => outcome.errorM));
      // How late the speeds are behind the positions a minute and a half of recording tells to about 0.03 s.
      ok(found < Math.hypot(1.25 * limitM, 0.03 * liftoffMps) + 0.15, `${found.toFixed(2)} m`);
    });
  }

  it('from positions alone at 5 Hz errs by about the metre that their wander allows (limit 1.0 m)', () => {
    const found = rms(
      measure({ ...usual, rateHz: 5, withSpeed: false }, 0.001, () => 0).map((outcome) => outcome.errorM),
    );
    ok(found < 1.5, `${found.toFixed(2)} m`);
  });

  for (const [sigmaS, limitM] of [
    [0.5, 14.5],
    [1, 28],
  ] as const) {
    it(`says ${limitM} m when lift-off is known to ${sigmaS} s, at any rate`, () => {
      for (const rateHz of [1, 10]) {
        const [outcome] = measure({ ...usual, rateHz }, sigmaS, () => 0, 1);
        // The interval also holds the unknown lag of the recorder, 0.13 s or 3.6 m.
        const expected = 1.96 * Math.hypot(limitM, 3.6);
        ok(
          Math.abs(outcome.halfM / expected - 1) < 0.12,
          `half width ${outcome.halfM.toFixed(1)} m for ${expected.toFixed(1)}`,
        );
      }
    });
  }

  it('does not round the instants to samples (which would add V dt / sqrt 12 = 8.1 m at 1 Hz)', () => {
    const errors = measure({ ...usual, rateHz: 1 }, 0.001, (index) => index / runs - 0.5).map(
      (outcome, index) => outcome.errorM - liftoffMps * (index / runs - 0.5),
    );
    ok(rms(errors) < 1.5, `${rms(errors).toFixed(2)} m`);
  });
});
