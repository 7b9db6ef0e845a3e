import assert from 'node:assert/strict';
import { ProblemList } from '../../../../../src/engine/readers/problem-list.ts';
import { buildTrack } from '../../../../../src/engine/readers/samples/build-track.ts';
import { SampleTable } from '../../../../../src/engine/readers/samples/sample-table.ts';
import type { Track } from '../../../../../src/engine/track/track.ts';
import { near } from '../../../../tools/near.ts';

const startS = Date.UTC(2026, 2, 31, 12) / 1000;

/** Moves north at 30 m/s. */
function moving(times: readonly number[]): SampleTable {
  const table = new SampleTable();
  for (const timeS of times) table.add(startS + timeS, 46.5 + (timeS * 30) / 111_120, -14.75);
  return table;
}

function build(table: SampleTable, name = 'x'): { track: Track; problems: ProblemList } {
  const problems = new ProblemList(name);
  const track = buildTrack(table, {}, problems);
  assert.ok(track);
  return { track, problems };
}

const relative = (track: Track): number[] => [...track.timeS].map((timeS) => Math.round((timeS - startS) * 1e4) / 1e4);

describe('buildTrack: order of time', () => {
  it('leaves ordered samples alone', () => {
    const { track, problems } = build(moving([0, 1, 2, 3.5]));
    assert.deepEqual(relative(track), [0, 1, 2, 3.5]);
    assert.deepEqual(problems.toArray(), []);
    assert.deepEqual(track.breaks, []);
  });

  it('sorts rows out of order and says so', () => {
    const { track, problems } = build(moving([0, 1, 3, 2, 4]));
    assert.deepEqual(relative(track), [0, 1, 2, 3, 4]);
    assert.equal(problems.count('time-backwards'), 1);
    assert.deepEqual(track.breaks, [], 'a swap is no interruption');
    assert.ok(track.latDeg.every((lat, i) => i === 0 || lat > track.latDeg[i - 1]));
  });

  it('takes a far step back as an interruption', () => {
    const { track } = build(moving([100, 101, 102, 10, 11, 12]));
    assert.deepEqual(relative(track), [10, 11, 12, 100, 101, 102]);
    assert.deepEqual(track.breaks, [3]);
  });

  it('drops exact repetitions quietly and different positions of the same time with a warning', () => {
    const table = moving([0, 1, 1, 2]);
    table.add(startS + 2, 46.6, -14.75);
    const { track, problems } = build(table);
    assert.deepEqual(relative(track), [0, 1, 2]);
    assert.equal(problems.count('repeated-fix'), 1);
    assert.equal(problems.count('duplicate-time'), 1);
  });

  it('spreads whole seconds of a faster recorder', () => {
    // 5 Hz, beginning with the last two of a second and ending with the first three of one.
    const written = Array.from({ length: 50 }, (_, i) => 0.6 + i * 0.2);
    const table = new SampleTable();
    for (const timeS of written) table.add(startS + Math.floor(timeS + 1e-9), 46.5 + (timeS * 30) / 111_120, -14.75);
    const { track, problems } = build(table);
    relative(track).forEach((timeS, i) => near(timeS, written[i], 1e-9));
    assert.equal(problems.count('time-coarse'), 50);
    assert.match(track.assumptions.join(), /spread evenly/);
  });

  it('does not spread a fix that is only written again and again', () => {
    const table = new SampleTable();
    for (let i = 0; i < 40; i++) table.add(startS + Math.floor(i / 4), 46.5 + Math.floor(i / 4) * 3e-4, -14.75);
    const { track, problems } = build(table);
    assert.deepEqual(relative(track), [0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
    assert.equal(problems.count('repeated-fix'), 30);
  });

  it('leaves out what a clock stamped before it was set', () => {
    const table = new SampleTable();
    for (let i = 0; i < 3; i++) table.add(315_964_800 + i, 46.5, -14.75 + i / 1000); // 1980-01-06, the GPS epoch
    for (let i = 0; i < 10; i++) table.add(startS + i, 46.5 + i / 1000, -14.75);
    const { track, problems } = build(table);
    assert.equal(track.timeS.length, 10);
    assert.equal(track.timeS[0], startS);
    assert.equal(problems.count('clock-not-set'), 3);
  });

  it('leaves out rows without time, and trims those without position at both ends only', () => {
    const table = new SampleTable();
    const rows: readonly (readonly [number, number])[] = [
      [0, Number.NaN],
      [1, 46.5],
      [2, Number.NaN],
      [Number.NaN, 46.6],
      [3, 46.7],
      [4, Number.NaN],
    ];
    rows.forEach(([timeS, lat], row) => {
      table.add(startS + timeS, lat, lat - 50);
      table.set('engineSpeedRpm', row, 1000 + row);
    });
    const { track, problems } = build(table);
    assert.deepEqual(relative(track), [1, 2, 3]);
    assert.ok(Number.isNaN(track.latDeg[1]));
    assert.deepEqual([...(track.channels.engineSpeedRpm ?? [])], [1001, 1002, 1004]);
    assert.equal(problems.count('before-first-fix'), 2);
    assert.equal(problems.count('sample-without-time'), 1);
  });
});

describe('buildTrack: positions', () => {
  it('takes impossible positions and 0, 0 as missing', () => {
    const table = moving([0, 1, 2, 3, 4, 5]);
    table.latDeg.set(1, 91);
    table.lonDeg.set(2, 181);
    table.latDeg.set(3, 0);
    table.lonDeg.set(3, 0);
    const { track, problems } = build(table);
    assert.deepEqual([...track.latDeg].map(Number.isNaN), [false, false, false]);
    assert.deepEqual(relative(track), [0, 4, 5], 'rows that hold nothing else than a time are gone');
    assert.equal(problems.count('position-out-of-range'), 2);
    assert.equal(problems.count('position-zero'), 1);
  });

  it('refuses when nothing has a time and a position', () => {
    const problems = new ProblemList('x');
    const table = new SampleTable();
    table.add(Number.NaN, 46.5, -14.75);
    table.add(startS, Number.NaN, Number.NaN);
    assert.equal(buildTrack(table, {}, problems), undefined);
    assert.ok(problems.has('no-usable-fix') && problems.hasErrors);
    assert.equal(buildTrack(new SampleTable(), {}, new ProblemList('x')), undefined);
  });

  it('takes out fixes written again while the recorder moved on', () => {
    const table = moving([0, 1, 2, 3, 4, 5, 6]);
    for (const row of [2, 3]) table.latDeg.set(row, table.latDeg.get(1)); // two repetitions
    for (let row = 0; row < 7; row++) table.set('groundSpeedMps', row, row === 2 ? 30 : 30 + row / 10);
    for (let row = 0; row < 7; row++) table.set('altitude-msl', row, 100 + row);
    table.columns.get('groundSpeedMps')?.set(1, 30);
    const { track, problems } = build(table);
    assert.deepEqual(relative(track), [0, 1, 3, 4, 5, 6], 'the row that says nothing new is gone');
    assert.ok(Number.isNaN(track.latDeg[2]), 'the one with a new speed keeps it');
    near(track.groundSpeedMps?.[2] ?? 0, 30.3, 1e-9);
    assert.ok(Number.isNaN(track.altitudes[0].valuesM[2]));
    assert.equal(problems.count('repeated-fix'), 2);
  });

  it('keeps the same position while standing, and where rounding explains it', () => {
    const standing = new SampleTable();
    for (let i = 0; i < 20; i++) standing.add(startS + i, 46.5, -14.75);
    for (let i = 0; i < 20; i++) standing.add(startS + 20 + i, 46.5 + (i * 3) / 111_120, -14.75);
    assert.equal(build(standing).problems.count('repeated-fix'), 0);
    // 10 Hz at 6 m/s, positions to 1.85 m: every third or so stays the same.
    const rounded = new SampleTable();
    for (let i = 0; i < 200; i++)
      rounded.add(startS + i / 10, Math.round((46.5 + (i * 0.6) / 111_120) * 60_000) / 60_000, -14.75);
    rounded.writtenUnits.set('latitude', 1 / 60);
    const { track, problems } = build(rounded);
    assert.equal(problems.count('repeated-fix'), 0);
    near(track.positionResolutionM ?? 0, 1.852, 1e-6);
  });
});

describe('buildTrack: altitudes', () => {
  const withAltitudes = (altitudes: readonly number[]): SampleTable => {
    const table = moving(altitudes.map((_, i) => i));
    altitudes.forEach((altitude, row) => table.set('altitude-msl', row, altitude));
    return table;
  };

  it('takes sudden zeros as missing, but not those that a flight leads through', () => {
    const { track, problems } = build(withAltitudes([410, 412, 0, 0, 415, 420]));
    assert.deepEqual([...track.altitudes[0].valuesM], [410, 412, Number.NaN, Number.NaN, 415, 420]);
    assert.equal(problems.count('altitude-zero'), 2);
    const low = build(withAltitudes([12, 6, 0, -3, 0, 8]));
    assert.deepEqual([...low.track.altitudes[0].valuesM], [12, 6, 0, -3, 0, 8]);
    assert.deepEqual(low.problems.toArray(), []);
  });

  it('has no altitude where all are 0', () => {
    const { track, problems } = build(withAltitudes([0, 0, 0]));
    assert.deepEqual(track.altitudes, []);
    assert.ok(problems.has('altitude-all-zero'));
  });

  it('puts the geometric ones first', () => {
    const table = moving([0, 1]);
    for (const kind of ['pressure', 'unknown', 'ellipsoid', 'msl'] as const) table.set(`altitude-${kind}`, 0, 100);
    assert.deepEqual(
      build(table).track.altitudes.map(({ kind }) => kind),
      ['msl', 'ellipsoid', 'unknown', 'pressure'],
    );
  });
});

describe('buildTrack: directions', () => {
  const degreeRad = Math.PI / 180;
  /** Flies the given heading for a minute, with recorded directions `recorded(i)`. */
  function flown(headingDeg: number, recorded: (i: number) => number): SampleTable {
    const table = new SampleTable();
    for (let i = 0; i < 60; i++) {
      const metres = i * 30;
      table.add(
        startS + i,
        46.5 + (metres * Math.cos(headingDeg * degreeRad)) / 111_120,
        -14.75 + (metres * Math.sin(headingDeg * degreeRad)) / (111_120 * Math.cos(46.5 * degreeRad)),
      );
      table.set('trackRad', i, recorded(i) * degreeRad);
    }
    return table;
  }

  it('keeps true directions, as 0 to 360 degrees', () => {
    const { track, problems } = build(flown(271, (i) => 271 + Math.sin(i)));
    near((track.trackRad?.[0] ?? 0) / degreeRad, 271, 1e-9);
    assert.deepEqual(problems.toArray(), []);
    const signed = build(flown(271, (i) => -89 + Math.sin(i)));
    near((signed.track.trackRad?.[0] ?? 0) / degreeRad, 271, 1e-9);
  });

  it('takes -1 as missing', () => {
    const { track } = build(flown(90, (i) => (i < 5 ? -1 : 90)));
    assert.ok(Number.isNaN(track.trackRad?.[4]));
    near((track.trackRad?.[5] ?? 0) / degreeRad, 90, 1e-9);
  });

  it('does not use magnetic directions without the variation, and turns them true with it', () => {
    const without = build(flown(10, () => 358));
    assert.equal(without.track.trackRad, undefined);
    assert.match(without.problems.toArray()[0].message, /differ by -12 degrees/);
    const table = flown(10, () => 358);
    const problems = new ProblemList('x');
    for (let i = 0; i < 60; i++) table.set('windFromRad', i, 0); // any further column
    const variationRad = new SampleTable().column('headingRad');
    for (let i = 0; i < 60; i++) variationRad.set(i, 12 * degreeRad);
    const track = buildTrack(table, { variationRad }, problems);
    near((track?.trackRad?.[30] ?? 0) / degreeRad, 10, 1e-9);
    assert.deepEqual(problems.toArray(), []);
  });
});

describe('buildTrack: dates', () => {
  const on = (iso: string, name: string): string[] => {
    const table = new SampleTable();
    table.add(Date.parse(iso) / 1000, 46.5, -14.75);
    return build(table, name)
      .problems.toArray()
      .map(({ code }) => code);
  };

  it('warns of dates that cannot be, or that an old receiver wrote 1024 weeks early', () => {
    assert.deepEqual(on('2026-03-31T12:00:00Z', 'a.nmea'), []);
    assert.deepEqual(on('1970-01-01T12:00:00Z', 'a.nmea'), ['date-implausible']);
    assert.deepEqual(on('2126-01-01T12:00:00Z', 'a.nmea'), ['date-implausible']);
    // gpsd's log of a receiver after the rollover of 2019-04-06 writes 1999-08-22.
    assert.deepEqual(on('1999-08-22T00:02:31Z', 'a.nmea'), ['date-week-rollover']);
  });

  it('sees the rollover of a later year by the date in the file name', () => {
    // 2026-03-31 less 1024 weeks is 2006-08-15.
    assert.deepEqual(on('2006-08-15T12:00:00Z', 'flight 2026-03-31.nmea'), ['date-week-rollover']);
    assert.deepEqual(on('2006-08-15T12:00:00Z', '20260331_1200.nmea'), ['date-week-rollover']);
    assert.deepEqual(on('2006-08-15T12:00:00Z', 'flight 2006-08-15.nmea'), []);
    assert.deepEqual(on('2006-08-15T12:00:00Z', 'flight 2026-12-24.nmea'), []);
  });
});
