import assert from 'node:assert/strict';
import type { EngineParts } from '../../../src/engine/evaluate/index.ts';
import { run } from '../../../src/cli/run.ts';
import { fakeIo } from './fake-io.ts';
import { fakeParts } from './fake-parts.ts';

const files = {
  'one.gpx': 'ok',
  'flights/two.csv': 'warn',
  'flights/notes.md': 'x',
  'bad.bin': '???',
  'a [1].gpx': 'ok',
};

async function command(args: readonly string[], content: Readonly<Record<string, string>> = files) {
  const io = fakeIo(content);
  return { code: await run(args, fakeParts, io), out: io.out(), err: io.err() };
}

describe('command line', () => {
  it('teaches with --help, for all and for each command', async () => {
    for (const args of [['--help'], ['help'], ['-h']]) assert.match((await command(args)).out, /The way to an answer/);
    for (const name of ['inspect', 'compare', 'check', 'new']) {
      const { out, code } = await command([name, '--help']);
      assert.match(out, new RegExp(`^modproof ${name} `));
      assert.match(out, /Examples?\n/);
      assert.match(out, /Exit codes/);
      assert.equal(code, 0);
    }
  });

  it('refuses what it does not know, with the nearest and code 3', async () => {
    const { code, out, err } = await command(['inspct', 'a']);
    assert.deepEqual([code, out], [3, '']);
    assert.match(
      err,
      /^modproof: "inspct" is no command: inspect, .*\. Did you mean "inspect"\?\nSee: modproof --help\n$/,
    );
    assert.match((await command(['inspect', '--jason', 'a'])).err, /Did you mean --json\?/);
    assert.match((await command(['inspect', '--units', 'furlongs', 'one.gpx'])).err, /icao, us or metric/);
    assert.match((await command(['inspect'])).err, /name a recording/);
    assert.match((await command(['compare', 'a', 'b'])).err, /one spec/);
    assert.equal((await command([])).code, 3);
    assert.equal((await command(['check', '--units', 'us', 'x'])).code, 3, 'an option of another command');
  });

  it('has one error line for a file that is not there, and code 2', async () => {
    const { code, err, out } = await command(['inspect', 'none.gpx']);
    assert.equal(code, 2);
    assert.match(err, /^none\.gpx: error track-not-found: /);
    assert.match(out, /no usable track/);
    assert.equal((await command(['compare', 'none.yaml'])).code, 2);
  });
});

describe('--json of what failed', () => {
  const spec = { ...files, 'bad.yaml': 'modproof: 2', 'latin.yaml': 'title: \u0000' };

  it('is still JSON of the shape of the command, with the reason where the shape has problems', async () => {
    for (const [args, code] of [
      [['compare', 'none.yaml'], 2],
      [['compare', 'one.gpx', 'two'], 3],
      [['loading', 'none.yaml'], 2],
      [['loading', 'bad.yaml'], 1],
      [['range', 'bad.yaml'], 1],
      [['plan', '--frob', 'bad.yaml'], 3],
    ] as const) {
      const answer = await command([...args, '--json'], spec);
      assert.equal(answer.code, code, args.join(' '));
      const { problems } = JSON.parse(answer.out) as {
        problems: { code: string; severity: string; message: string }[];
      };
      assert.equal(problems[0].severity, 'error', args.join(' '));
      assert.ok(problems[0].message.length > 0 && !problems[0].message.includes('--help'));
    }
    const compared = await command(['compare', 'none.yaml', '--json']);
    assert.deepEqual(Object.keys(JSON.parse(compared.out) as object), ['title', 'metrics', 'leftOut', 'problems']);
  });

  it('is an array where the command gives one', async () => {
    const checked = await command(['check', 'none.yaml', '--json']);
    assert.match((JSON.parse(checked.out) as { message: string }[])[0].message, /cannot be read/);
    for (const args of [
      ['inspect', 'flights/none/*.gpx'],
      ['inspect'],
      ['candidates', 'none.yaml'],
      ['missions', 'bad.yaml'],
    ])
      assert.ok(Array.isArray(JSON.parse((await command([...args, '--json'], spec)).out)), args.join(' '));
  });

  it('keeps to nine significant digits around the flights too', async () => {
    const loading = `modproof: 1
title: T
aircraft: { propeller: fixed-pitch, maximum-weight: 3400 lb }
configurations: { a: { baseline: true, empty-weight: 2100 lb, empty-arm: 78.3 in } }
flights: []
loading: { stations: { seat: { arm: 85 in } }, cases: { alone: { load: { seat: 180 lb } } } }
`;
    const { out, code } = await command(['loading', 'l.yaml', '--json'], { 'l.yaml': loading });
    assert.equal(code, 0);
    assert.match(out, /"massKg": 1034\.19/);
    for (const number of out.match(/\d+\.\d+/g) ?? [])
      assert.equal(Number(Number(number).toPrecision(9)), Number(number));
  });

  it('gives the other specs of a check when one cannot be read', async () => {
    const { out, code } = await command(['check', 'bad.yaml', 'none.yaml', '--json'], spec);
    const codes = (JSON.parse(out) as { code: string }[]).map((problem) => problem.code);
    assert.deepEqual([code, codes.at(-1)], [2, 'failed']);
    assert.ok(codes.includes('spec-version'));
  });
});

describe('inspect', () => {
  it('shows a recording for people', async () => {
    const { out, err, code } = await command(['inspect', 'one.gpx', '--units', 'us']);
    assert.equal(code, 0);
    assert.equal(err, '');
    assert.match(out, /gpx, 2024-04-13 22:30:00 to 23:00:00 UTC \(30 min 00 s\), 1795 fixes, 1 Hz, 1 gap/);
    assert.match(out, /22:31:00\.3\s+22:31:14\.0\s+standing\s+133 deg\s+700 \(650 to 750\)/);
    assert.match(out, /rejected\s+354 deg\s+-\s+-/);
    assert.match(out, /1: lift-off told from the climb alone/);
    assert.doesNotMatch(out, /NaN|undefined/);
  });

  it('says in words when the datum of the altitude is not stated', async () => {
    const io = fakeIo(files);
    const parts: EngineParts = {
      ...fakeParts,
      analyse: (...request) => {
        const analysis = fakeParts.analyse(...request);
        return { ...analysis, recording: { ...analysis.recording, altitudeKinds: ['unknown'] } };
      },
    };
    assert.equal(await run(['inspect', 'one.gpx'], parts, io), 0);
    assert.match(io.out(), /altitude: datum not stated; speed/);
  });

  it('expands folders, passes over notes, tells problems on stderr with their place', async () => {
    const { out, err, code } = await command(['inspect', 'flights/']);
    assert.match(out, /^flights\/two\.csv\n/);
    assert.equal(err, 'flights/two.csv:7:3: warning csv-bad-line: Not a number. (2 times)\n');
    assert.equal(code, 0);
  });

  it('takes a name with brackets for a file when there is one', async () => {
    assert.match((await command(['inspect', 'a [1].gpx'])).out, /^a \[1\]\.gpx\n/);
  });

  it('goes on after a bad file, and says so with code 1', async () => {
    const { out, err, code } = await command(['inspect', 'bad.bin', 'one.gpx', '--verbose']);
    assert.equal(code, 1);
    assert.match(err, /bad\.bin: error unknown-format/);
    assert.match(err, /one\.gpx: info some-notice: a notice/);
    assert.match(out, /one\.gpx\n/);
    assert.equal((await command(['inspect', 'bad.bin'])).code, 2);
  });

  it('writes the documented JSON', async () => {
    const { out } = await command(['inspect', 'one.gpx', 'bad.bin', '--json']);
    const [one, bad] = JSON.parse(out) as [Record<string, never>, Record<string, never>];
    assert.deepEqual(Object.keys(one), [
      'file',
      'recording',
      'phases',
      'takeoffs',
      'climbs',
      'levelRuns',
      'winds',
      'landings',
    ]);
    assert.deepEqual(one.recording, {
      format: 'gpx',
      start: '2024-04-13T22:30:00.000Z',
      end: '2024-04-13T23:00:00.000Z',
      samples: 1795,
      rateHz: 1,
      gaps: [{ start: '2024-04-13T22:45:00.000Z', end: '2024-04-13T22:45:05.000Z' }],
      altitudeKinds: ['msl', 'pressure'],
      problems: [{ code: 'some-notice', severity: 'info', message: 'a notice' }],
    });
    assert.deepEqual(one.takeoffs[0], {
      outcome: 'flown',
      rollStart: '2024-04-13T22:31:00.250Z',
      liftoff: '2024-04-13T22:31:14.000Z',
      rollingStart: false,
      groundRollM: { value: 213.36, low: 198.12, high: 228.6 },
      liftoffSpeedMps: { value: 24.2, low: 23.7, high: 24.7 },
      trackDeg: 132.926208,
      screens: [{ heightM: 15.24, time: '2024-04-13T22:31:24.000Z', distanceM: { value: 420, low: 390, high: 450 } }],
      remarks: ['lift-off told from the climb alone'],
    });
    assert.deepEqual(Object.keys(one.takeoffs[1]), ['outcome', 'rollStart', 'rollingStart', 'trackDeg', 'screens']);
    assert.deepEqual(Object.keys(one.landings[0]), ['touchdown', 'trackDeg']);
    assert.deepEqual(one.climbs[0], {
      start: '2024-04-13T22:31:30.000Z',
      end: '2024-04-13T22:36:30.000Z',
      fromAltitudeM: 400,
      toAltitudeM: 1300,
      altitudeKind: 'msl',
      rateOfClimbMps: { value: 3, low: 2.8, high: 3.2 },
      bands: [{ fromAltitudeM: 457.2, toAltitudeM: 609.6, rateOfClimbMps: { value: 3.1, low: 2.8, high: 3.4 } }],
    });
    assert.deepEqual(one.winds[0], {
      start: '2024-04-13T22:40:00.000Z',
      end: '2024-04-13T22:45:00.000Z',
      altitudeM: 1300,
      fromDeg: { value: 355.233833, low: 343.774677, high: 366.692989 },
      speedMps: { value: 5, low: 4, high: 6 },
      tasMps: { value: 51, low: 50.5, high: 51.5 },
      method: 'three or more headings',
    });
    assert.deepEqual(bad, {
      file: 'bad.bin',
      recording: { problems: [{ code: 'unknown-format', severity: 'error', message: 'No recording.' }] },
      phases: [],
      takeoffs: [],
      climbs: [],
      levelRuns: [],
      winds: [],
      landings: [],
    });
  });

  it('shows progress only where somebody watches', async () => {
    const io = fakeIo(files, { watched: true });
    await run(['inspect', 'one.gpx', 'flights/two.csv'], fakeParts, io);
    assert.match(io.err(), /\r\[#{6}\.{18}\] {2}25 % {2}one\.gpx/);
    assert.match(io.err(), /\r +\r/);
  });

  it('stops when interrupted, with code 130', async () => {
    const abort = new AbortController();
    abort.abort();
    const io = fakeIo(files, { signal: abort.signal });
    assert.equal(await run(['inspect', 'one.gpx'], fakeParts, io), 130);
  });
});
