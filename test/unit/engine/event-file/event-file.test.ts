import assert from 'node:assert/strict';
import type { EventOverride } from '../../../../shared/analysis.ts';
import {
  applyEdits,
  CannotEdit,
  eventFileName,
  parseEventFile,
  parseUtcTime,
  removeEvent,
  setEvent,
} from '../../../../src/engine/event-file/index.ts';

const liftoff: EventOverride = { event: 'liftoff', number: 1, timeS: Date.UTC(2026, 4, 3, 10, 42, 13, 400) / 1000 };
const set = (text: string, override: EventOverride): string => applyEdits(text, setEvent(text, override, 'a.gpx'));

const written = `# my notes
events:
  # from the video
  - event: liftoff   # wheels clear
    number: 1
    time: 2026-05-03T10:42:13.400Z # frame 812
    because: >
      looked at it
      twice
  # the landing
  - event: touchdown
    number: 2
    time: 2026-05-03T11:20:00Z
    sigma: 0.5 s

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
    const text = `events:
  - event: lift-off
    time: 2026-05-03T10:42:13Z
  - event: liftoff
    time: 10:42:13
  - event: stop
    time: 2026-05-03T10:42:13Z
    sigma: 0.5
  - event: touchdown
    number: 1
    time: 2026-05-03T10:42:13Z
    colour: red
  - event: touchdown
    time: 2026-05-03T10:42:14Z
`;
    const { overrides, problems } = parseEventFile(text, 'f');
    assert.deepEqual(
      problems.map((problem) => [problem.code, problem.at?.line]),
      [
        ['event-file-event', 2],
        ['event-file-time', 5],
        ['event-file-sigma', 8],
        ['event-file-unknown-key', 9],
        ['event-file-twice', 13],
      ],
    );
    assert.deepEqual(overrides, [{ event: 'touchdown', number: 1, timeS: Date.UTC(2026, 4, 3, 10, 42, 13) / 1000 }]);
  });

  it('is no trouble when empty, and says so when it is something else', () => {
    assert.deepEqual(parseEventFile('', 'f'), { overrides: [], problems: [] });
    assert.deepEqual(parseEventFile('events:\n', 'f'), { overrides: [], problems: [] });
    assert.equal(parseEventFile('- a\n', 'f').problems[0].code, 'event-file-shape');
    assert.equal(parseEventFile('events: [', 'f').problems[0].code, 'event-file-yaml');
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
    assert.ok(text.includes('# frame 812') && text.includes('  # the landing\n  - event: touchdown'));
  });

  it('adds an entry after the last one, in the same indentation and line ends', () => {
    const stop: EventOverride = { event: 'stop', number: 2, timeS: liftoff.timeS };
    const text = set(written, stop);
    assert.ok(text.includes('    sigma: 0.5 s\n  - event: stop\n    number: 2\n'));
    assert.ok(text.endsWith('\n# end of file\n'));
    assert.equal(parseEventFile(text, 'f').overrides.length, 3);
    const windows = set('events:\r\n- event: liftoff\r\n  time: 2026-05-03T10:42:13Z', stop);
    assert.equal(parseEventFile(windows, 'f').overrides.length, 2);
    assert.ok(!/[^\r]\n/.test(windows));
    assert.equal(parseEventFile(set('other: 1', stop), 'f').overrides.length, 1);
    assert.equal(parseEventFile(set('events:', stop), 'f').overrides.length, 1);
  });

  it('takes an entry out with its lines, and can put it back', () => {
    const without = applyEdits(written, removeEvent(written, liftoff));
    assert.ok(!without.includes('liftoff') && !without.includes('twice'));
    assert.ok(without.includes('# from the video') && without.includes('# the landing'));
    assert.deepEqual(removeEvent(without, liftoff), []);
    const alone = set('', liftoff);
    const emptied = applyEdits(alone, removeEvent(alone, liftoff));
    assert.deepEqual(parseEventFile(emptied, 'f'), { overrides: [], problems: [] });
    assert.equal(set(emptied, liftoff), alone);
  });

  it('refuses to change a form that it would have to rewrite', () => {
    assert.throws(() => setEvent('events: [{event: liftoff}]', liftoff, 'a'), CannotEdit);
    assert.throws(() => setEvent('events:\n  - {event: liftoff}', liftoff, 'a'), CannotEdit);
    assert.throws(() => setEvent('events: [', liftoff, 'a'), CannotEdit);
    assert.throws(() => setEvent('- a', liftoff, 'a'), CannotEdit);
  });
});
