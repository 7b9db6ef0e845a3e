import assert from 'node:assert/strict';
import { geodesicBetween } from '../../../../src/engine/geo/geodesic.ts';
import { firstPlace, hiddenHome, withoutCircles, withRelativePlaces } from '../../../../src/engine/track/privacy.ts';
import { near } from '../../../tools/near.ts';
import { trackOf } from './track-of.ts';

const track = trackOf(
  Array.from({ length: 400 }, (_, t) => ({ t, east: 50 * Math.abs(200 - t), north: 20 * t, up: t, speed: 50 })),
  { breaks: [390] },
);

describe('a track without the places', () => {
  it('keeps distances and directions when it is moved', () => {
    const home = firstPlace(track);
    assert.ok(home);
    const moved = withRelativePlaces(track, home);
    near(moved.latDeg[0], hiddenHome.latDeg, 1e-9);
    near(moved.lonDeg[0], hiddenHome.lonDeg, 1e-9);
    for (const [a, b] of [
      [0, 399],
      [100, 101],
      [0, 200],
    ]) {
      const before = geodesicBetween(track.latDeg[a], track.lonDeg[a], track.latDeg[b], track.lonDeg[b]);
      const after = geodesicBetween(moved.latDeg[a], moved.lonDeg[a], moved.latDeg[b], moved.lonDeg[b]);
      near(after.distanceM / before.distanceM, 1, 2e-5);
      near(after.fromAzimuthRad, before.fromAzimuthRad, 0.003, 'directions turn by the convergence of the meridians');
    }
    assert.deepEqual(moved.timeS, track.timeS);
    assert.deepEqual(moved.altitudes, track.altitudes);
    assert.match(moved.assumptions.join(' '), /moved to hide/);
    assert.ok(
      moved.latDeg.every((latDeg) => Math.abs(latDeg) < 0.2),
      'nothing of the real place is left',
    );
  });

  it('turns recorded directions with the meridian: they fit the motion as before, and tell no latitude', () => {
    // 60 km to the north-east and back, each direction that of the geodesic to the next point.
    const far = trackOf(
      Array.from({ length: 300 }, (_, t) => ({ t: 10 * t, east: 400 * Math.min(t, 300 - t), north: 200 * t })),
    );
    const direction = (one: typeof far, row: number): number =>
      geodesicBetween(one.latDeg[row], one.lonDeg[row], one.latDeg[row + 1], one.lonDeg[row + 1]).fromAzimuthRad;
    const trackRad = Float64Array.from(far.timeS, (_, row) => direction(far, Math.min(row, 298)));
    const home = firstPlace(far);
    assert.ok(home);
    const moved = withRelativePlaces({ ...far, trackRad, channels: { headingRad: trackRad } }, home);
    let unturned = 0;
    for (let row = 0; row < 299; row++) {
      near(moved.trackRad?.[row] ?? Number.NaN, direction(moved, row), 1e-4, `row ${row}`);
      assert.equal(moved.channels.headingRad?.[row], moved.trackRad?.[row]);
      unturned = Math.max(unturned, Math.abs(trackRad[row] - direction(moved, row)));
    }
    assert.ok(unturned > 0.004, 'unturned they would have told it');
  });

  it('loses what lies within a radius, and says where', () => {
    const home = { latDeg: track.latDeg[200], lonDeg: track.lonDeg[200] };
    const cut = withoutCircles(track, [{ ...home, radiusM: 3000 }]);
    assert.ok(cut);
    assert.ok(cut.timeS.length < 400 && cut.timeS.length > 200);
    for (let row = 0; row < cut.timeS.length; row++) {
      assert.ok(geodesicBetween(home.latDeg, home.lonDeg, cut.latDeg[row], cut.lonDeg[row]).distanceM > 2999);
    }
    const missing = 400 - cut.timeS.length;
    assert.equal(cut.breaks.length, 2);
    near(cut.timeS[cut.breaks[0]] - cut.timeS[cut.breaks[0] - 1], missing + 1, 1e-6);
    assert.equal(cut.timeS[cut.breaks[1]], track.timeS[390]);
    assert.equal(cut.groundSpeedMps?.length, cut.timeS.length);
    assert.equal(withoutCircles(track, [{ ...home, radiusM: 1e6 }]), undefined);
  });

  it('widens a short seam until it is a gap, and loses rows without a position', () => {
    // Past the edge of the circle within two seconds.
    const passing = trackOf(Array.from({ length: 200 }, (_, t) => ({ t, east: 50 * (t - 100), north: 995 })));
    passing.latDeg[10] = Number.NaN;
    const plane = trackOf([{ t: 0, east: 0 }]);
    const cut = withoutCircles(passing, [{ latDeg: plane.latDeg[0], lonDeg: plane.lonDeg[0], radiusM: 1000 }]);
    assert.ok(cut);
    const steps = cut.timeS.slice(1).map((at, row) => at - cut.timeS[row]);
    const seams = steps.filter((step) => step > 3);
    assert.equal(seams.length, 1);
    assert.ok(seams[0] >= 10, `${seams[0]} s`);
    assert.ok(!cut.latDeg.some(Number.isNaN));
  });
});
