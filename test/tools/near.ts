import assert from 'node:assert/strict';

/** Asserts that a number is within an absolute tolerance of the expected one. NaN never is. */
export function near(actual: number, expected: number, tolerance: number, what = ''): void {
  assert.ok(
    Math.abs(actual - expected) <= tolerance,
    `${what}${what === '' ? '' : ': '}${actual} is not ${expected} +- ${tolerance}`,
  );
}
