import assert from 'node:assert/strict';
import * as fc from 'fast-check';
import { decimalNumber } from '../../../../../src/engine/readers/text/decimal.ts';

const read = decimalNumber;

describe('decimalNumber', () => {
  it('reads what recorders write', () => {
    const cases: readonly (readonly [string, number])[] = [
      ['46.5', 46.5],
      ['-14.750364', -14.750364],
      [' +008.5155383 ', 8.5155383],
      ['.5', 0.5],
      ['5.', 5],
      ['-0', -0],
      ['00012', 12],
      ['1e3', 1000],
      ['-9.87e-7', -9.87e-7],
      ['0.1234567890123456789012345', Number('0.1234567890123456789012345')],
      ['123456789012345678901', Number('123456789012345678901')],
      ['38.57582480184601', 38.57582480184601],
    ];
    for (const [text, value] of cases) assert.ok(Object.is(read(text), value), text);
  });

  it('gives NaN for what is no decimal number, never 0', () => {
    for (const text of [
      '',
      ' ',
      '-',
      '.',
      '1.2.3',
      '1,5',
      '0x10',
      'Infinity',
      'NaN',
      'null',
      '1 2',
      '12a',
      '--1',
      '1e',
      'e5',
    ]) {
      assert.ok(Number.isNaN(read(text)), text);
    }
  });

  it('reads decimal commas when told', () => {
    assert.equal(read('55,6216409', ','), 55.6216409);
    assert.equal(read('-1,5e2', ','), -150);
    assert.ok(Number.isNaN(read('1.5', ',')));
  });

  it('agrees with Number to the last bit', () => {
    fc.assert(
      fc.property(fc.integer({ min: -(10 ** 9), max: 10 ** 9 }), fc.nat(10 ** 9), fc.nat(12), (whole, part, zeros) => {
        const text = `${whole}.${'0'.repeat(zeros)}${part}`;
        assert.ok(Object.is(read(text), Number(text)), text);
      }),
      { seed: 20_260_331, numRuns: 3000 },
    );
  });
});
