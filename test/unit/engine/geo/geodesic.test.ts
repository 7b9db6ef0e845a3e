import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { geodesicBetween, geodesicFrom } from '../../../../src/engine/geo/geodesic.ts';
import { near } from '../../../tools/near.ts';
import { sharedData } from '../../../tools/shared-data.ts';

const degree = Math.PI / 180;
const signed = (rad: number): number => (rad > Math.PI ? rad / degree - 360 : rad / degree);

describe('geodesic', () => {
  it('solves the standard test cases of GeographicLib', () => {
    // Case of its documentation, values to 1 mm.
    const first = geodesicBetween(40.6, -73.8, 49.01666667, 2.55);
    near(first.fromAzimuthRad / degree, 53.470218, 1e-6);
    near(first.distanceM, 5853226.256, 1e-3);
    // Cases of the test set that comes with the library.
    const second = geodesicBetween(35.60777, -139.44815, -11.17491, -69.95921);
    near(second.fromAzimuthRad / degree, 111.09874842956033, 1e-12);
    near(second.toAzimuthRad / degree, 129.28927088970877, 1e-12);
    near(second.distanceM, 8935244.56048183, 1e-8);
    const third = geodesicBetween(-21.97856, 142.59065, 41.84138, 98.56635);
    near(signed(third.fromAzimuthRad), -32.44456876433189, 1e-12);
    near(third.distanceM, 8394328.894657671, 1e-8);
  });

  it('measures short runs on the ellipsoid, where a sphere is 0.03 to 0.3 % off (computed independently)', () => {
    near(geodesicBetween(46.5, -14.75, 46.51, -14.75).distanceM, 1111.6118, 1e-4);
    near(geodesicBetween(46.5, -14.75, 46.5, -14.74).distanceM, 767.6259, 1e-4);
  });

  it('solves the published test set of geodesics', function test() {
    const path = sharedData('data/reference/geodesic-100.dat');
    if (path === undefined) {
      console.warn('      skipped: the reference geodesics (data/reference/geodesic-100.dat) are not here');
      this.skip();
    }
    let cases = 0;
    for (const row of readFileSync(path, 'utf8').trim().split('\n')) {
      const [lat1, lon1, azi1, lat2, lon2, azi2, s12] = row.split(/\s+/).map(Number);
      const line = geodesicBetween(lat1, lon1, lat2, lon2);
      near(line.distanceM, s12, 1e-7, row);
      const there = geodesicFrom(lat1, lon1, azi1 * degree, s12);
      near(geodesicBetween(there.latDeg, there.lonDeg, lat2, lon2).distanceM, 0, 2e-8, row);
      // Directions lose their meaning, and digits, at the poles.
      near((there.azimuthRad / degree - azi2) * Math.cos(lat2 * degree), 0, 1e-12, row);
      cases += 1;
    }
    assert.equal(cases, 100);
  });

  it('keeps a missing point missing', () => {
    assert.ok(Number.isNaN(geodesicBetween(Number.NaN, 0, 1, 1).distanceM));
    assert.equal(geodesicBetween(10, 20, 10, 20).distanceM, 0);
  });
});
