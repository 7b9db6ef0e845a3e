import assert from 'node:assert/strict';
import { fixedFolder, globMatcher, isPattern } from '../../../src/engine/glob.ts';

describe('glob', () => {
  const cases: readonly (readonly [string, readonly string[], readonly string[]])[] = [
    ['*.gpx', ['a.gpx', 'A.GPX', 'two words.gpx'], ['a.igc', 'b/a.gpx', '.hidden.gpx', 'a.gpx.bak']],
    ['before/*.igc', ['before/x.igc'], ['after/x.igc', 'before/deep/x.igc']],
    ['**/*.csv', ['a.csv', 'x/a.csv', 'x/y/a.csv'], ['.git/a.csv', 'x/.cache/a.csv', 'a.csv/b']],
    ['logs/**', ['logs/a', 'logs/x/y.gpx'], ['logs', 'other/a', 'logs/.a']],
    ['flight-?.nmea', ['flight-1.nmea'], ['flight-12.nmea', 'flight-.nmea']],
    ['flight-[1-3].nmea', ['flight-2.nmea'], ['flight-4.nmea', 'flight-/.nmea']],
    ['flight-[!1].nmea', ['flight-2.nmea'], ['flight-1.nmea']],
    ['{before,after}/*.{gpx,igc}', ['before/a.gpx', 'after/b.igc'], ['during/a.gpx', 'before/a.kml']],
    ['a+b(1).gpx', ['a+b(1).gpx'], ['aab1.gpx']],
    ['a[.gpx', ['a[.gpx'], ['a.gpx']],
    ['a{b.gpx', [], ['a.gpx']],
    ['20??-*/**/x.*', ['2026-03/x.gpx', '2026-03/a/b/x.igc'], ['2026/x.gpx']],
  ];
  for (const [pattern, matching, others] of cases) {
    it(pattern, () => {
      const matches = globMatcher(pattern);
      for (const path of matching) assert.ok(matches(path), `${path} should match`);
      for (const path of others) assert.ok(!matches(path), `${path} should not match`);
    });
  }

  it('tells patterns from paths', () => {
    assert.ok(isPattern('a/*.gpx') && isPattern('{a,b}.gpx') && isPattern('a?.gpx') && isPattern('[ab].gpx'));
    assert.ok(!isPattern('a/b c.gpx') && !isPattern('../tracks'));
  });

  it('finds the folder to start in', () => {
    assert.equal(fixedFolder('tracks/2026/*.gpx'), 'tracks/2026');
    assert.equal(fixedFolder('../logs/**/*.igc'), '../logs');
    assert.equal(fixedFolder('*.gpx'), '');
    assert.equal(fixedFolder('tracks/a.gpx'), 'tracks');
  });

  it('answers at once also for patterns made to be slow', () => {
    const matches = globMatcher(`${'*a'.repeat(12)}b`);
    const start = process.hrtime.bigint();
    assert.ok(!matches('a'.repeat(40)));
    assert.ok(process.hrtime.bigint() - start < 2_000_000_000n);
  });
});
