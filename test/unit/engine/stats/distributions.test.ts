import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { chiSquareCdf, chiSquareQuantile } from '../../../../src/engine/stats/chi-square.ts';
import { fCdf, fQuantile } from '../../../../src/engine/stats/f-distribution.ts';
import { logGamma } from '../../../../src/engine/stats/log-gamma.ts';
import { noncentralTCdf } from '../../../../src/engine/stats/noncentral-t.ts';
import { normalCdf, normalQuantile } from '../../../../src/engine/stats/normal.ts';
import { studentCdf, studentQuantile } from '../../../../src/engine/stats/student.ts';

type Golden = Record<string, readonly (readonly number[])[]>;

/** High-precision values, made as told in `test/fixtures/statistics/distributions.md`. */
const golden = JSON.parse(
  readFileSync(new URL('../../../fixtures/statistics/distributions.json', import.meta.url), 'utf8'),
) as Golden;

function worstRelativeError(rows: readonly (readonly number[])[], compute: (row: readonly number[]) => number): number {
  let worst = 0;
  for (const row of rows) {
    const expected = row[row.length - 1];
    const error = expected === 0 ? Math.abs(compute(row)) : Math.abs(compute(row) / expected - 1);
    assert.ok(!Number.isNaN(error), `no number for ${row.join(', ')}`);
    worst = Math.max(worst, error);
  }
  return worst;
}

describe('distributions against 40-digit arithmetic', () => {
  const checks: readonly (readonly [string, number, (row: readonly number[]) => number])[] = [
    ['logGamma', 1e-13, ([x]) => logGamma(x)],
    ['normalCdf', 1e-12, ([z]) => normalCdf(z)],
    ['normalQuantile', 1e-12, ([p]) => normalQuantile(p)],
    ['studentCdf', 1e-12, ([t, df]) => studentCdf(t, df)],
    ['studentQuantile', 1e-12, ([p, df]) => studentQuantile(p, df)],
    ['fUpper', 1e-12, ([x, df1, df2]) => fCdf(x, df1, df2).upper],
    ['chiSquareUpper', 1e-12, ([x, df]) => chiSquareCdf(x, df).upper],
  ];
  for (const [name, tolerance, compute] of checks) {
    it(`${name}: relative error below ${tolerance}`, () => {
      assert.ok(golden[name].length > 5);
      const worst = worstRelativeError(golden[name], compute);
      assert.ok(worst < tolerance, `worst relative error ${worst}`);
    });
  }

  it('noncentral t: absolute error below 1e-12', () => {
    let worst = 0;
    for (const [t, df, delta, expected] of golden.noncentralT) {
      worst = Math.max(worst, Math.abs(noncentralTCdf(t, df, delta) - expected));
    }
    assert.ok(worst < 1e-12, `worst error ${worst}`);
  });

  it('quantiles turn the distribution round', () => {
    for (const p of [0.001, 0.2, 0.5, 0.95, 0.9999]) {
      assert.ok(Math.abs(chiSquareCdf(chiSquareQuantile(p, 7.5), 7.5).lower - p) < 1e-13);
      assert.ok(Math.abs(fCdf(fQuantile(p, 3, 8.5), 3, 8.5).lower - p) < 1e-13);
    }
    // NIST/SEMATECH e-Handbook tables 1.3.6.7.3 and 1.3.6.7.4: upper 5 % points.
    assert.ok(Math.abs(fQuantile(0.95, 1, 10) - 4.965) < 5e-4);
    assert.ok(Math.abs(chiSquareQuantile(0.95, 10) - 18.307) < 5e-4);
  });

  it('says what is wrong with its arguments', () => {
    assert.throws(() => studentQuantile(1.2, 3), RangeError);
    assert.throws(() => studentCdf(1, 0), RangeError);
    assert.throws(() => logGamma(0), RangeError);
    assert.throws(() => noncentralTCdf(1, 3, 40), RangeError);
    assert.equal(studentQuantile(0, 3), Number.NEGATIVE_INFINITY);
    assert.equal(normalQuantile(1), Number.POSITIVE_INFINITY);
  });
});
