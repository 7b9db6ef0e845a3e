import assert from 'node:assert/strict';
import * as fc from 'fast-check';
import { parseQuantity, type QuantityResult } from '../../../shared/quantity.ts';
import type { Dimension } from '../../../shared/units.ts';

function value(text: string, dimension: Dimension): number {
  const result = parseQuantity(text, dimension);
  assert.ok(result.ok, JSON.stringify(result));
  return result.quantity.value;
}

function fault(text: string, dimension: Dimension): QuantityResult & { ok: false } {
  const result = parseQuantity(text, dimension);
  assert.ok(!result.ok, `${text} was accepted`);
  return result;
}

describe('quantities as written by people', () => {
  it('reads the forms of the trade', () => {
    assert.equal(value('14 degC', 'temperature'), 287.15);
    assert.equal(value('14°C', 'temperature'), 287.15);
    assert.equal(value('1016 hPa', 'pressure'), 101600);
    assert.equal(value('6 kt', 'speed'), 6 * (1852 / 3600));
    assert.equal(value('  50ft ', 'length'), 15.24);
    assert.equal(value('.5 NM', 'length'), 926);
    assert.equal(value('-3 degC', 'temperature'), 270.15);
    assert.equal(value('\u22123 degC', 'temperature'), 270.15);
    assert.equal(value('5 %', 'ratio'), 0.05);
    assert.equal(value('1.65e3 lb', 'mass'), 1650 * 0.45359237);
  });

  it('reads a stated uncertainty as one standard deviation', () => {
    for (const text of ['720 kg +- 10 kg', '720 kg ± 10 kg', '720kg+/-10kg', '720 +- 10 kg']) {
      const result = parseQuantity(text, 'mass');
      assert.ok(result.ok, text);
      assert.equal(result.quantity.value, 720);
      assert.equal(result.quantity.sigma, 10);
    }
    const inUnits = parseQuantity('1600 lb ± 1.5 %', 'mass');
    assert.ok(inUnits.ok && Math.abs((inUnits.quantity.sigma ?? 0) - 24 * 0.45359237) < 1e-9);
    const warm = parseQuantity('59 degF ± 1.8 degF', 'temperature');
    assert.ok(warm.ok && Math.abs((warm.quantity.sigma ?? 0) - 1) < 1e-12, 'a spread has no offset');
    const mixed = parseQuantity('14 degC ± 1 K', 'temperature');
    assert.ok(mixed.ok && mixed.quantity.sigma === 1);
    const slope = parseQuantity('0.8 % ± 0.2 %', 'ratio');
    assert.ok(slope.ok && Math.abs((slope.quantity.sigma ?? 0) - 0.002) < 1e-15);
    const none = parseQuantity('720 kg', 'mass');
    assert.ok(none.ok && none.quantity.sigma === undefined);
  });

  it('refuses with what to do', () => {
    assert.equal(fault('14', 'temperature').fault, 'no-unit');
    assert.match(fault('14', 'temperature').message, /degC, degF, K/);
    assert.equal(fault('14 kt', 'temperature').fault, 'wrong-dimension');
    assert.equal(fault('14 furlongs', 'length').fault, 'unknown-unit');
    assert.equal(fault('20 gal', 'volume').fault, 'ambiguous-unit');
    assert.match(fault('20 gal', 'volume').message, /US gal.*imp gal/);
    assert.match(fault('12,5 kg', 'mass').message, /decimal point/);
    assert.match(fault('1,056 ft', 'length').message, /thousands/);
    assert.equal(fault('light', 'speed').fault, 'not-a-number');
    assert.equal(fault('', 'speed').fault, 'not-a-number');
    assert.equal(fault('1e999 kg', 'mass').fault, 'not-a-number');
    assert.equal(fault('720 kg ± 10', 'mass').fault, 'bad-uncertainty');
    assert.equal(fault('720 kg ± -10 kg', 'mass').fault, 'bad-uncertainty');
    assert.equal(fault('14 degC ± 5 %', 'temperature').fault, 'bad-uncertainty');
    assert.equal(fault('1 kg ± 1 kg ± 1 kg', 'mass').fault, 'bad-uncertainty');
    assert.equal(fault('9'.repeat(200), 'mass').fault, 'not-a-number');
  });

  it('never throws, and what it accepts is a finite number', () => {
    fc.assert(
      fc.property(
        fc.string({ maxLength: 60 }),
        fc.constantFrom<Dimension>('mass', 'temperature', 'ratio'),
        (text, d) => {
          const result = parseQuantity(text, d);
          if (result.ok) assert.ok(Number.isFinite(result.quantity.value));
          else assert.ok(result.message.length > 0);
        },
      ),
      { seed: 7, numRuns: 500 },
    );
  });
});
