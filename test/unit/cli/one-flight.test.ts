import assert from 'node:assert/strict';
import type { EngineParts } from '../../../src/engine/evaluate/index.ts';
import { compare } from '../../../src/engine/compare/index.ts';
import { run } from '../../../src/cli/run.ts';
import { readRecording } from '../../../src/engine/readers/index.ts';
import { parseSpec } from '../../../src/engine/spec/index.ts';
import { deriveMotion } from '../../../src/engine/track/derive-motion.ts';
import { analysisPending } from '../../../src/engine/view/index.ts';
import { simulatedFlight } from '../../synth/simulated-flights.ts';
import { recordedAgain } from '../../tools/two-recorders.ts';
import { fakeIo } from './fake-io.ts';

const flight = simulatedFlight('cli one flight', { receiver: 'camera10', weather: 'fair', length: 'circuits' });
const other = simulatedFlight('cli another flight', { receiver: 'camera10', weather: 'fair', length: 'circuits' });
const files = {
  'part1.mp4': recordedAgain(flight, 'camera10', 'gpmf-gps9', 'camera', { to: 0.5 }),
  'part2.mp4': recordedAgain(flight, 'camera10', 'gpmf-gps9', 'camera', { from: 0.5 }),
  'engine.csv': recordedAgain(flight, 'panel', 'csv-aviation', 'panel', { lateS: 2 }),
  'other.gpx': recordedAgain(other, 'handheld', 'gpx-speed', 'other'),
};

/** Without looking for events, which says nothing of joining. */
const parts: EngineParts = {
  readRecording,
  compare,
  analyse: (track) => analysisPending(track, deriveMotion(track).motion),
};

async function command(...args: readonly string[]) {
  const io = fakeIo(files);
  return { code: await run(args, parts, io), out: io.out(), err: io.err() };
}

describe('several recordings of one flight on the command line', () => {
  it('are joined with --one-flight: files, roles and the offset with its interval', async () => {
    const { code, out } = await command('inspect', '--one-flight', 'part1.mp4', 'part2.mp4', 'engine.csv');
    assert.equal(code, 0);
    assert.match(out, /One flight in several recordings/);
    assert.match(out, /part2\.mp4 +continues the first/);
    assert.match(
      out,
      /engine\.csv +another recorder +.* -[12]\.\d\d s \(-[12]\.\d\d to -[12]\.\d\d\), by ground speed +.*fuel flow/,
    );
  });

  it('are told in JSON, with the reason where one was not joined, and code 1', async () => {
    const { code, out, err } = await command(
      'inspect',
      '--one-flight',
      'part1.mp4',
      'other.gpx',
      'engine.csv',
      '--json',
    );
    assert.equal(code, 1);
    const [only, ...rest] = JSON.parse(out) as { file: string; recordings: Record<string, unknown>[] }[];
    assert.deepEqual(rest, []);
    assert.equal(only.file, 'part1.mp4');
    assert.deepEqual(
      only.recordings.map(({ file, role, joined }) => [file, role, joined]),
      [
        ['part1.mp4', 'first', true],
        ['other.gpx', 'second-recorder', false],
        ['engine.csv', 'second-recorder', true],
      ],
    );
    const [, apart, engine] = only.recordings;
    assert.match(String(apart.remarks), /no common time|not of one flight/);
    const { value, low, high } = engine.clockOffsetS as Record<string, number>;
    assert.ok(low < value && value < high && Math.abs(value + 2) < 0.5);
    assert.match(err, /recording-not-joined/);
  });

  it('are hinted at where they plainly are of one flight, and only then', async () => {
    const plain = await command('inspect', 'part1.mp4', 'part2.mp4', 'engine.csv', 'other.gpx');
    assert.match(
      plain.err,
      /3 of these recordings are of one flight.*--one-flight part1\.mp4 part2\.mp4 engine\.csv\n/,
    );
    assert.doesNotMatch((await command('inspect', 'part1.mp4', 'other.gpx')).err, /one flight/);
  });

  it('are one flight in a new spec', async () => {
    const { out } = await command('new', 'part1.mp4', 'part2.mp4', 'engine.csv', 'other.gpx', '--output', '-');
    const lines = out.split('\n').filter((line) => /track:|continued-in|also-recorded/.test(line));
    assert.deepEqual(lines, [
      '  - track: other.gpx',
      '  - track: part1.mp4',
      '    continued-in: part2.mp4',
      '    also-recorded-by: engine.csv',
    ]);
    assert.deepEqual(
      parseSpec(out, 'x').problems.filter(({ code }) => code !== 'spec-blank'),
      [],
    );
  });
});
