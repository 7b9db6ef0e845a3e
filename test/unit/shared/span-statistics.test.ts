import assert from 'node:assert/strict';
import { spanStatistics } from '../../../shared/span-statistics.ts';
import type { TrackColumns } from '../../../shared/track-columns.ts';

interface Flown {
  readonly seconds: number;
  readonly height: (t: number) => number;
  readonly speed: (t: number) => number;
  readonly track?: (t: number) => number;
  readonly trueAirspeed?: (t: number) => number;
  gapsBefore?: readonly number[];
}

function columns(flown: Flown): TrackColumns {
  const n = flown.seconds + 1;
  const timeS = Float64Array.from({ length: n }, (_, i) => i);
  const fill = (of: (t: number) => number): Float32Array => Float32Array.from(timeS, of);
  const distanceM = new Float64Array(n);
  for (let i = 1; i < n; i++) distanceM[i] = distanceM[i - 1] + (flown.speed(i) + flown.speed(i - 1)) / 2;
  return {
    startS: 1_780_000_000,
    timeS,
    distanceM,
    eastM: fill(() => 0),
    northM: Float32Array.from(distanceM),
    heightM: fill(flown.height),
    heightKind: 'msl',
    groundSpeedMps: fill(flown.speed),
    speedSource: 'receiver',
    verticalSpeedMps: fill(() => 0),
    trackRad: fill(flown.track ?? (() => 1)),
    ...(flown.trueAirspeed ? { airspeedMps: fill(flown.trueAirspeed), airspeedKind: 'true' as const } : {}),
    gapsBefore: flown.gapsBefore ?? [],
  };
}

describe('span statistics', () => {
  it('finds rate, speed, distance and direction of a steady climb, and says that it is one', () => {
    const found = spanStatistics(columns({ seconds: 100, height: (t) => 100 + 4 * t, speed: () => 40 }), 10, 90);
    assert.ok(found);
    assert.equal(found.durationS, 80);
    assert.ok(Math.abs(found.distanceM - 3200) < 1e-6);
    assert.ok(Math.abs((found.rateOfClimbMps?.value ?? 0) - 4) < 1e-6);
    assert.ok(Math.abs((found.groundSpeedMps?.value ?? 0) - 40) < 1e-6);
    assert.ok(Math.abs((found.trackRad ?? 0) - 1) < 1e-6);
    assert.deepEqual(found.steadiness, { usableAs: 'climb', against: [] });
  });

  it('corrects a zoom for energy: level flight accelerating at 0.5 kt/s at 80 kt is worth 212.5 ft/min', () => {
    // Flight-test reference handbook (SFTE, 2013) ch. 12: P_s = dh/dt + (V/g) dV/dt.
    const knot = 1852 / 3600;
    const speed = (t: number) => (80 + 0.5 * (t - 10)) * knot;
    const found = spanStatistics(columns({ seconds: 20, height: () => 500, speed }), 0, 20);
    const feetPerMinute = ((found?.energyRateMps?.value ?? 0) / 0.3048) * 60;
    assert.ok(Math.abs(feetPerMinute - 212.5) < 0.2, `${feetPerMinute}`);
    assert.equal(found?.energySpeed, 'ground speed');
    assert.equal(found?.steadiness.usableAs, 'neither');
  });

  it('prefers a recorded true airspeed for the energy height', () => {
    const found = spanStatistics(
      columns({ seconds: 60, height: (t) => 3 * t, speed: (t) => 30 + t * 0.2, trueAirspeed: () => 45 }),
      0,
      60,
    );
    assert.equal(found?.energySpeed, 'airspeed');
    assert.ok(Math.abs((found?.energyRateMps?.value ?? 0) - 3) < 1e-6);
  });

  it('takes the mean of directions around north', () => {
    const found = spanStatistics(
      columns({
        seconds: 40,
        height: () => 900,
        speed: () => 50,
        track: (t) => (t % 2 === 0 ? 0.01 : 2 * Math.PI - 0.01),
      }),
      0,
      40,
    );
    const track = found?.trackRad ?? 9;
    assert.ok(Math.min(track, 2 * Math.PI - track) < 0.011);
  });

  it('says what stands against a test run: a turn, a hole, too short, speed wandering', () => {
    const turning = spanStatistics(
      columns({
        seconds: 60,
        height: () => 900,
        speed: () => 50,
        track: (t) => (t * 3 * Math.PI) / 180,
        gapsBefore: [30],
      }),
      0,
      60,
    );
    assert.equal(turning?.steadiness.usableAs, 'neither');
    assert.equal(turning?.steadiness.against.length, 2);
    const short = spanStatistics(columns({ seconds: 20, height: () => 900, speed: () => 50 }), 0, 20);
    assert.deepEqual(short?.steadiness, { usableAs: 'neither', against: ['Shorter than 30 s.'] });
    const gusty = spanStatistics(
      columns({ seconds: 60, height: () => 900, speed: (t) => 50 + 3 * Math.sin(t) }),
      0,
      60,
    );
    assert.deepEqual(gusty?.steadiness.against, ['Ground speed not within 2 kt.']);
  });

  it('widens the interval when neighbours are alike', () => {
    const white = (t: number): number => Math.sin(t * t * 12.9898) * 3;
    const slow = (t: number): number => Math.sin(t / 15) * 3;
    const width = (height: (t: number) => number): number => {
      const rate = spanStatistics(columns({ seconds: 200, height, speed: () => 40 }), 0, 200)?.rateOfClimbMps;
      return rate ? rate.high - rate.low : Number.NaN;
    };
    assert.ok(width((t) => 4 * t + slow(t)) > 3 * width((t) => 4 * t + white(t)));
  });

  it('has nothing to say about less than two rows', () => {
    assert.equal(spanStatistics(columns({ seconds: 10, height: () => 0, speed: () => 0 }), 3, 3.2), undefined);
  });
});
