import assert from 'node:assert/strict';
import * as fc from 'fast-check';
import { isoTimeS } from '../../../../../src/engine/readers/text/date-time.ts';
import { decimalNumber } from '../../../../../src/engine/readers/text/decimal.ts';
import { decimalOf, timeOf } from '../../../../../src/engine/readers/xml/byte-values.ts';

const encoder = new TextEncoder();

/** With other bytes around, which must not matter. */
function framed(text: string): [Uint8Array, number, number] {
  const bytes = encoder.encode(`9${text}9`);
  return [bytes, 1, bytes.length - 1];
}

describe('values in bytes', () => {
  it('are numbers, the same as those of the text', () => {
    const texts = [
      '46.5',
      '-14.750364',
      '+008.5',
      '.5',
      '5.',
      '-0',
      '',
      ' ',
      '-',
      '.',
      ' 12.5\n',
      '1e3',
      '1.2.3',
      'x',
      '123456789012345',
      '1234567890123456',
      '0.1234567890123456789',
      '９',
    ]; // the last is a full-width digit
    for (const text of texts)
      assert.ok(Object.is(decimalOf(...framed(text)), decimalNumber(text)), JSON.stringify(text));
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(...'0123456789.-+e '.split('')), maxLength: 20 }), (text) => {
        assert.ok(Object.is(decimalOf(...framed(text)), decimalNumber(text)), JSON.stringify(text));
      }),
      { seed: 20_260_331, numRuns: 3000 },
    );
  });

  it('are times, the same as those of the text', () => {
    const texts = [
      '2026-03-31T23:59:58Z',
      '2026-03-31T23:59:58.8Z',
      '2026-03-31T23:59:58.Z',
      '2026-02-30T00:00:00Z',
      '2026-03-31T24:00:00Z',
      '2016-12-31T23:59:60Z',
    ].concat([
      '2026-03-31T23:59:58+01:00',
      '2026-03-31 23:59:58Z',
      ' 2026-03-31T23:59:58Z ',
      '2026-13-31T23:59:58Z',
      '2026-03-31T23:60:58Z',
      '2026-03-31',
      '',
      'x',
      '2026-03-31T23:59:58.-8Z',
      '2026-03-31T23:59:58.1.1Z',
      '20x6-03-31T23:59:58Z',
    ]);
    for (const text of texts) {
      const [fast, slow] = [timeOf(...framed(text)), isoTimeS(text)];
      assert.ok(Object.is(fast, slow) || Math.abs(fast - slow) < 1e-6, `${text}: ${fast} and ${slow}`);
    }
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 4_102_444_799_999 }), fc.boolean(), (milliseconds, whole) => {
        const text = new Date(milliseconds).toISOString().replace(whole ? /\.\d+/ : /^$/, '');
        assert.ok(Math.abs(timeOf(...framed(text)) - isoTimeS(text)) < 1e-6, text);
      }),
      { seed: 20_260_331, numRuns: 2000 },
    );
  });
});
