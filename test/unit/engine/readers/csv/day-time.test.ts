import assert from 'node:assert/strict';
import { dateDays, orderOfDates, readTimeCell } from '../../../../../src/engine/readers/csv/day-time.ts';
import { daysSince1970 } from '../../../../../src/engine/readers/text/date-time.ts';
import { near } from '../../../../tools/near.ts';

describe('times in tables', () => {
  it('are times of day in many forms', () => {
    const noon = 43_200;
    const cases: readonly (readonly [string, number, string, number | undefined])[] = [
      ['12:13:29', noon + 809, '', undefined],
      ['12:13:29,2', noon + 809.2, '', undefined],
      ['12:13:29.25 PM', noon + 809.25, '', undefined],
      ['12:13:29 am', 809, '', undefined],
      ['1:05 p.m.', 13 * 3600 + 300, '', undefined],
      ['121329.2', noon + 809.2, '', undefined],
      ['31.03.2026 12:13:29', noon + 809, '31.03.2026', undefined],
      ['03/31/26 12:13:29', noon + 809, '03/31/26', undefined],
      ['31 Mar 2026 12:13:29', noon + 809, '31 Mar 2026', undefined],
      ['31/03/2026T12:13:29Z', noon + 809, '31/03/2026', 0],
      ['2026/03/31 12:13:29+02:00', noon + 809, '2026/03/31', 7200],
      ['12:13:29 UTC', noon + 809, '', 0],
    ];
    for (const [cell, timeS, dateText, zoneS] of cases) {
      const read = readTimeCell(cell);
      assert.ok(read, cell);
      assert.deepEqual([read.kind, read.dateText, read.zoneS], ['time-of-day', dateText, zoneS], cell);
      near(read.timeS, timeS, 1e-6, cell);
    }
  });

  it('are Unix times of every magnitude, or seconds from some start', () => {
    for (const cell of ['1774958398.8', '1774958398800', '1774958398800000', '1774958398800000000']) {
      const read = readTimeCell(cell);
      assert.equal(read?.kind, 'absolute', cell);
      assert.ok(Math.abs((read?.timeS ?? 0) - 1_774_958_398.8) < 1e-6, cell);
    }
    assert.deepEqual(readTimeCell('12.5'), { dateText: '', timeS: 12.5, kind: 'elapsed' });
    assert.equal(readTimeCell('246199')?.kind, 'elapsed', 'no time of day');
  });

  it('are nothing else', () => {
    for (const cell of [
      '',
      'null',
      '2026-03-31',
      '31.03.2026',
      '25:00:00',
      '12:60:00',
      '13:00 PM',
      '12:13:29+99:00',
      'abc 12:13:29 x',
    ]) {
      assert.equal(readTimeCell(cell), undefined, cell);
    }
  });
});

describe('dates in tables', () => {
  const day = daysSince1970(2026, 3, 31);

  it('are read in every form', () => {
    for (const text of [
      '2026-03-31',
      '2026/3/31',
      '2026.03.31',
      '20260331',
      '31.03.2026',
      '31/03/2026',
      '31-3-26',
      '310326',
      '31 Mar 2026',
      '31-Mar-26',
      'Mar 31, 2026',
      'March 31 2026',
    ]) {
      assert.equal(dateDays(text, 'day-month'), day, text);
    }
    assert.equal(dateDays('03/31/2026', 'month-day'), day);
    assert.equal(dateDays('31.03.2026', 'month-day'), day, 'points are never month first');
    for (const text of ['', '31.02.2026', '32/01/2026', '31 Foo 2026', '2026', '31/03-2026', '03/31/2026']) {
      assert.ok(Number.isNaN(dateDays(text, 'day-month')), text);
    }
  });

  it('tell their order by a number above 12, or by the date in the file name, or not at all', () => {
    assert.equal(orderOfDates(['31/03/2026'], 'a.csv'), 'day-month');
    assert.equal(orderOfDates(['03/31/2026', '04/01/2026'], 'a.csv'), 'month-day');
    assert.equal(orderOfDates(['03/04/2026'], 'a.csv'), undefined);
    assert.equal(orderOfDates(['03/04/2026'], 'flight_2026-04-03.csv'), 'day-month');
    assert.equal(orderOfDates(['03/04/2026'], '20260304-1200.csv'), 'month-day');
    assert.equal(orderOfDates(['03/04/2026'], '20260305.csv'), undefined);
    assert.equal(orderOfDates(['04/04/2026'], 'a.csv'), 'day-month', 'the same either way');
    assert.equal(orderOfDates(['31/03/2026', '03/31/2026'], 'a.csv'), undefined, 'contradiction');
    assert.equal(orderOfDates(['2026-03-04', '03.04.2026'], 'a.csv'), 'day-month');
  });
});
