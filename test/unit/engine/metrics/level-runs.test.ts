import assert from 'node:assert/strict';
import { estimateWinds, findLevelRuns, findWinds, withAirspeeds } from '../../../../src/engine/metrics/index.ts';
import { near } from '../../../tools/near.ts';
import { flown } from './flown.ts';

const wind = { eastMps: -5, northMps: 6 };
const degree = Math.PI / 180;
/** Four legs, 90 degrees apart. */
const square = [1, 2, 3, 4].flatMap(() => [
  { seconds: 100, airspeedMps: 50 },
  { seconds: 30, turn: 3, airspeedMps: 50 },
]);
const climb = { seconds: 200, climbMps: 4, airspeedMps: 40 };
const litrePerHour = 1e-3 / 3600;

describe('level runs', () => {
  it('finds the legs of a square, with ground speed and track from the displacement', () => {
    const { track, motion, times } = flown([climb, ...square, { seconds: 200, climbMps: -3 }], { wind });
    const runs = findLevelRuns(motion, track);
    assert.equal(runs.length, 4);
    runs.forEach((run, i) => {
      const leg = 1 + 2 * i;
      assert.ok(run.startS >= times[leg] - 10 && run.endS <= times[leg + 1] + 10, `run ${i}`);
      const heading = 0.3 + i * (Math.PI / 2);
      const east = 50 * Math.sin(heading) + wind.eastMps;
      const north = 50 * Math.cos(heading) + wind.northMps;
      near(run.groundSpeedMps.value, Math.hypot(east, north), 0.05);
      near(Math.cos(run.trackRad - Math.atan2(east, north)), 1, 1e-4);
      near(run.altitudeM, 900, 0.1);
      assert.equal(run.trueAirspeedMps, undefined, 'a ground speed is no airspeed');
    });
  });

  it('cuts where power or height is changed, and leaves the settling out', () => {
    const { track, motion } = flown([
      climb,
      { seconds: 120, airspeedMps: 50 },
      ...Array.from({ length: 20 }, (_, i) => ({ seconds: 1, airspeedMps: 50 - 0.4 * i })),
      { seconds: 120, airspeedMps: 42 },
      { seconds: 60, airspeedMps: 42, climbMps: 2 },
      { seconds: 120, airspeedMps: 42 },
    ]);
    const runs = findLevelRuns(motion, track);
    assert.equal(runs.length, 3);
    near(runs[0].groundSpeedMps.value, 50, 0.15);
    near(runs[1].groundSpeedMps.value, 42, 0.15);
    near(runs[2].altitudeM - runs[1].altitudeM, 120, 2);
  });

  it('means what the aeroplane recorded, and says what is unknown about it', () => {
    const more = (rows: readonly { readonly airspeedMps: number; readonly up: number }[]) => ({
      channels: {
        engineSpeedRpm: Float64Array.from(rows, () => 2400),
        fuelFlowM3ps: Float64Array.from(rows, () => 26 * litrePerHour),
        // At about 900 m, standard air: 4.5 % less than true.
        indicatedAirspeedMps: Float64Array.from(rows, ({ airspeedMps }) => airspeedMps * 0.9576),
      },
    });
    const { track, motion } = flown([climb, { seconds: 150, airspeedMps: 50 }], { more });
    const [run] = findLevelRuns(motion, track);
    near(run.engineSpeedRpm ?? 0, 2400, 1e-9);
    near((run.fuelFlowM3ps?.value ?? 0) / litrePerHour, 26, 1e-9);
    near(run.trueAirspeedMps?.value ?? 0, 50, 0.1);
    assert.match(run.trueAirspeedMps?.remarks?.join(' ') ?? '', /position error is unknown/);
    assert.match(run.trueAirspeedMps?.remarks?.join(' ') ?? '', /No air temperature recorded/);
    assert.ok((run.trueAirspeedMps?.high ?? 0) - 50 > 1.9);
  });

  it('is not fooled by climbs, turns, taxiing and short pieces', () => {
    const { track, motion } = flown([
      climb,
      { seconds: 40, airspeedMps: 50 },
      { seconds: 200, turn: 3 },
      { seconds: 30 },
    ]);
    assert.deepEqual(findLevelRuns(motion, track), []);
    const taxi = flown([{ seconds: 300, airspeedMps: 8 }]);
    assert.deepEqual(findLevelRuns(taxi.motion, taxi.track), []);
  });
});

describe('winds of a recording', () => {
  it('come from legs, with the airspeed, and give each leg its own', () => {
    const { track, motion } = flown([climb, ...square, { seconds: 200, climbMps: -3 }], { wind });
    const runs = findLevelRuns(motion, track);
    const winds = estimateWinds(motion, track, [], runs);
    assert.equal(winds.length, 1);
    const [found] = winds;
    assert.equal(found.method, 'three or more headings');
    near(found.speedMps.value, Math.hypot(5, 6), 0.1);
    near(found.fromRad.value, Math.atan2(5, -6), 0.02);
    near(found.trueAirspeedMps?.value ?? 0, 50, 0.1);
    assert.ok(found.fromRad.low < found.fromRad.value && found.fromRad.value < found.fromRad.high);
    for (const run of withAirspeeds(runs, winds)) {
      near(run.trueAirspeedMps?.value ?? 0, 50, 0.15);
      assert.match(run.trueAirspeedMps?.method ?? '', /less the wind found by three or more headings/);
    }
  });

  it('come from a continuous turn, whose airspeed is marked', () => {
    const { track, motion } = flown(
      [climb, { seconds: 60, airspeedMps: 50 }, { seconds: 120, turn: 3 }, { seconds: 60 }],
      { wind },
    );
    const winds = estimateWinds(motion, track, [], findLevelRuns(motion, track));
    assert.equal(winds.length, 1);
    assert.equal(winds[0].method, 'turn');
    near(winds[0].speedMps.value, Math.hypot(5, 6), 0.3);
    assert.match(winds[0].trueAirspeedMps?.remarks?.join(' ') ?? '', /bank takes some away/);
  });

  it('are not made up from two opposite tracks', () => {
    const pair = [
      { seconds: 120, airspeedMps: 50 },
      { seconds: 60, turn: 3 },
      { seconds: 120, airspeedMps: 50 },
    ];
    const { track, motion } = flown([climb, ...pair], { wind });
    const runs = findLevelRuns(motion, track);
    assert.equal(runs.length, 2);
    const { winds, problems } = findWinds(motion, track, [], runs);
    assert.deepEqual(winds, []);
    assert.deepEqual(withAirspeeds(runs, winds), runs);
    assert.equal(problems.length, 1);
    assert.equal(problems[0].code, 'wind-not-separable');
    assert.match(
      problems[0].message,
      /^No wind and no airspeed from the 2 level runs between 22:1\d and 22:2\d UTC\. Three legs are needed/,
    );
  });

  it('come from recorded airspeed and heading where both are there', () => {
    const more = (rows: readonly { readonly airspeedMps: number }[]) => ({
      channels: {
        trueAirspeedMps: Float64Array.from(rows, ({ airspeedMps }) => airspeedMps),
        headingRad: Float64Array.from(rows, () => 0.3),
      },
    });
    const { track, motion } = flown([climb, { seconds: 120, airspeedMps: 50 }], { wind, more });
    const winds = estimateWinds(motion, track, [], findLevelRuns(motion, track));
    assert.equal(winds.length, 1);
    assert.equal(winds[0].method, 'recorded airspeed');
    near(winds[0].speedMps.value, Math.hypot(5, 6), 0.1);
    near(Math.cos(winds[0].fromRad.value - Math.atan2(5, -6)), 1, 1e-3);
    // 2 % of airspeed and 3 degrees of heading.
    near(winds[0].speedMps.high - winds[0].speedMps.value, 1.96 * 50 * Math.hypot(0.02, 3 * degree), 0.2);
  });

  it('have any direction when they may be calm', () => {
    const { track, motion } = flown([climb, ...square], { wind: { eastMps: 0.2, northMps: 0 } });
    const [found] = estimateWinds(motion, track, [], findLevelRuns(motion, track));
    near(found.fromRad.high - found.fromRad.low, 2 * Math.PI, 1e-9);
    assert.equal(found.speedMps.low, 0);
  });
});
