import assert from 'node:assert/strict';
import * as fc from 'fast-check';
import { findUnit, fromSi, toSi, units } from '../../../shared/units.ts';

describe('units', () => {
  // NIST Special Publication 811 (2008), appendix B.8, "factors for units listed alphabetically"; values from memory,
  // seven figures as printed there ("exact" ones in full).
  const published: readonly (readonly [string, number])[] = [
    ['ft', 0.3048],
    ['in', 0.0254],
    ['NM', 1852],
    ['SM', 1609.344],
    ['kt', 0.5144444],
    ['mph', 0.44704],
    ['ft/min', 0.00508],
    ['lb', 0.45359237],
    ['US gal', 3.785412e-3],
    ['imp gal', 4.54609e-3],
    ['hp', 745.6999],
    ['inHg', 3386.389],
    ['lb/US gal', 119.8264],
    ['lb/imp gal', 99.77637],
    ['ft2', 0.09290304],
  ];
  for (const [symbol, factor] of published) {
    it(`1 ${symbol} is ${factor} in SI`, () => {
      assert.ok(Math.abs(toSi(1, symbol) / factor - 1) < 5e-7, String(toSi(1, symbol)));
    });
  }

  it('standard pressure is 1013.25 hPa and 29.92 inHg (FAA-H-8083-25C ch. 4, printed to a hundredth)', () => {
    assert.equal(fromSi(101325, 'inHg').toFixed(2), '29.92');
    assert.equal(fromSi(101325, 'hPa'), 1013.25);
  });

  it('temperatures: 15 degC = 59 degF = 288.15 K (standard atmosphere at sea level)', () => {
    assert.equal(toSi(15, 'degC', 'temperature'), 288.15);
    assert.ok(Math.abs(toSi(59, 'degF', 'temperature') - 288.15) < 1e-9);
    assert.ok(Math.abs(toSi(-40, 'degF', 'temperature') - toSi(-40, 'degC', 'temperature')) < 1e-9);
    assert.ok(Math.abs(toSi(9, 'degF', 'temperature-difference') - 5) < 1e-12);
  });

  it('goes to SI and back for every unit', () => {
    for (const unit of units) {
      fc.assert(
        fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), (value) => {
          const back = fromSi(toSi(value, unit.symbol, unit.dimension), unit.symbol, unit.dimension);
          assert.ok(Math.abs(back - value) <= 1e-9 * Math.max(1, Math.abs(value)) + 1e-6 * 1e-3, unit.symbol);
        }),
        { seed: 1, numRuns: 30 },
      );
    }
  });

  it('finds spellings, exact case first', () => {
    assert.equal(findUnit('KT')?.symbol, 'kt');
    assert.equal(findUnit('fpm')?.symbol, 'ft/min');
    assert.equal(findUnit('°C', 'temperature')?.symbol, 'degC');
    assert.equal(findUnit('furlong'), undefined);
    assert.throws(() => toSi(1, 'furlong'), RangeError);
  });

  it('no spelling stands for two units of one dimension', () => {
    for (const unit of units) {
      for (const spelling of [unit.symbol, ...(unit.spellings ?? [])]) {
        assert.equal(findUnit(spelling, unit.dimension)?.symbol, unit.symbol, spelling);
      }
    }
  });
});
