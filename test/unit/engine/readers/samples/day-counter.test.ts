import assert from 'node:assert/strict';
import { ProblemList } from '../../../../../src/engine/readers/problem-list.ts';
import { DayCounter } from '../../../../../src/engine/readers/samples/day-counter.ts';
import { SampleTable } from '../../../../../src/engine/readers/samples/sample-table.ts';

const dayS = 86_400;

describe('DayCounter', () => {
  it('passes midnight, also more than once', () => {
    const days = new DayCounter(new SampleTable());
    days.stateDay(100);
    assert.equal(days.timeS(86_398), 100 * dayS + 86_398);
    assert.equal(days.timeS(1), 101 * dayS + 1);
    assert.equal(days.timeS(43_000), 101 * dayS + 43_000);
    assert.equal(days.timeS(86_000), 101 * dayS + 86_000);
    assert.equal(days.timeS(5), 102 * dayS + 5);
  });

  it('takes small steps back as disorder, at midnight too', () => {
    const days = new DayCounter(new SampleTable());
    days.stateDay(100);
    days.timeS(500);
    assert.equal(days.timeS(498), 100 * dayS + 498);
    days.timeS(43_000);
    days.timeS(86_399);
    assert.equal(days.timeS(2), 101 * dayS + 2);
    assert.equal(days.timeS(86_398), 100 * dayS + 86_398);
    assert.equal(days.timeS(3), 101 * dayS + 3);
  });

  it('takes a pause of many hours forward', () => {
    const days = new DayCounter(new SampleTable());
    days.stateDay(100);
    days.timeS(6 * 3600);
    assert.equal(days.timeS(19 * 3600), 100 * dayS + 19 * 3600);
  });

  it('moves rows stored before the first date', () => {
    const table = new SampleTable();
    const days = new DayCounter(table);
    for (const timeOfDayS of [86_398, 86_399, 0]) table.add(days.timeS(timeOfDayS), 46.5, -14.75);
    assert.ok(!days.dated);
    days.stateDay(200, 1);
    table.add(days.timeS(1), 46.5, -14.75);
    assert.deepEqual([...table.timeS.view(4)], [200 * dayS - 2, 200 * dayS - 1, 200 * dayS, 200 * dayS + 1]);
  });

  it('takes a given date for the first row, or asks for one', () => {
    const table = new SampleTable();
    const days = new DayCounter(table);
    for (const timeOfDayS of [86_399, 0]) table.add(days.timeS(timeOfDayS), 46.5, -14.75);
    const problems = new ProblemList('x');
    assert.ok(!days.settle(undefined, problems, []));
    assert.ok(!days.settle('31.03.2026', problems, []));
    assert.equal(problems.count('date-missing'), 2);
    // As the spec calls it.
    assert.match(problems.toArray()[0].message, /`day: YYYY-MM-DD`/);
    const assumptions: string[] = [];
    assert.ok(days.settle('2026-03-31', new ProblemList('x'), assumptions));
    assert.equal(table.timeS.get(1), Date.UTC(2026, 3, 1) / 1000);
    assert.match(assumptions[0], /2026-03-31 was given/);
  });
});
