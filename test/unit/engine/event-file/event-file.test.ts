import assert from 'node:assert/strict';
import type { EventOverride } from '../../../../shared/analysis.ts';
import {
  eventFileName,
  parseEventFile,
  parseUtcTime,
  removeEvent,
  setEvent,
} from '../../../../src/engine/event-file/index.ts';
import { applyEdits, CannotEdit } from '../../../../src/engine/yaml-text/index.ts';

const liftoff: EventOverride = { event: 'liftoff', number: 1, timeS: Date.UTC(2026, 4, 3, 10, 42, 13, 400) / 1000 };
const set = (text: string, override: EventOverride): string => applyEdits(text, setEvent(text, override, 'a.gpx'));

const written = `# my notes
corrections:
  # from the video
  - lift-off: 2026-05-03T10:42:13.400Z # frame 812
    number: 1   # wheels clear
    seen: >
      looked at it
      twice
  # the landing
  - touchdown: 2026-05-03T11:20:00Z
    number: 2
    uncertainty: 0.5 s

# end of file
`;

describe('event file', () => {
  it('is named after the recording', () => {
    assert.equal(eventFileName('flight.gpx'), 'flight.gpx.events.yaml');
  });

  it('reads times strictly: UTC only, no day that does not exist', () => {
    assert.equal(parseUtcTime('2026-05-03T10:42:13.4Z'), 1777804933.4);
    for (const bad of ['2026-05-03 10:42', '2026-02-30T10:00:00Z', '2026-05-03T24:00:00Z', '2026-05-03T10:42:13', '']) {
      assert.equal(parseUtcTime(bad), undefined, bad);
    }
  });

  it('reads what was written', () => {
    const { overrides, problems } = parseEventFile(written, 'a.gpx.events.yaml');
    assert.deepEqual(problems, []);
    assert.deepEqual(overrides, [
      { ...liftoff, why: 'looked at it twice\n' },
      { event: 'touchdown', number: 2, timeS: Date.UTC(2026, 4, 3, 11, 20) / 1000, sigmaS: 0.5 },
    ]);
  });

  it('says with the line what is wrong, and keeps the good entries', () => {
    const text = `corrections:
  - liftoff: 2026-05-03T10:42:13Z
    number: 1
  - lift-off: 10:42:13
    number: 1
  - stop: 2026-05-03T10:42:13Z
    uncertainty: 0.5
  - touchdown: 2026-05-03T10:42:13Z
    number: 1
    colour: red
  - touchdown: 2026-05-03T10:42:14Z
  - touchdown: 2026-05-03T10:42:14Z
    stop: 2026-05-03T10:42:14Z
  - touchdown: 2026-05-03T10:42:14Z
    number: 0
`;
    const { overrides, problems } = parseEventFile(text, 'f');
    assert.deepEqual(
      problems.map((problem) => [problem.code, problem.at?.line]),
      [
        ['event-file-unknown-key', 2],
        ['event-file-event', 2],
        ['event-file-time', 4],
        ['event-file-sigma', 7],
        ['event-file-unknown-key', 8],
        ['event-file-twice', 11],
        ['event-file-event', 12],
        ['event-file-number', 15],
      ],
    );
    assert.deepEqual(overrides, [{ event: 'touchdown', number: 1, timeS: Date.UTC(2026, 4, 3, 10, 42, 13) / 1000 }]);
  });

  it('is no trouble when empty, and says so when it is something else', () => {
    assert.deepEqual(parseEventFile('', 'f'), { overrides: [], problems: [] });
    assert.deepEqual(parseEventFile('corrections:\n', 'f'), { overrides: [], problems: [] });
    assert.equal(parseEventFile('- a\n', 'f').problems[0].code, 'event-file-shape');
    assert.equal(parseEventFile('corrections: [', 'f').problems[0].code, 'event-file-yaml');
  });

  it('begins a file that can be read back', () => {
    const text = set('', { ...liftoff, sigmaS: 0.2, why: 'no: really' });
    assert.deepEqual(parseEventFile(text, 'f').overrides, [{ ...liftoff, sigmaS: 0.2, why: 'no: really' }]);
    assert.match(text, /^# Events of a\.gpx/);
  });

  it('changes the time alone and leaves every other character', () => {
    const text = set(written, { ...liftoff, timeS: liftoff.timeS + 1.1 });
    assert.equal(text, written.replace('10:42:13.400Z', '10:42:14.500Z'));
  });

  it('replaces a folded reason and adds a missing sigma', () => {
    const text = set(written, { ...liftoff, sigmaS: 0.1, why: 'new' });
    assert.deepEqual(parseEventFile(text, 'f').overrides[0], { ...liftoff, sigmaS: 0.1, why: 'new' });
    assert.ok(text.includes('# frame 812') && text.includes('  # the landing\n  - touchdown:'));
  });

  it('adds an entry after the last one, in the same indentation and line ends', () => {
    const stop: EventOverride = { event: 'stop', number: 2, timeS: liftoff.timeS };
    const text = set(written, stop);
    assert.ok(text.includes('    uncertainty: 0.5 s\n  - stop: 2026-05-03T10:42:13.400Z\n    number: 2\n'));
    assert.ok(text.endsWith('\n# end of file\n'));
    assert.equal(parseEventFile(text, 'f').overrides.length, 3);
    const windows = set('corrections:\r\n- lift-off: 2026-05-03T10:42:13Z', stop);
    assert.equal(parseEventFile(windows, 'f').overrides.length, 2);
    assert.ok(!/[^\r]\n/.test(windows));
    assert.equal(parseEventFile(set('other: 1', stop), 'f').overrides.length, 1);
    assert.equal(parseEventFile(set('corrections:', stop), 'f').overrides.length, 1);
  });

  it('takes an entry out with its lines, and can put it back', () => {
    const without = applyEdits(written, removeEvent(written, liftoff));
    assert.ok(!without.includes('lift-off') && !without.includes('twice'));
    assert.ok(without.includes('# from the video') && without.includes('# the landing'));
    assert.deepEqual(removeEvent(without, liftoff), []);
    const alone = set('', liftoff);
    const emptied = applyEdits(alone, removeEvent(alone, liftoff));
    assert.deepEqual(parseEventFile(emptied, 'f'), { overrides: [], problems: [] });
    assert.equal(set(emptied, liftoff), alone);
  });

  it('refuses to change a form that it would have to rewrite', () => {
    assert.throws(() => setEvent('corrections: [{number: 1}]', liftoff, 'a'), CannotEdit);
    assert.throws(() => setEvent('corrections:\n  - {lift-off: 2026-05-03T10:42:13Z}', liftoff, 'a'), CannotEdit);
    assert.throws(() => setEvent('corrections: [', liftoff, 'a'), CannotEdit);
    assert.throws(() => setEvent('- a', liftoff, 'a'), CannotEdit);
  });
});

describe('a correction read off a film in several files', () => {
  const films = [
    { startS: 1_777_800_000, endS: 1_777_800_600, name: 'one.mp4' },
    { startS: 1_777_800_600, endS: 1_777_801_200, name: 'part 2.mp4' },
  ];
  const recorded = { startS: 1_777_800_000, endS: 1_777_801_200, films, file: 'one.mp4' };

  it('comes back as it was given, with the name of its file', () => {
    const override = {
      event: 'liftoff',
      number: 1,
      timeS: 1_777_800_641.5,
      intoFilmS: 41.5,
      film: 'part 2.mp4',
    } as const;
    const text = applyEdits('', setEvent('', override, 'one.mp4'));
    assert.match(text, /lift-off: "?film part 2\.mp4 0:41\.50/);
    assert.deepEqual(parseEventFile(text, 'x', recorded), { overrides: [override], problems: [] });
  });

  it('without a name is one into the recording that the event file stands beside', () => {
    const { overrides } = parseEventFile('corrections:\n  - lift-off: film 3:05.2\n', 'x', recorded);
    assert.deepEqual(overrides, [
      { event: 'liftoff', number: 1, timeS: 1_777_800_185.2, intoFilmS: 185.2, film: 'one.mp4' },
    ]);
    // Beside a log the films are all of another recorder: then a name is needed.
    const log = parseEventFile('corrections:\n  - lift-off: film 3:05.2\n', 'x', { ...recorded, file: 'log.gpx' });
    assert.deepEqual(log.overrides, []);
    assert.match(log.problems[0].message, /in 2 files: name the one/);
  });

  it('is told when a key at the top is misspelt', () => {
    const { problems } = parseEventFile('continued_in: b.mp4\n', 'x', recorded);
    assert.deepEqual(
      problems.map(({ code, severity, at }) => [code, severity, at?.line]),
      [['event-file-unknown-key', 'warning', 1]],
    );
  });
});
