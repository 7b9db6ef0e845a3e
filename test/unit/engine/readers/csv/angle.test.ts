import assert from 'node:assert/strict';
import { angleCell, angleForm, toDegrees } from '../../../../../src/engine/readers/csv/angle.ts';
import { near } from '../../../../tools/near.ts';

describe('latitude and longitude in tables', () => {
  it('are read from cells in many forms', () => {
    const south = -(55 + 37 / 60 + 12.5 / 3600);
    for (const cell of ['S 55°37\'12.5"', '55°37′12.5″S', '55 37 12.5 s', '-55° 37\' 12.5"'])
      near(angleCell(cell, '.'), south, 1e-12, cell);
    near(angleCell('N55 37.208', '.'), 55 + 37.208 / 60, 1e-12);
    near(angleCell('31.2186 W', '.'), -31.2186, 1e-12);
    near(angleCell('-31,2186', ','), -31.2186, 1e-12);
    for (const cell of ['', 'null', 'N', "55°61'", 'X55.1', '55.1 Q'])
      assert.ok(Number.isNaN(angleCell(cell, '.')), cell);
  });

  const columns = (lat: number, lon: number): [Float64Array, Float64Array] => [
    Float64Array.of(Number.NaN, lat, lat),
    Float64Array.of(lon, lon, Number.NaN),
  ];

  it('tell their form by their size', () => {
    assert.equal(angleForm(...columns(55.62, -31.21)), 'degrees');
    assert.equal(angleForm(...columns(0.970_8, -0.544_8)), 'radians');
    assert.equal(angleForm(...columns(55_620_000, -31_210_000)), 'degrees x 1e6');
    assert.equal(angleForm(...columns(556_200_000, -312_100_000)), 'degrees x 1e7');
    assert.equal(angleForm(...columns(5537.208, -3112.6)), 'degrees and minutes');
    assert.equal(angleForm(...columns(1.2, -31.2)), 'degrees');
  });

  it('become degrees', () => {
    near(toDegrees(0.970_751, 'radians'), 55.62, 1e-4);
    assert.equal(toDegrees(-31_210_000, 'degrees x 1e6'), -31.21);
    assert.equal(toDegrees(-312_100_000, 'degrees x 1e7'), -31.21);
    near(toDegrees(-3112.6, 'degrees and minutes'), -31.21, 1e-12);
    assert.equal(toDegrees(55.62, 'degrees'), 55.62);
  });
});
