import assert from 'node:assert/strict';
import * as fc from 'fast-check';
import { coordinate, element, escapeXml, polyline } from '../../../../src/engine/report/svg/element.ts';
import { roundStep, scaleOver } from '../../../../src/engine/report/svg/scale.ts';

describe('scales of figures', () => {
  it('have round steps', () => {
    assert.equal(roundStep(10, 5), 2);
    assert.equal(roundStep(1, 6), 0.2);
    assert.equal(roundStep(870, 6), 200);
    assert.equal(roundStep(0, 6), 1);
  });

  it('hold all values, with ticks inside and between 2 and 16 of them', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: -1e5, max: 1e5, noNaN: true }), { maxLength: 20 }), (values) => {
        const scale = scaleOver([...values, Number.NaN], 100, 0);
        for (const value of values) assert.ok(scale(value) >= -1e-6 && scale(value) <= 100 + 1e-6);
        assert.ok(scale.ticks.length >= 2 && scale.ticks.length <= 16, String(scale.ticks));
        for (const tick of scale.ticks) {
          assert.ok(tick >= scale.low - 1e-6 && tick <= scale.high + 1e-6 * Math.max(1, Math.abs(scale.high)));
          assert.ok(Math.abs(Number(tick.toFixed(scale.decimals)) - tick) < 1e-9 * Math.max(1, Math.abs(tick)));
        }
      }),
      { seed: 9, numRuns: 300 },
    );
  });
});

describe('SVG text', () => {
  it('is escaped and rounded', () => {
    assert.equal(escapeXml('a<b>&"\u0000\ud800'), 'a&lt;b&gt;&amp;&quot;');
    assert.equal(coordinate(10), '10');
    assert.equal(coordinate(-0.001), '0');
    assert.equal(coordinate(1.005001), '1.01');
    assert.equal(coordinate(100.5), '100.5');
    assert.equal(element('a', { b: undefined, c: 1 / 3 }), '<a c="0.33"/>');
  });

  it('leaves a gap in a line where there is one', () => {
    assert.match(
      polyline(
        [
          [0, 0],
          [1, Number.NaN],
          [2, 2],
          [3, 3],
        ],
        'x',
      ),
      /d="M0 0M2 2L3 3"/,
    );
    assert.match(
      polyline(
        [
          [0, 0],
          [1, 1],
          [2, 2],
        ],
        'x',
        undefined,
        [2],
      ),
      /d="M0 0L1 1M2 2"/,
    );
  });
});
