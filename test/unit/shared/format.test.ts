import assert from 'node:assert/strict';
import { displayUnitSets } from '../../../shared/display-units.ts';
import {
  decimalsFor,
  formatBytes,
  formatClock,
  formatDirection,
  formatDuration,
  formatFixed,
  formatInterval,
  formatIntervalParts,
  formatList,
  formatPercentInterval,
  formatShort,
  formatSigned,
  formatTime,
  formatValue,
  fromShownUnit,
  inShownUnit,
} from '../../../shared/format.ts';

const { icao, us, metric } = displayUnitSets;

describe('format', () => {
  it('never writes -0, NaN or an exponent', () => {
    assert.equal(formatFixed(-0.04, 1), '0.0');
    assert.equal(formatFixed(-0, 0), '0');
    assert.equal(formatFixed(-0.06, 1), '-0.1');
    assert.equal(formatFixed(Number.NaN, 1), '-');
    assert.equal(formatFixed(Number.POSITIVE_INFINITY, 1), '-');
    assert.equal(formatShort(100.5, 2), '100.5');
    assert.equal(formatShort(-0.001, 2), '0');
    assert.equal(formatShort(1200, 2), '1200');
    assert.equal(formatSigned(0.04, 1), '0.0');
    assert.equal(formatSigned(3.24, 1), '+3.2');
    assert.equal(formatSigned(-3.26, 1), '-3.3');
  });

  it('gives as many digits as the uncertainty deserves (JCGM 100:2008, 7.2.6: at most two)', () => {
    assert.equal(decimalsFor(45), 0);
    assert.equal(decimalsFor(1.4), 1);
    assert.equal(decimalsFor(4.4), 0);
    assert.equal(decimalsFor(0.14), 2);
    assert.equal(decimalsFor(0.44), 1);
    assert.equal(decimalsFor(0.00001), 3);
  });

  it('shows intervals in the chosen units', () => {
    const roll = { value: 213.36, low: 198.12, high: 228.6 };
    assert.equal(formatInterval(roll, 'length', us), '700 ft (650 to 750)');
    assert.equal(formatInterval(roll, 'length', metric), '213 m (198 to 229)');
    assert.equal(
      formatInterval({ value: -1.27, low: -2.54, high: 0 }, 'vertical-speed', icao, true),
      '-250 ft/min (-500 to 0)',
    );
    assert.deepEqual(formatIntervalParts({ value: 0.05, low: 0.02, high: 0.08 }, 'ratio', icao), {
      value: '5',
      low: '2',
      high: '8',
      unit: '%',
    });
  });

  it('tells an altitude no finer than it is known', () => {
    const foot = 0.3048;
    const about = (value: number, half: number): string =>
      formatInterval(
        { value: value * foot, low: (value - half) * foot, high: (value + half) * foot },
        'altitude',
        icao,
      );
    assert.equal(about(6455, 3426), '6500 ft (3000 to 9900)');
    assert.equal(about(6455, 340), '6460 ft (6120 to 6800)');
    assert.equal(about(6455, 34), '6455 ft (6421 to 6489)');
  });

  it('shows values and percentages', () => {
    assert.equal(formatValue(288.15, 'temperature', icao), '15 degC');
    assert.equal(formatValue(101325, 'pressure', us), '29.92 inHg');
    assert.equal(formatValue(1e-3 / 3600, 'fuel-flow', icao), '1.0 L/h');
    assert.equal(formatValue(1852, 'route-distance', us), '1.0 NM');
    assert.equal(formatPercentInterval({ value: -11.44, low: -16.2, high: -6.1 }), '-11 % (-16 to -6)');
    assert.equal(formatPercentInterval({ value: -16, low: -29, high: -0.3 }), '-16.0 % (-29.0 to -0.3)');
    assert.equal(formatPercentInterval({ value: 1.04, low: -1.1, high: 3.2 }), '+1.0 % (-1.1 to +3.2)');
  });

  it('goes to display units and back', () => {
    for (const kind of ['length', 'altitude', 'speed', 'vertical-speed', 'temperature', 'fuel-flow'] as const) {
      assert.ok(Math.abs(fromShownUnit(inShownUnit(12.5, kind, us), kind, us) - 12.5) < 1e-9);
    }
  });

  it('writes directions as spoken and times in UTC', () => {
    assert.equal(formatDirection(0), '360 deg');
    assert.equal(formatDirection((80 * Math.PI) / 180), '080 deg');
    assert.equal(formatDirection(2 * Math.PI), '360 deg');
    assert.equal(formatDirection((-10 * Math.PI) / 180), '350 deg');
    assert.equal(formatTime(0.0004), '1970-01-01T00:00:00.000Z');
    assert.equal(formatTime(1713047400.4), '2024-04-13T22:30:00.400Z');
    assert.equal(formatTime(1e300), '-');
    assert.equal(formatClock(1713047400.46, 1), '22:30:00.5');
    assert.equal(formatClock(1713047400.4), '22:30:00');
    assert.equal(formatDuration(3900), '1 h 05 min');
    assert.equal(formatDuration(59.7), '1 min 00 s');
    assert.equal(formatList(['a', 'b', 'c']), 'a, b and c');
    assert.equal(formatBytes(3680760), '3.7 MB');
  });
});
