import assert from 'node:assert/strict';
import {
  airFromTriangle,
  directionOf,
  solveCourse,
  velocityOfWind,
  windOfVelocity,
} from '../../../../src/engine/wind/wind-triangle.ts';
import { near } from '../../../tools/near.ts';

const degree = Math.PI / 180;

/** FAA-H-8083-25C ch. 16, figs 16-19 to 16-22: course 090, TAS 120 kt, wind 045/40 kt: 88 kt, heading 076. Decimals computed independently. */
describe('wind triangle', () => {
  it('solves the handbook example', () => {
    const air = velocityOfWind(45 * degree, 40);
    const { groundSpeedMps, headingRad } = solveCourse(90 * degree, 120, air);
    near(groundSpeedMps, 88, 1);
    near(groundSpeedMps, 88.33, 0.01);
    near(headingRad / degree, 76, 1);
    near(headingRad / degree, 76.37, 0.01);
  });

  it('reads it backwards', () => {
    const wind = windOfVelocity(airFromTriangle(90 * degree, 88, 76 * degree, 120));
    near(wind.fromRad / degree, 45, 1);
    near(wind.speedMps, 40, 1);
  });

  it('goes around for any wind', () => {
    for (const from of [0, 77, 180, 301]) {
      const air = velocityOfWind(from * degree, 12);
      near(windOfVelocity(air).fromRad / degree, from, 1e-9);
      const { groundSpeedMps, headingRad } = solveCourse(2, 50, air);
      const back = airFromTriangle(2, groundSpeedMps, headingRad, 50);
      near(back.eastMps, air.eastMps, 1e-9);
      near(back.northMps, air.northMps, 1e-9);
    }
    near(directionOf({ eastMps: -1, northMps: 0 }) / degree, 270, 1e-9);
  });

  it('knows a course that cannot be flown', () => {
    assert.ok(Number.isNaN(solveCourse(0, 20, velocityOfWind(Math.PI / 2, 30)).groundSpeedMps));
    assert.ok(Number.isNaN(solveCourse(0, 20, velocityOfWind(0, 30)).groundSpeedMps));
  });
});
