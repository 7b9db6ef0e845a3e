import { equal, ok } from 'node:assert/strict';
import { dot, solve, Whitener } from '../../../../src/engine/events/linear-gaussian.ts';
import { near } from '../../../tools/near.ts';

/** Covariances of the constant-velocity example below, by hand: positions and velocities at 1..6 s from a start at 0. */
function constantVelocityExample(): { columns: Float64Array[]; values: Float64Array; covariance: Float64Array } {
  const q = 0.5;
  const count = 6;
  const columns = [new Float64Array(count).fill(1), Float64Array.from({ length: count }, (_, k) => k)];
  const values = Float64Array.of(0.3, 1.9, 3.2, 7.1, 9.8, 15.2);
  const covariance = new Float64Array(count * count);
  // Each unit of white acceleration in step j moves later positions k by (k - j) - 1/2.
  for (let a = 0; a < count; a += 1) {
    for (let b = 0; b < count; b += 1) {
      let sum = a === b ? 4 : 0;
      for (let j = 0; j < Math.min(a, b); j += 1) sum += q * (a - j - 0.5) * (b - j - 0.5);
      covariance[a * count + b] = sum;
    }
  }
  return { columns, values, covariance };
}

describe('linear-gaussian', () => {
  it('solves a batch problem as the Kalman filter with Rauch-Tung-Striebel smoothing does (constant-velocity example, computed independently)', () => {
    const { columns, values, covariance } = constantVelocityExample();
    const whitener = new Whitener(covariance, 6);
    const white = columns.map((column) => whitener.whiten(column.slice()));
    const y = whitener.whiten(values.slice());
    const solution = solve(
      {
        gram: Float64Array.of(
          dot(white[0], white[0]),
          dot(white[0], white[1]),
          dot(white[1], white[0]),
          dot(white[1], white[1]),
        ),
        right: Float64Array.of(dot(white[0], y), dot(white[1], y)),
        square: dot(y, y),
      },
      [
        { mean: 0, sigma: 10 },
        { mean: 0, sigma: 10 },
      ],
    );
    ok(solution);
    // Smoothed first state: position -0.687947 (SD 1.517278), velocity 2.496410.
    near(solution.mean[0], -0.687947, 1e-5);
    near(solution.mean[1], 2.49641, 1e-5);
    near(Math.sqrt(solution.covariance[0]), 1.517278, 1e-5);
  });

  it('gives the evidence that direct integration over the parameter gives', () => {
    const columns = Float64Array.of(1, 2, 3);
    const y = Float64Array.of(1.1, 2.3, 2.7);
    const prior = { mean: 0.5, sigma: 0.7 };
    const solution = solve(
      { gram: Float64Array.of(dot(columns, columns)), right: Float64Array.of(dot(columns, y)), square: dot(y, y) },
      [prior],
    );
    ok(solution);
    let integral = 0;
    const step = 1e-4;
    for (let p = -6; p < 6; p += step) {
      let square = ((p - prior.mean) / prior.sigma) ** 2;
      for (let k = 0; k < 3; k += 1) square += (y[k] - columns[k] * p) ** 2;
      integral += (Math.exp(-0.5 * square) / (prior.sigma * Math.sqrt(2 * Math.PI))) * step;
    }
    near(solution.logEvidence, Math.log(integral), 1e-6);
    near(
      solution.chiSquare,
      y.reduce((sum, value, k) => sum + (value - columns[k] * solution.mean[0]) ** 2, 0),
      1e-12,
    );
  });

  it('refuses what is not a covariance', () => {
    let thrown = 0;
    try {
      whitenerOf(Float64Array.of(1, 2, 2, 1));
    } catch {
      thrown += 1;
    }
    equal(thrown, 1);
  });
});

function whitenerOf(covariance: Float64Array): Whitener {
  return new Whitener(covariance, 2);
}
