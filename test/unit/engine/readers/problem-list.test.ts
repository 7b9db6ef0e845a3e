import assert from 'node:assert/strict';
import { ProblemList } from '../../../../src/engine/readers/problem-list.ts';

describe('ProblemList', () => {
  it('counts the same code and keeps message and place of the first', () => {
    const problems = new ProblemList('a.gpx');
    problems.warning('gpx-bad-time', 'first', { line: 3 });
    problems.info('fix-2d', 'flat', { line: 4 });
    problems.warning('gpx-bad-time', 'second', { line: 9 });
    problems.warning('gpx-bad-time', 'more', {}, 5);
    assert.deepEqual(problems.toArray(), [
      { code: 'gpx-bad-time', severity: 'warning', message: 'first', at: { file: 'a.gpx', line: 3 }, count: 7 },
      { code: 'fix-2d', severity: 'info', message: 'flat', at: { file: 'a.gpx', line: 4 } },
    ]);
    assert.equal(problems.count('gpx-bad-time'), 7);
    assert.equal(problems.count('none'), 0);
    assert.ok(problems.has('fix-2d') && !problems.has('none'));
  });

  it('knows whether anything is an error', () => {
    const problems = new ProblemList('a.gpx');
    problems.warning('x', 'x');
    assert.ok(!problems.hasErrors);
    problems.error('y', 'y');
    assert.ok(problems.hasErrors);
  });

  it('stays small whatever a file makes of it', () => {
    const problems = new ProblemList('a.gpx');
    for (let i = 0; i < 10_000; i++) problems.warning(`code-${i}`, 'x');
    assert.equal(problems.toArray().length, 100);
  });
});
