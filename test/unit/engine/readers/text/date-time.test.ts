import assert from 'node:assert/strict';
import * as fc from 'fast-check';
import {
  daysSince1970,
  fullYear,
  hasZone,
  isoDateDays,
  isoTimeS,
  utcOffsetS,
} from '../../../../../src/engine/readers/text/date-time.ts';

describe('isoTimeS', () => {
  it('reads the forms of xsd:dateTime and their relatives', () => {
    const cases: readonly (readonly [string, string])[] = [
      ['2026-03-31T23:59:58Z', '2026-03-31T23:59:58.000Z'],
      ['2026-03-31T23:59:58.8Z', '2026-03-31T23:59:58.800Z'],
      ['2026-03-31T23:59:58,125Z', '2026-03-31T23:59:58.125Z'],
      ['2026-03-31 23:59:58', '2026-03-31T23:59:58.000Z'],
      ['2026-03-31t23:59:58z', '2026-03-31T23:59:58.000Z'],
      ['\n 2026-03-31T23:59:58Z ', '2026-03-31T23:59:58.000Z'],
      ['2013-11-13T01:03:34.245-08:00', '2013-11-13T09:03:34.245Z'],
      ['2017-10-29 14:05:56.870 -0500', '2017-10-29T19:05:56.870Z'],
      ['2026-03-31T00:30:00+01', '2026-03-30T23:30:00.000Z'],
      ['2026-03-31T24:00:00Z', '2026-04-01T00:00:00.000Z'],
      ['2016-12-31T23:59:60Z', '2017-01-01T00:00:00.000Z'],
      ['2024-02-29T00:00:00Z', '2024-02-29T00:00:00.000Z'],
    ];
    for (const [text, expected] of cases) {
      const timeS = isoTimeS(text);
      assert.ok(!Number.isNaN(timeS), text);
      assert.equal(new Date(Math.round(timeS * 1000)).toISOString(), expected, text);
    }
  });

  it('gives NaN for dates that do not exist and for anything else', () => {
    for (const text of [
      '',
      '2026-03-31',
      '2026-02-30T00:00:00Z',
      '2023-02-29T00:00:00Z',
      '2026-13-01T00:00:00Z',
      '2026-00-10T00:00:00Z',
      '2026-03-31T25:00:00Z',
      '2026-03-31T24:00:01Z',
      '2026-03-31T24:01:00Z',
      '2026-03-31T23:60:00Z',
      '2026-03-31T23:59:61Z',
      '2026-03-31T23:59:58.Z',
      '2026-03-31T23:59:58+99:00',
      '2026-03-31T23:59:58 PM',
      '2026-3-31T23:59:58Z',
      '31-03-2026T23:59:58Z',
      '2026-03-31X23:59:58Z',
      'not a time at all!!',
    ]) {
      assert.ok(Number.isNaN(isoTimeS(text)), text);
    }
  });

  it('agrees with Date on every instant', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 4_102_444_799_999 }), (milliseconds) => {
        const text = new Date(milliseconds).toISOString();
        assert.ok(Math.abs(isoTimeS(text) - milliseconds / 1000) < 1e-6, text);
      }),
      { seed: 20_260_331, numRuns: 2000 },
    );
  });
});

describe('dates and zones', () => {
  it('tells whether a zone is named', () => {
    for (const text of ['2026-03-31T23:59:58Z', '2026-03-31 23:59:58.1 -0500', '2026-03-31T23:59:58+01:00'])
      assert.ok(hasZone(text));
    for (const text of ['2026-03-31T23:59:58', '2026-03-31 23:59:58.125']) assert.ok(!hasZone(text));
  });

  it('reads offsets', () => {
    assert.equal(utcOffsetS('+00:00'), 0);
    assert.equal(utcOffsetS('-05:00'), -18_000);
    assert.equal(utcOffsetS('+0530'), 19_800);
    assert.equal(utcOffsetS('+14'), 50_400);
    for (const text of ['', '5', '+15:00', '+1:00', '+01:75', 'Z']) assert.ok(Number.isNaN(utcOffsetS(text)), text);
  });

  it('counts days', () => {
    assert.equal(daysSince1970(1970, 1, 1), 0);
    assert.equal(daysSince1970(2000, 3, 1), 11_017);
    assert.ok(Number.isNaN(daysSince1970(2026, 4, 31)));
    assert.ok(Number.isNaN(daysSince1970(1900, 2, 29)));
    assert.ok(Number.isNaN(daysSince1970(Number.NaN, 1, 1)));
    assert.equal(isoDateDays('1970-01-02'), 1);
    for (const text of ['', '2026-2-3', '2026-02-30', '02-03-2026']) assert.ok(Number.isNaN(isoDateDays(text)), text);
  });

  it('takes years of two digits from 1980 to 2079', () => {
    // FAI/IGC flight-recorder specification: 80 to 99 are 19xx.
    assert.deepEqual([80, 99, 0, 26, 79].map(fullYear), [1980, 1999, 2000, 2026, 2079]);
  });
});
