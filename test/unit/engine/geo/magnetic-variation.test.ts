import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { magneticVariation } from '../../../../src/engine/geo/magnetic-variation.ts';
import { near } from '../../../tools/near.ts';
import { sharedData } from '../../../tools/shared-data.ts';

const degree = Math.PI / 180;
const timeOfYearS = (year: number): number => {
  const whole = Math.floor(year);
  return Date.UTC(whole) / 1000 + (year - whole) * 365 * 86_400;
};
const degrees = (latDeg: number, lonDeg: number, year: number, altitudeKm: number): number => {
  const answer = magneticVariation(latDeg, lonDeg, timeOfYearS(year), altitudeKm * 1000);
  return 'found' in answer ? answer.found.variationRad / degree : Number.NaN;
};

describe('magnetic variation', () => {
  it('has the official test values of WMM2025', () => {
    near(degrees(80, -96, 2025, 48), -29.91, 0.01);
    near(degrees(-29, -110, 2025, 94), 15.74, 0.01);
    near(degrees(0, 21, 2025, 18), 1.29, 0.01);
    near(degrees(-52, -75, 2025.5, 8), 14.91, 0.01);
    near(degrees(33, -118, 2025.5, 44), 11.1, 0.01);
  });

  it('has the official test values of all models, at their own dates', function test() {
    const path = sharedData('data/reference/wmm-test-values.csv');
    if (path === undefined) {
      console.warn(
        '      skipped: the test values of the magnetic models (data/reference/wmm-test-values.csv) are not here',
      );
      this.skip();
    }
    const rows = readFileSync(path, 'utf8').trim().split('\n');
    const columns = rows[0].split(',');
    let checked = 0;
    let refused = 0;
    for (const row of rows.slice(1)) {
      const cells = row.split(',').map(Number);
      const cell = (name: string): number => cells[columns.indexOf(name)];
      const year = cell('date');
      // Dates at which a newer model has taken over, or none is yet in force, are not values of the model that answers.
      if (year < 2015 || (year > 2018.7 && year < 2020)) continue;
      const variation = degrees(cell('lat'), cell('lon'), year, cell('alt'));
      if (Number.isNaN(variation)) {
        assert.ok(cell('h') < 2000, `refused at ${row}`);
        refused += 1;
        continue;
      }
      near(variation, cell('decl'), 0.0151, row);
      checked += 1;
    }
    assert.ok(checked > 100, `${checked} values checked, ${refused} refused`);
  });

  it('refuses dates without a model, places near the poles and no place', () => {
    const refused = (...of: Parameters<typeof magneticVariation>): string => {
      const answer = magneticVariation(...of);
      return 'refused' in answer ? answer.refused : '';
    };
    assert.match(refused(45, 10, Date.UTC(2031, 0, 1) / 1000), /No magnetic model for 2031-01-01.*2029-11-13/);
    assert.match(refused(45, 10, Date.UTC(2010, 0, 1) / 1000), /No magnetic model/);
    // The first official test value (89 N, 121 W) lies in the blackout zone, with a horizontal field of 1,504 nT.
    assert.match(refused(89, -121, timeOfYearS(2025), 28_000), /magnetic pole/);
    assert.match(refused(86.1, 139, Date.UTC(2025, 5, 1) / 1000), /magnetic pole/);
    assert.match(refused(Number.NaN, 10, 1.75e9), /no place/);
    assert.match(refused(45, 10, 1.75e9, Number.NaN), /does not hold/);
  });

  it('uses the model of the date of the flight, with its error', () => {
    const answer = magneticVariation(45, 10, Date.UTC(2019, 5, 1) / 1000);
    assert.ok('found' in answer);
    assert.ok(answer.found.sigmaRad / degree > 0.26 && answer.found.sigmaRad / degree < 0.5);
    // The secular variation of a few minutes of arc a year between the models' dates.
    const later = magneticVariation(45, 10, Date.UTC(2026, 5, 1) / 1000);
    assert.ok('found' in later && later.found.variationRad > answer.found.variationRad);
  });
});
