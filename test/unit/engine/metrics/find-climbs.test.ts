import assert from 'node:assert/strict';
import { climbRateBetween, findClimbs } from '../../../../src/engine/metrics/index.ts';
import { near } from '../../../tools/near.ts';
import { flown } from './flown.ts';

const footM = 0.3048;
const gravityMps2 = 9.80665;

describe('climbs', () => {
  it('finds a steady climb with its rate, gradient, bands and best minute', () => {
    const { track, motion, times } = flown([
      { seconds: 300, climbMps: 4 },
      { seconds: 200 },
      { seconds: 300, climbMps: -2 },
    ]);
    const climbs = findClimbs(motion, track);
    assert.equal(climbs.length, 1);
    const [climb] = climbs;
    near(climb.rateOfClimbMps.value, 4, 1e-3);
    near(climb.gradient?.value ?? 0, 0.1, 1e-3);
    near(climb.bestMinuteMps?.value ?? 0, 4, 1e-3);
    // The first 300 ft are left out, and the corner at the top.
    assert.ok(climb.fromAltitudeM >= 100 + 91 && climb.fromAltitudeM < 100 + 125, `${climb.fromAltitudeM}`);
    assert.ok(climb.endS > times[1] - 20 && climb.endS <= times[1]);
    for (const band of climb.bands) {
      near(band.rateOfClimbMps.value, 4, 1e-3);
      near(band.groundSpeedMps, 40, 1e-3);
      near(band.turningFraction, 0, 1e-9);
    }
    // Whole bands lie between multiples of 500 ft.
    const whole = climb.bands.filter((band) => Math.abs(band.toAltitudeM - band.fromAltitudeM - 500 * footM) < 0.5);
    assert.ok(whole.length >= 6);
    for (const { fromAltitudeM } of whole)
      near(fromAltitudeM / (500 * footM), Math.round(fromAltitudeM / (500 * footM)), 1e-6);
    assert.match(climb.remarks.join(' '), /rising or sinking air is in it/);
    assert.match(climb.remarks.join(' '), /first 300 ft/);
  });

  it('counts gained speed: a climb that slows down is not as good as it looks', () => {
    const speeds = Array.from({ length: 60 }, (_, i) => 45 - 0.1 * i);
    const pieces = [
      { seconds: 60, climbMps: 4, airspeedMps: 45 },
      ...speeds.map((airspeedMps) => ({ seconds: 2, climbMps: 4, airspeedMps })),
    ];
    const { track, motion, times } = flown([...pieces, { seconds: 200, climbMps: 0, airspeedMps: 39 }]);
    const startS = times[1] + 10;
    const endS = times[61] - 10;
    const found = climbRateBetween(motion, track, [], startS, endS);
    near(found?.rateOfClimbMps.value ?? 0, 4, 0.02);
    // dV/dt = -0.05 m/s2 at about 42 m/s.
    near(found?.energyRateMps?.value ?? 0, 4 - (42 / gravityMps2) * 0.05, 0.03);
  });

  it('splits a climb at a level-off, and takes none of it', () => {
    const { track, motion } = flown([
      { seconds: 150, climbMps: 4 },
      { seconds: 40 },
      { seconds: 150, climbMps: 3 },
      { seconds: 200 },
    ]);
    const climbs = findClimbs(motion, track);
    assert.equal(climbs.length, 2);
    near(climbs[0].rateOfClimbMps.value, 4, 0.02);
    near(climbs[1].rateOfClimbMps.value, 3, 0.02);
    assert.match(climbs[0].remarks.join(' '), /level-off ends this climb/);
  });

  it('does not climb across a gap', () => {
    const { track, motion } = flown([{ seconds: 400, climbMps: 4 }, { seconds: 100 }], { gaps: [[200, 225]] });
    const climbs = findClimbs(motion, track);
    assert.equal(climbs.length, 2);
    for (const climb of climbs) near(climb.rateOfClimbMps.value, 4, 0.02);
    assert.equal(climbRateBetween(motion, track, [], 1_700_000_180, 1_700_000_260), undefined);
  });

  it('takes a pressure altitude, scaled by temperature and satellite height', () => {
    const more = (rows: readonly { readonly up: number }[]) => ({
      altitudes: [
        { kind: 'msl' as const, valuesM: Float64Array.from(rows, ({ up }) => up) },
        // 4 % less than geometric: air 11 K warmer than standard.
        { kind: 'pressure' as const, valuesM: Float64Array.from(rows, ({ up }) => 30 + (up - 100) / 1.04) },
      ],
    });
    const { track, motion } = flown([{ seconds: 300, climbMps: 4 }, { seconds: 100 }], { more });
    const [climb] = findClimbs(motion, track);
    near(climb.rateOfClimbMps.value, 4, 0.01);
    for (const band of climb.bands) {
      near(band.rateOfClimbMps.value, 4, 0.01);
      assert.match(band.rateOfClimbMps.method, /pressure altitude, scaled by the satellite height/);
    }
  });

  it('says what a pressure altitude alone cannot tell', () => {
    const more = (rows: readonly { readonly up: number }[]) => ({
      altitudes: [{ kind: 'pressure' as const, valuesM: Float64Array.from(rows, ({ up }) => up) }],
    });
    const { track, motion } = flown([{ seconds: 300, climbMps: 4 }, { seconds: 100 }], { more });
    const [climb] = findClimbs(motion, track);
    near(climb.rateOfClimbMps.value, 4, 0.01);
    assert.match(climb.remarks.join(' '), /without an air temperature/);
    const half = (climb.rateOfClimbMps.high - climb.rateOfClimbMps.low) / 2;
    near(half / 4, 1.96 * (12 / 288), 0.005);
    const outsideAirTemperatureK = new Float64Array(track.timeS.length).fill(300);
    const warm = findClimbs(motion, { ...track, channels: { outsideAirTemperatureK } })[0];
    // 300 K at a mean height of about 750 m (283.3 K standard).
    near(
      warm.rateOfClimbMps.value,
      (4 * 300) / (288.15 - 0.0065 * ((climb.fromAltitudeM + climb.toAltitudeM) / 2)),
      0.02,
    );
  });

  it('leaves alone what is no climb', () => {
    const level = flown([{ seconds: 600 }]);
    assert.deepEqual(findClimbs(level.motion, level.track), []);
    const hop = flown([{ seconds: 20, climbMps: 3 }, { seconds: 20, climbMps: -3 }, { seconds: 100 }]);
    assert.deepEqual(findClimbs(hop.motion, hop.track), []);
    const nothing = flown([{ seconds: 300, climbMps: 4 }], { more: () => ({ altitudes: [] }) });
    assert.deepEqual(findClimbs(nothing.motion, nothing.track), []);
  });

  it('knows how much of a climb was turned', () => {
    const { track, motion } = flown([{ seconds: 300, climbMps: 4, turn: 3 }, { seconds: 100 }]);
    const [climb] = findClimbs(motion, track);
    for (const band of climb.bands) near(band.turningFraction, 1, 1e-9);
    near(climb.gradient?.value ?? 0, 0.1, 2e-3);
  });
});
