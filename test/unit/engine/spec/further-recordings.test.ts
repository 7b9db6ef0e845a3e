import assert from 'node:assert/strict';
import { parseFurtherKeys, parseSpec } from '../../../../src/engine/spec/index.ts';
import { nameAt, writtenTracks } from '../../../../src/engine/spec/editor/index.ts';

const head = `modproof: 1
aircraft: { propeller: fixed-pitch }
configurations: { before: { baseline: true }, after: {} }
flights:
`;
const flight = (...lines: readonly string[]): string =>
  `  - track: one.gpx\n    configuration: before\n${lines.map((line) => `    ${line}\n`).join('')}`;

function told(text: string): string[] {
  return parseSpec(head + text, 'x')
    .problems.filter(({ severity }) => severity === 'error')
    .map(({ code, at, message }) => `${at?.line}:${at?.column} ${code} ${message}`);
}

describe('the spec: further recordings of a flight', () => {
  it('may be one or several, with the offset of a clock and a mapping', () => {
    const { spec, problems } = parseSpec(
      head +
        flight(
          'continued-in: [b.mp4, c.mp4]',
          'also-recorded-by:',
          '  - log.csv',
          '  - { track: cam1.mp4, continued-in: cam2.mp4, clock-offset: -1 h +- 2 s, csv: { utc-offset: "+01:00" } }',
        ),
      'x',
    );
    assert.deepEqual(
      problems.filter(({ severity }) => severity === 'error'),
      [],
    );
    const further = spec?.flights[0].further;
    assert.deepEqual(
      further?.continuedIn.map(({ file, at }) => [file, at?.line, at?.column]),
      [
        ['b.mp4', 7, 20],
        ['c.mp4', 7, 27],
      ],
    );
    const [log, camera] = further?.alsoRecordedBy ?? [];
    assert.deepEqual([log.file, log.at?.line, log.clockOffsetS], ['log.csv', 9, undefined]);
    assert.deepEqual(camera.clockOffsetS, { value: -3600, sigma: 2 });
    assert.deepEqual(
      camera.continuedIn.map(({ file }) => file),
      ['cam2.mp4'],
    );
    assert.equal(camera.csv?.utcOffset, '+01:00');
    // Where nothing is said of it, a clock that was compared by hand is right to a second.
    const short = parseSpec(head + flight('also-recorded-by: { track: log.csv, clock-offset: 3600 s }'), 'x').spec;
    assert.deepEqual(short?.flights[0].further?.alsoRecordedBy[0].clockOffsetS, { value: 3600, sigma: 1 });
  });

  it('belong to one flight, once, and to no pattern; each is told with its line', () => {
    assert.match(told(flight('continued-in: one.gpx'))[0], /^7:\d+ spec-duplicate-track .* is the recording itself/);
    assert.match(
      told(flight('continued-in: [b.gpx, ./b.gpx]'))[0],
      /^7:27 spec-duplicate-track .* line 7: each file once/,
    );
    const own = `${flight('also-recorded-by: log.csv')}  - { track: log.csv, configuration: after }\n`;
    assert.match(told(own)[0], /^7:\d+ spec-duplicate-track .* flight of its own in line 8/);
    assert.match(told(flight('also-recorded-by: "logs/*.csv"'))[0], /^7:\d+ spec-recordings Name the files/);
    const pattern = flight('also-recorded-by: log.csv').replace('one.gpx', 'all/*.gpx');
    assert.match(told(pattern)[0], /^7:\d+ spec-recordings "all\/\*\.gpx" stands for all/);
    const excluded = `${flight('also-recorded-by: log.csv')}exclude: [{ track: log.csv, because: x }]\n`;
    assert.match(told(excluded)[0], /belongs to the flight "one\.gpx"/);
    const replaced = `${flight('also-recorded-by: notes.md')}report: { file: notes.md }\n`;
    assert.match(told(replaced)[0], /would replace a spec or a recording/);
  });

  it('are refused with the nearest key, a missing unit or a wrong kind', () => {
    assert.match(
      told(flight('also-recorded-by: { track: a.csv, clock-ofset: 1 s }'))[0],
      /Did you mean "clock-offset"\?/,
    );
    assert.match(told(flight('also-recorded-by: { track: a.csv, clock-offset: 12 }'))[0], /spec-quantity/);
    assert.match(told(flight('second-recorder: a.csv'))[0], /Did you mean "also-recorded-by"\?/);
    assert.match(told(flight('continued-in: { a: b }'))[0], /spec-wrong-kind/);
  });

  it('are tracks for links and references', () => {
    const text = head + flight('continued-in: b.mp4', 'also-recorded-by:', '  - log.csv', '  - track: cam.mp4');
    assert.deepEqual(
      writtenTracks(text).map(({ track, index }) => [track, index]),
      [
        ['one.gpx', 0],
        ['b.mp4', 0],
        ['log.csv', 0],
        ['cam.mp4', 0],
      ],
    );
    const thing = nameAt(text, 9, 10);
    assert.deepEqual([thing?.kind, thing?.name, thing?.uses.length], ['tracks', 'log.csv', 1]);
  });
});

describe('further recordings in an event file', () => {
  const names = ['continued-in', 'also-recorded-by'];

  it('are read beside its other keys', () => {
    const { further, problems } = parseFurtherKeys('corrections: []\nalso-recorded-by: [a.csv]\n', 'x', names);
    assert.deepEqual(problems, []);
    assert.deepEqual(
      further?.alsoRecordedBy.map(({ file, at }) => [file, at?.line]),
      [['a.csv', 2]],
    );
  });

  it('are told with their line when they are none', () => {
    for (const text of [
      '\ncontinued-in: { a: b }\n',
      '\nalso-recorded-by: ["*.csv"]\n',
      '\nalso-recorded-by: { clock-offset: 1 s }\n',
    ]) {
      const { further, problems } = parseFurtherKeys(text, 'x', names);
      assert.equal(further, undefined);
      assert.deepEqual(
        problems.map(({ code, at }) => [code, at?.line]),
        [['event-file-recordings', 2]],
        text,
      );
    }
  });
});
