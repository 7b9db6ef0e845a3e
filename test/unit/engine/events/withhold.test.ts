import assert from 'node:assert/strict';
import { analyse } from '../../../../src/engine/analyse.ts';
import { liftoffAfterS, recordRun, rollM, startS } from './made-up-run.ts';

const run = { rateHz: 5, seed: 'withheld', speedNoiseMps: 0.1, positionNoiseM: 0.2, heightNoiseM: 0.3 };

describe('a take-off without heights', () => {
  const seen = recordRun(run);
  const blind = { ...seen, altitudes: [] };

  it('is told with its lift-off where the height is recorded', () => {
    const [takeoff] = analyse(seen).takeoffs;
    assert.ok(takeoff?.groundRollM !== undefined && takeoff.liftoff !== undefined);
  });

  it('is still told, but without lift-off, distances and speeds, and says why', () => {
    const { takeoffs } = analyse(blind);
    assert.equal(takeoffs.length, 1);
    const [takeoff] = takeoffs;
    assert.equal(takeoff.outcome, 'flown');
    assert.deepEqual(
      [takeoff.liftoff, takeoff.groundRollM, takeoff.timeToLiftoffS, takeoff.liftoffSpeedMps, takeoff.screens],
      [undefined, undefined, undefined, undefined, []],
    );
    assert.ok(takeoff.remarks.some((remark) => /Without heights lift-off cannot be told/.test(remark)));
  });

  it('has its ground roll again where the pilot gives lift-off, and the interval holds the closed form', () => {
    const liftoff = { event: 'liftoff' as const, number: 1, timeS: startS + liftoffAfterS };
    const [takeoff] = analyse(blind, { overrides: [liftoff] }).takeoffs;
    assert.equal(takeoff.liftoff?.origin, 'pilot');
    const roll = takeoff.groundRollM;
    assert.ok(roll !== undefined && roll.low < rollM && rollM < roll.high, JSON.stringify({ roll, rollM }));
  });
});
