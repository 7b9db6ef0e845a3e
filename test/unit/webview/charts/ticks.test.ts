import assert from 'node:assert/strict';
import * as fc from 'fast-check';
import { defaultDisplayUnits, displayUnitSets } from '../../../../shared/display-units.ts';
import { axisUnit, ticksFor } from '../../../../webview/charts/ticks.ts';

const labels = (ticks: readonly { label: string }[]): string[] => ticks.map(({ label }) => label);

describe('ticks of an axis', () => {
  it('are round in the unit shown, not in SI', () => {
    const altitude = ticksFor({ quantity: 'altitude' }, defaultDisplayUnits, 0, 914.4, 6);
    assert.deepEqual(labels(altitude), ['0', '500', '1000', '1500', '2000', '2500', '3000']);
    assert.ok(Math.abs(altitude[2].value - 304.8) < 1e-9);
    assert.deepEqual(labels(ticksFor({ quantity: 'altitude' }, displayUnitSets.metric, 0, 914.4, 5)), [
      '0',
      '200',
      '400',
      '600',
      '800',
    ]);
  });

  it('stand on whole minutes of the clock, whenever the recording began', () => {
    const ticks = ticksFor({ clockFromS: Date.UTC(2026, 4, 3, 10, 0, 17) / 1000 }, defaultDisplayUnits, 0, 600, 6);
    assert.deepEqual(labels(ticks), ['10:02', '10:04', '10:06', '10:08', '10:10']);
    assert.equal(ticks[0].value, 103);
  });

  it('show seconds and tenths when zoomed in', () => {
    const from = Date.UTC(2026, 4, 3, 10) / 1000;
    assert.deepEqual(labels(ticksFor({ clockFromS: from }, defaultDisplayUnits, 0, 20, 5)), [
      '10:00:00',
      '10:00:05',
      '10:00:10',
      '10:00:15',
      '10:00:20',
    ]);
    assert.equal(ticksFor({ clockFromS: from }, defaultDisplayUnits, 0, 1, 6)[1].label, '10:00:00.2');
  });

  it('are few, inside, ascending, and never endless, for any span', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e6, max: 1e6, noNaN: true }),
        fc.double({ min: 1e-3, max: 1e6, noNaN: true }),
        fc.integer({ min: 2, max: 12 }),
        (from, span, most) => {
          const ticks = ticksFor({ quantity: 'speed' }, defaultDisplayUnits, from, from + span, most);
          assert.ok(ticks.length <= most + 2);
          ticks.forEach(({ value }, index) => {
            assert.ok(value >= from - span * 1e-6 && value <= from + span * (1 + 1e-6));
            if (index > 0) assert.ok(value > ticks[index - 1].value);
          });
        },
      ),
      { seed: 11, numRuns: 300 },
    );
    assert.deepEqual(ticksFor({ quantity: 'speed' }, defaultDisplayUnits, 5, 5, 4), []);
    assert.deepEqual(ticksFor({ quantity: 'speed' }, defaultDisplayUnits, Number.NaN, 5, 4), []);
  });

  it('name their unit', () => {
    assert.equal(axisUnit({ quantity: 'vertical-speed' }, defaultDisplayUnits), 'ft/min');
    assert.equal(axisUnit({ clockFromS: 0 }, defaultDisplayUnits), 'UTC');
  });
});
