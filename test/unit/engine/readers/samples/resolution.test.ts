import assert from 'node:assert/strict';
import { writtenStep } from '../../../../../src/engine/readers/samples/resolution.ts';
import { near } from '../../../../tools/near.ts';

const column = (count: number, value: (i: number) => number): Float64Array =>
  Float64Array.from({ length: count }, (_, i) => value(i));
const rounded = (value: number, decimals: number): number => Number(value.toFixed(decimals));

describe('writtenStep', () => {
  it('finds the decimals with which values were written', () => {
    for (const decimals of [0, 1, 2, 5, 6, 7, 8]) {
      const values = column(200, (i) => rounded(46.5 + Math.sin(i) / 50 + i * 0.37, decimals));
      near(writtenStep(values) ?? Number.NaN, 10 ** -decimals, 1e-12, `${decimals} decimals`);
    }
  });

  it('finds them in the unit in which they were written', () => {
    const feet = column(100, (i) => rounded(400 + 9 * Math.sin(i) + i * 3.3, 0) * 0.3048);
    near(writtenStep(feet, 0.3048) ?? Number.NaN, 0.3048, 1e-12);
    const minutes = column(100, (i) => 44 + rounded(49 + Math.sin(i) + i * 0.0123, 5) / 60);
    near(writtenStep(minutes, 1 / 60) ?? Number.NaN, 1e-5 / 60, 1e-15);
    const knots = column(100, (i) => rounded(Math.sin(i) + i * 0.51, 2) * (1852 / 3600));
    near(writtenStep(knots, 1852 / 3600) ?? Number.NaN, (0.01 * 1852) / 3600, 1e-12);
  });

  it('finds coarser steps by their common divisor, wherever they start', () => {
    near(writtenStep(column(200, (i) => -500 + 0.2 * ((i * 7) % 400))) ?? Number.NaN, 0.2, 1e-12);
    near(writtenStep(column(200, (i) => 3 + 25 * ((i * 7) % 40))) ?? Number.NaN, 25, 1e-12);
  });

  it('does not take few values for a step', () => {
    near(writtenStep(Float64Array.of(10, 20, 30, 40, 50, 60)) ?? Number.NaN, 1, 1e-12);
  });

  it('says nothing where nothing can be told', () => {
    assert.equal(writtenStep(column(100, () => 12.4)), undefined);
    assert.equal(writtenStep(column(100, () => Number.NaN)), undefined);
    assert.equal(writtenStep(column(0, () => 1)), undefined);
    assert.equal(writtenStep(column(100, (i) => Math.sqrt(2 + i))), undefined);
  });

  it('looks through missing values', () => {
    near(
      writtenStep(column(100, (i) => (i % 3 === 0 ? Number.NaN : rounded(Math.sin(i) + i * 1.7, 1)))) ?? Number.NaN,
      0.1,
      1e-12,
    );
  });
});
