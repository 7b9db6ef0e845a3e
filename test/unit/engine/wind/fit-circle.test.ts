import assert from 'node:assert/strict';
import { type CircleFit, type CirclePoint, fitWindCircle } from '../../../../src/engine/wind/fit-circle.ts';
import { windFromThreeVelocities } from '../../../../src/engine/wind/three-vectors.ts';
import { directionOf, velocityTowards, windOfVelocity } from '../../../../src/engine/wind/wind-triangle.ts';
import { near } from '../../../tools/near.ts';

const knotMps = 1852 / 3600;
const degree = Math.PI / 180;
/** Ground speed, kt, at a track, degrees. */
const legs = (...of: readonly (readonly [number, number])[]): CirclePoint[] =>
  of.map(([knots, track]) => velocityTowards(track * degree, knots * knotMps));
const fitted = (points: readonly CirclePoint[], errors?: Parameters<typeof fitWindCircle>[1]): CircleFit => {
  const answer = fitWindCircle(points, errors);
  assert.ok('fit' in answer, 'refused' in answer ? answer.refused : '');
  return answer.fit;
};

describe('wind and airspeed from ground velocities', () => {
  it('solves the three-leg example of a note of 1998, "Using GPS to accurately establish true airspeed"', () => {
    const points = legs([140, 192], [112, 283], [120, 20]);
    const exact = windFromThreeVelocities(points[0], points[1], points[2]);
    assert.ok(exact !== undefined);
    const fit = fitted(points, { covariance: (i, j) => (i === j ? 0.25 : 0), priorDegrees: 4 });
    for (const [air, airspeed] of [
      [exact.air, exact.trueAirspeedMps],
      [fit.air, fit.trueAirspeedMps],
    ] as const) {
      const wind = windOfVelocity(air);
      // The note gives 130 kt, wind 20.6 kt from 314.8 degrees; further digits computed independently.
      near(airspeed / knotMps, 129.9985, 1e-3);
      near(wind.speedMps / knotMps, 20.633, 1e-3);
      near(wind.fromRad / degree, 314.758, 1e-3);
    }
    const headings = points.map(({ eastMps, northMps }) =>
      directionOf({ eastMps: eastMps - exact.air.eastMps, northMps: northMps - exact.air.northMps }),
    );
    near(headings[0] / degree, 199.671, 1e-3);
    near(headings[1] / degree, 287.792, 1e-3);
    near(headings[2] / degree, 11.713, 1e-3);
  });

  const four = legs([178, 178], [185, 82], [188, 355], [184, 265]);

  it('solves the four-leg sheet of a test-pilot school by its three-leg subsets', () => {
    const subsets = [
      [0, 1, 2],
      [0, 1, 3],
      [0, 2, 3],
      [1, 2, 3],
    ].map(([i, j, k]) => windFromThreeVelocities(four[i], four[j], four[k]));
    const airspeeds = subsets.map((solution) => (solution?.trueAirspeedMps ?? Number.NaN) / knotMps);
    const mean = airspeeds.reduce((sum, value) => sum + value) / 4;
    near(mean, 183.7267, 1e-3);
    near(Math.sqrt(airspeeds.reduce((sum, value) => sum + (value - mean) ** 2, 0) / 3), 0.8271, 1e-3);
    const winds = subsets.map((solution) => windOfVelocity(solution?.air ?? { eastMps: Number.NaN, northMps: 0 }));
    [
      [5.261, 194.52],
      [6.444, 177.95],
      [5.15, 162.7],
      [3.582, 181.52],
    ].forEach(([knots, from], i) => {
      near(winds[i].speedMps / knotMps, knots, 1e-3);
      near(winds[i].fromRad / degree, from, 1e-2);
    });
  });

  it('solves it by geometric least squares, with its standard error (computed independently)', () => {
    const fit = fitted(four);
    const wind = windOfVelocity(fit.air);
    near(fit.trueAirspeedMps / knotMps, 183.7219, 1e-3);
    near(wind.speedMps / knotMps, 5.007, 1e-3);
    near(wind.fromRad / degree, 179.46, 1e-2);
    near(fit.scale / knotMps, 1.43, 1e-3);
    near(Math.sqrt(fit.covariance[2][2]) / knotMps, 0.715, 1e-3);
    assert.equal(fit.degreesOfFreedom, 1);
  });

  it('equals the special forms of the flight-test handbook for perpendicular tracks and headings', () => {
    // Flight-test reference handbook (SFTE, 2013) ch. 4: horseshoe track, horseshoe heading; headings 120 degrees apart: an aviation formulary.
    const [v1, v2, v3] = [99.88985, 125.21966, 117.88985];
    const byTracks = 0.5 * Math.sqrt(v1 ** 2 + v2 ** 2 + v3 ** 2 + ((v1 * v3) / v2) ** 2);
    const windByTracks = Math.hypot((v1 - v3) / 2, (v2 - (v1 * v3) / v2) / 2);
    near(byTracks, 110, 1e-4);
    near(windByTracks, 18, 1e-4);
    const points = legs([v1, 0], [v2, 90], [v3, 180]);
    const fit = fitted(points, { covariance: (i, j) => (i === j ? 1 : 0), priorDegrees: 4 });
    near(fit.trueAirspeedMps / knotMps, byTracks, 1e-6);
    near(windOfVelocity(fit.air).speedMps / knotMps, windByTracks, 1e-6);
    const special = (speeds: readonly number[]): { airspeed: number; wind: number } => {
      const [a, b, c] = speeds.map((value) => value ** 2);
      const s = (a + c) / 2;
      const square = (s + Math.sqrt(s ** 2 - 4 * (((a - c) / 4) ** 2 + ((b - s) / 2) ** 2))) / 2;
      return { airspeed: Math.sqrt(square), wind: Math.sqrt(s - square) };
    };
    const headings = special([102.19589, 125.91053, 120.01667]);
    near(headings.airspeed, 110, 1e-4);
    near(headings.wind, 18, 1e-4);
    const third = [114.5061, 124.32834, 93.28889];
    const meanSquare = third.reduce((sum, value) => sum + value ** 2, 0) / 3;
    const mu = third.reduce((sum, value) => sum + (value ** 2 / meanSquare - 1) ** 2, 0) / 6;
    const b = 0.5 + Math.sqrt(0.25 - mu);
    near(Math.sqrt(meanSquare * b), 110, 1e-4);
    near(Math.sqrt((meanSquare * mu) / b), 18, 1e-4);
  });

  it('is not the average of two opposite ground tracks, which reads low in a crosswind', () => {
    // Computed independently: TAS 110 kt, crosswind 10, 20, 30 kt.
    for (const [wind, plain] of [
      [10, 109.54],
      [20, 108.17],
      [30, 105.83],
    ]) {
      near(Math.sqrt(110 ** 2 - wind ** 2), plain, 0.01, 'tracks');
    }
    near(Math.hypot(110, 20), 111.8, 0.01, 'headings');
    const answer = fitWindCircle(legs([108.17, 0], [108.17, 180], [108.17, 180]));
    assert.ok('refused' in answer);
  });

  it('finds the truth from exact velocities with airspeeds that differ by height', () => {
    const air = { eastMps: -6, northMps: 3 };
    const points = [20, 95, 170, 250, 310].map((heading, i) => {
      const airspeedRatio = 1 + 0.02 * i;
      const through = velocityTowards(heading * degree, 50 * airspeedRatio);
      return { eastMps: through.eastMps + air.eastMps, northMps: through.northMps + air.northMps, airspeedRatio };
    });
    const fit = fitted(points);
    near(fit.air.eastMps, -6, 1e-9);
    near(fit.air.northMps, 3, 1e-9);
    near(fit.trueAirspeedMps, 50, 1e-9);
    near(fit.headingSpreadRad / degree, 280, 1e-9);
  });

  it('finds two airspeeds in one wind: two opposite legs are enough for the second', () => {
    const air = { eastMps: 4, northMps: -7 };
    const flown = (heading: number, airspeed: number, group: number): CirclePoint => {
      const through = velocityTowards(heading * degree, airspeed);
      return { eastMps: through.eastMps + air.eastMps, northMps: through.northMps + air.northMps, group };
    };
    const fit = fitted([flown(0, 48, 0), flown(120, 48, 0), flown(240, 48, 0), flown(0, 55, 1), flown(180, 55, 1)]);
    near(fit.trueAirspeedsMps[0], 48, 1e-9);
    near(fit.trueAirspeedsMps[1], 55, 1e-9);
    near(fit.air.northMps, -7, 1e-9);
    assert.equal(fit.covariance.length, 4);
  });

  it('refuses velocities that cannot separate wind and airspeed', () => {
    assert.ok('refused' in fitWindCircle(legs([100, 10], [110, 200])));
    assert.ok('refused' in fitWindCircle(legs([100, 10], [100, 10], [100, 10])));
    assert.ok('refused' in fitWindCircle(legs([100, 10], [Number.NaN, 130], [100, 250])));
  });

  it('shows an exploding standard error for headings close together', () => {
    const errors = { covariance: (i: number, j: number) => (i === j ? 0.25 : 0), priorDegrees: 4 };
    const at = (...tracks: readonly number[]): number =>
      Math.sqrt(fitted(legs(...tracks.map((track) => [100, track] as const)), errors).covariance[2][2]);
    const wide = at(0, 120, 240);
    near(wide, 0.5 / Math.sqrt(3), 1e-6);
    assert.ok(at(0, 30, 60) > 8 * wide, `${at(0, 30, 60)}`);
  });
});
