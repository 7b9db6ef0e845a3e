import assert from 'node:assert/strict';
import {
  altitudeHeldTo,
  fitRateLine,
  type HeldTo,
  type RateLine,
  rateOnLine,
  type RatePoint,
  timeToClimbS,
} from '../../../../src/engine/metrics/climb-held-to.ts';
import { Random } from '../../../synth/random.ts';
import { near } from '../../../tools/near.ts';

const footM = 0.3048;
const fpm = footM / 60;
const lineOf = (points: readonly RatePoint[]): RateLine => {
  const answer = fitRateLine(points);
  assert.ok('line' in answer, 'refused' in answer ? answer.refused : '');
  return answer.line;
};
const heldOf = (line: RateLine, rateMps: number): HeldTo => {
  const answer = altitudeHeldTo(line, rateMps);
  assert.ok('held' in answer, 'refused' in answer ? answer.refused : '');
  return answer.held;
};
const points = (
  [
    [1000, 690],
    [3000, 590],
    [5000, 500],
    [7000, 395],
    [9000, 300],
  ] as const
).map(([feet, rate]) => ({ densityAltitudeM: feet * footM, rateMps: rate * fpm }));

describe('climb held to', () => {
  it('fits the line that R lm fits (computed independently)', () => {
    const line = lineOf(points);
    near(line.interceptMps / fpm, 738.75, 1e-6);
    near((line.slopePerM * footM) / fpm, -0.04875, 1e-9);
    near((Math.sqrt(line.covariance.slope) * footM) / fpm, 0.000559, 5e-7);
    near((timeToClimbS(line, 1000 * footM, 8000 * footM) ?? Number.NaN) / 60, 13.997, 5e-4);
  });

  it('gives ceilings by the delta method as R does, within limits of prediction', () => {
    const line = lineOf(points);
    // Far beyond the data: worked out here, but not said.
    near(line.interceptMps / -line.slopePerM / footM, 15153.8, 0.1);
    assert.match((altitudeHeldTo(line, 0) as { refused: string }).refused, /too far to predict/);
    // The service ceiling lies 4,103 ft beyond climbs that cover 8,000 ft: just too far; 150 ft/min is told, as a prediction.
    assert.match((altitudeHeldTo(line, 100 * fpm) as { refused: string }).refused, /1250 m beyond/);
    const predicted = heldOf(line, 150 * fpm);
    near(predicted.densityAltitudeM.value / footM, (738.75 - 150) / 0.04875, 0.1);
    assert.equal(predicted.extrapolated, true);
    assert.match(predicted.densityAltitudeM.remarks?.[0] ?? '', /prediction, 938 m beyond/);
    // Values with the limit lifted by pretending to have climbed higher: service ceiling, and the standard error of the absolute one.
    const higher = { ...line, highestM: 14_000 * footM };
    near(heldOf(higher, 100 * fpm).densityAltitudeM.value / footM, 13102.6, 0.1);
    near(heldOf(higher, 0).sigmaM / footM, 120.9, 0.1);
    const inside = heldOf(line, 500 * fpm);
    assert.equal(inside.extrapolated, false);
    assert.equal(inside.densityAltitudeM.remarks, undefined);
  });

  it('has the textbook ceilings and times: 700 ft/min, service ceiling 14,000 ft', () => {
    // H = R0 H100 / (R0 - 100) = 16,333 ft; sea level to 8,000 ft 15.70 min (computed independently).
    const slopePerM = (-600 * fpm) / (14_000 * footM);
    const line = { interceptMps: 700 * fpm, slopePerM };
    near(line.interceptMps / -slopePerM / footM, 16_333, 0.5);
    near((timeToClimbS(line, 0, 8000 * footM) ?? Number.NaN) / 60, 15.7, 0.01);
    assert.equal(timeToClimbS(line, 0, 17_000 * footM), undefined);
  });

  it('holds the truth in 95 % of its intervals', () => {
    const random = new Random('held-to');
    const truth = { interceptMps: 4, slopePerM: -0.0008 };
    let inside = 0;
    let said = 0;
    for (let trial = 0; trial < 2000; trial += 1) {
      const climbs = Array.from({ length: 8 }, (_, i) => {
        const densityAltitudeM = 300 + 350 * i;
        const sigmaMps = 0.15 + 0.1 * (i % 3);
        const rateMps = truth.interceptMps + truth.slopePerM * densityAltitudeM + random.normal(0, sigmaMps);
        return { densityAltitudeM, rateMps, sigmaMps };
      });
      const answer = altitudeHeldTo(lineOf(climbs), 2.5);
      if (!('held' in answer)) continue;
      said += 1;
      const { low, high } = answer.held.densityAltitudeM;
      const trueM = (2.5 - truth.interceptMps) / truth.slopePerM;
      if (low <= trueM && trueM <= high) inside += 1;
    }
    assert.ok(said > 1900, `${said} answers`);
    const share = inside / said;
    assert.ok(share > 0.93 && share < 0.99, `${(100 * share).toFixed(1)} % of the intervals hold the truth`);
  });

  it('widens the line where the points scatter more than they should, never narrows it', () => {
    const sure = points.map((point) => ({ ...point, sigmaMps: 1 }));
    const unsure = points.map((point, i) => ({ ...point, rateMps: point.rateMps + (i % 2) * 0.5, sigmaMps: 0.01 }));
    near(Math.sqrt(lineOf(sure).covariance.slope), 1 / Math.sqrt(40 * (1000 * footM) ** 2), 1e-12);
    assert.ok(Math.sqrt(lineOf(unsure).covariance.slope) > 5e-5);
  });

  it('refuses what cannot be told, with the reason', () => {
    assert.ok('refused' in fitRateLine(points.slice(0, 2)));
    assert.match(
      (fitRateLine(points.map((point) => ({ ...point, densityAltitudeM: 500 }))) as { refused: string }).refused,
      /less than 1,000 ft/,
    );
    const rising = lineOf(points.map((point) => ({ ...point, rateMps: 6 - point.rateMps })));
    assert.match((altitudeHeldTo(rising, 1) as { refused: string }).refused, /does not fall/);
    const noisy = lineOf(points.map((point, i) => ({ ...point, rateMps: [3.5, 2, 3.6, 1.9, 3.2][i] })));
    assert.match((altitudeHeldTo(noisy, 2.8) as { refused: string }).refused, /too uncertain/);
  });

  it('gives the rate at an altitude with an interval that opens away from the data', () => {
    const line = lineOf(points);
    const middle = rateOnLine(line, 5000 * footM);
    const far = rateOnLine(line, 11_000 * footM);
    near(middle.value / fpm, 495, 1e-6);
    assert.ok(far.high - far.low > 1.5 * (middle.high - middle.low));
    assert.match(far.remarks?.[0] ?? '', /prediction/);
  });
});
