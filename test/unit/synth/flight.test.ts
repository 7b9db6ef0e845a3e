import assert from 'node:assert/strict';
import { makeCampaign, simulatedFlight, simulatedFlights, valueAt } from '../../synth/index.ts';
import { near } from '../../tools/near.ts';

describe('synth/flight', () => {
  it('is the same for the same seed, in every byte of truth and recording', () => {
    const one = simulatedFlight('again', { length: 'circuits' });
    const two = simulatedFlight('again', { length: 'circuits' });
    assert.deepEqual(one.truth, two.truth);
    assert.deepEqual(one.recording.fixes, two.recording.fixes);
  });

  it('truth is consistent with the 50 Hz columns', () => {
    for (const { truth, table } of simulatedFlights('columns', { count: 4 })) {
      assert.ok(truth.takeoffs.some((takeoff) => takeoff.liftoffS !== undefined));
      for (const takeoff of truth.takeoffs) {
        if (takeoff.liftoffS === undefined || takeoff.groundRollM === undefined) continue;
        const rolled = valueAt(table, 'pathM', takeoff.liftoffS) - valueAt(table, 'pathM', takeoff.rollStartS);
        near(rolled, takeoff.groundRollM, 1.5, 'ground roll against path');
        // The wheels are on the ground before and off it after.
        assert.equal(valueAt(table, 'onGround', takeoff.liftoffS - 0.1), 1);
        assert.equal(valueAt(table, 'onGround', takeoff.liftoffS + 0.1), 0);
        for (const screen of takeoff.screens) {
          const gained = valueAt(table, 'heightM', screen.timeS) - valueAt(table, 'heightM', takeoff.liftoffS);
          near(gained, screen.heightM, 0.1, 'screen height');
        }
      }
      for (let i = 1; i < truth.phases.length; i++) near(truth.phases[i].startS, truth.phases[i - 1].endS, 1e-6);
      for (const landing of truth.landings) {
        // First contact; it may skip once after that.
        assert.equal(valueAt(table, 'onGround', landing.touchdownS - 0.05), 0);
        assert.equal(valueAt(table, 'onGround', landing.touchdownS + 0.001), 1);
      }
    }
  });

  it('steady climb through still air is what the performance equations give', () => {
    const { truth } = simulatedFlight('steady', {
      aeroplane: 'trainer',
      field: 'gullRock',
      weather: 'still',
      nominal: true,
      length: 'full',
      receiver: 'good5',
    });
    const bands = truth.climbs.flatMap((climb) => climb.bands).slice(1);
    assert.ok(bands.length >= 2);
    for (const band of bands) near(band.energyRateMps / band.steadyStillAirMps, 1, 0.025);
  });

  it('the recorded positions lie on the true path: distances between fixes match the true path on the ellipsoid', () => {
    const { recording, table } = simulatedFlight('distances', {
      receiver: 'good5',
      weather: 'still',
      field: 'longHaven',
      length: 'full',
    });
    // Over a straight minute in flight, by a formula of its own (local radii at the middle latitude, WGS 84).
    const fixes = recording.fixes.filter((fix) => fix.groundSpeedMps > 30);
    const a = fixes[Math.floor(fixes.length / 2)];
    const b = fixes[Math.floor(fixes.length / 2) + 50];
    const mid = (((a.latDeg + b.latDeg) / 2) * Math.PI) / 180;
    const w = 1 - 0.00669437999014 * Math.sin(mid) ** 2;
    const north = ((((b.latDeg - a.latDeg) * Math.PI) / 180) * (6378137 * (1 - 0.00669437999014))) / w ** 1.5;
    const east = (((b.lonDeg - a.lonDeg) * Math.PI) / 180) * (6378137 / Math.sqrt(w)) * Math.cos(mid);
    const lag = 0.1;
    const trueEast = valueAt(table, 'eastM', b.trueTimeS - lag) - valueAt(table, 'eastM', a.trueTimeS - lag);
    const trueNorth = valueAt(table, 'northM', b.trueTimeS - lag) - valueAt(table, 'northM', a.trueTimeS - lag);
    near(Math.hypot(north - trueNorth, east - trueEast), 0, 2.5);
  });

  it('recorders drop, double and freeze as they are told to', () => {
    const { recording, track } = simulatedFlight('faults', { receiver: 'handheld', weather: 'fair', length: 'short' });
    const fixes = recording.fixes;
    const still = fixes.filter((fix, i) => i > 0 && fix.latDeg === fixes[i - 1].latDeg && fix.groundSpeedMps === 0);
    assert.ok(still.length > 5, 'a handheld freezes at rest');
    for (let i = 1; i < track.timeS.length; i++) assert.ok(track.timeS[i] > track.timeS[i - 1]);
  });

  it('a campaign that changes nothing has no true change, and one that adds power has', () => {
    const options = { aeroplane: 'trainer', field: 'gullRock', daysBefore: 1, daysAfter: 1, runsPerDay: 1 } as const;
    const none = makeCampaign('null', { ...options, change: 'none' });
    for (const value of Object.values(none.trueChange.equalLoad)) assert.ok(value === 0 || Number.isNaN(value));
    const power = makeCampaign('power', { ...options, change: 'more-power' });
    // +12 % power, fixed pitch: ground roll falls by 6 to 14 %, climb gains more than 10 %.
    assert.ok(
      power.trueChange.equalWeight['ground-roll'] < -0.06 && power.trueChange.equalWeight['ground-roll'] > -0.14,
    );
    assert.ok(power.trueChange.equalWeight['rate-of-climb'] > 0.1);
    const lighter = makeCampaign('lighter', { ...options, change: 'lighter' });
    assert.equal(lighter.trueChange.equalWeight['ground-roll'], 0);
    assert.ok(lighter.trueChange.equalLoad['ground-roll'] < -0.03);
  });
});
