import assert from 'node:assert/strict';
import { fuelUsedBetween } from '../../../../src/engine/metrics/index.ts';
import { recordedSpan } from '../../../../src/engine/track/summary.ts';
import { readRecording } from '../../../../src/engine/readers/index.ts';
import type { ReadResult } from '../../../../src/engine/readers/reader.ts';
import { type FurtherRecordings, readFlight, type SecondRecording } from '../../../../src/engine/recordings/index.ts';
import { simulatedFlight } from '../../../synth/simulated-flights.ts';
import { memoryWorld } from '../../../tools/memory-world.ts';
import { near } from '../../../tools/near.ts';
import { recordedAgain } from '../../../tools/two-recorders.ts';

const flight = simulatedFlight('read-flight', { receiver: 'camera10' });
const other = simulatedFlight('read-flight other', { receiver: 'camera10' });
const world = memoryWorld({
  'films/part1.mp4': recordedAgain(flight, 'camera10', 'gpmf-gps9', 'camera', { to: 0.4 }),
  'films/part2.mp4': recordedAgain(flight, 'camera10', 'gpmf-gps9', 'camera', { from: 0.4, to: 0.7 }),
  'films/part3.mp4': recordedAgain(flight, 'camera10', 'gpmf-gps9', 'camera', { from: 0.7 }),
  'films/other.mp4': recordedAgain(other, 'camera10', 'gpmf-gps9', 'camera'),
  'whole.gpx': recordedAgain(flight, 'handheld', 'gpx-speed', 'handheld'),
  'logs/engine.csv': recordedAgain(flight, 'panel', 'csv-aviation', 'panel', { lateS: 37 }),
  'logs/broken.csv': 'no recording at all\n',
});

/** Only the columns that an engine monitor without a receiver writes. */
function withoutPositions(csv: Uint8Array, left: RegExp): Uint8Array {
  const rows = new TextDecoder()
    .decode(csv)
    .split('\n')
    .map((line) => line.split(','));
  const kept = rows[0].flatMap((heading, index) => (left.test(heading) ? [] : [index]));
  return new TextEncoder().encode(rows.map((row) => kept.map((index) => row[index]).join(',')).join('\n'));
}

function read(file: string, further: Partial<FurtherRecordings>): Promise<ReadResult> {
  return readFlight(
    { file, further: { continuedIn: [], alsoRecordedBy: [], ...further } },
    undefined,
    readRecording,
    world,
  );
}

const parts = (...files: string[]): { file: string }[] => files.map((file) => ({ file }));

describe('a flight in several recordings', () => {
  it('has the parts of a film in line, whatever their order, and the channels of another recorder', async () => {
    const { track, problems, contents } = await read('films/part1.mp4', {
      continuedIn: parts('films/part3.mp4', 'films/part2.mp4'),
      alsoRecordedBy: [{ file: 'logs/engine.csv', continuedIn: [] }],
    });
    assert.ok(track);
    assert.deepEqual(
      problems
        .filter(({ code }) => code.startsWith('recording-') || code.startsWith('chapters-'))
        .filter(({ severity }) => severity !== 'info'),
      [],
    );
    assert.deepEqual(
      track.parts?.map(({ file, role, joined }) => [file, role, joined]),
      [
        ['films/part1.mp4', 'first', true],
        ['films/part3.mp4', 'continuation', true],
        ['films/part2.mp4', 'continuation', true],
        ['logs/engine.csv', 'second-recorder', true],
      ],
    );
    assert.deepEqual(
      track.films?.map(({ name }) => name),
      ['films/part1.mp4', 'films/part2.mp4', 'films/part3.mp4'],
    );
    const engine = track.parts?.at(-1);
    // The lags of the two receivers (0.25 s and less) are part of the offset.
    near(engine?.clockOffsetS?.value ?? 0, -37, 0.5);
    assert.equal(engine?.clockOffsetBy, 'ground speed');
    assert.ok(engine?.brings?.includes('fuelFlowM3ps') && engine.brings.includes('indicatedAirspeedMps'));
    assert.ok(track.channels.fuelFlowM3ps?.some((flow) => flow > 0));
    assert.ok(track.altitudes.some(({ kind }) => kind === 'pressure'));
    // Burned by the simulated engine; the panel's sensor has 1.5 % one sigma, and the film begins after the engine does.
    const { startS, endS } = recordedSpan(track);
    const used = fuelUsedBetween(track, startS, endS);
    near((used?.volumeM3 ?? 0) / flight.truth.fuelUsedM3, 1, 0.08);
    assert.match(contents.join('\n'), /logs\/engine\.csv: another recorder, .*its clock -3[67]\.\d+ s .*fuel flow/);
  });

  it('knows the film that shows it when only another recorder made one', async () => {
    const { track } = await read('whole.gpx', {
      alsoRecordedBy: [{ file: 'films/part1.mp4', continuedIn: parts('films/part2.mp4') }],
    });
    assert.deepEqual(
      track?.films?.map(({ name }) => name),
      ['films/part1.mp4', 'films/part2.mp4'],
    );
    assert.ok((track?.films?.[0].startSigmaS ?? 0) >= 0.25);
    // What a camera felt stays at its own rows.
    assert.equal(track?.channels.accelerationForwardMps2, undefined);
  });

  it('goes on without a file that cannot be read, is not there, or is of another flight', async () => {
    const alone = await read('films/part1.mp4', {});
    const { track, problems } = await read('films/part1.mp4', {
      continuedIn: parts('films/absent.mp4', 'films/other.mp4'),
      alsoRecordedBy: [{ file: 'logs/broken.csv', continuedIn: [] }],
    });
    assert.deepEqual(track?.timeS, alone.track?.timeS);
    assert.deepEqual(
      track?.parts?.map(({ file, joined }) => [file, joined]),
      [
        ['films/part1.mp4', true],
        ['films/absent.mp4', false],
        ['films/other.mp4', false],
        ['logs/broken.csv', false],
      ],
    );
    const told = (file: string): string =>
      problems
        .filter(({ at }) => at?.file === file)
        .map(({ code, severity }) => `${code} ${severity}`)
        .join(', ');
    assert.match(told('films/absent.mp4'), /recording-not-joined error/);
    assert.match(told('films/other.mp4'), /chapters-(?:apart|jump|overlap) warning/);
    assert.match(told('logs/broken.csv'), /recording-not-joined error/);
  });

  it('takes the offset that the pilot gives, and asks back where the recordings say another', async () => {
    const at = (value: number): Promise<ReadResult> =>
      read('whole.gpx', {
        alsoRecordedBy: [{ file: 'logs/engine.csv', continuedIn: [], clockOffsetS: { value, sigma: 0.5 } }],
      });
    const right = await at(-37);
    assert.equal(right.track?.parts?.[1].clockOffsetBy, 'pilot');
    near(right.track?.parts?.[1].clockOffsetS?.high ?? 0, -37 + 1.96 * 0.5, 1e-9);
    assert.deepEqual(
      right.problems.filter(({ code }) => code === 'recording-clock'),
      [],
    );
    const wrong = await at(37);
    assert.match(wrong.problems.map(({ message }) => message).join(' '), /is the written one right\?/);
    const apart = await at(86_400);
    assert.equal(apart.track?.parts?.[1].joined, false);
    assert.equal(apart.track?.channels.fuelFlowM3ps, undefined);
  });

  it('has the channels of an engine monitor that knows no positions, its clock by heights or by the pilot', async () => {
    const whole = recordedAgain(flight, 'panel', 'csv-aviation', 'panel', { lateS: 37 });
    const places = /Latitude|Longitude|GPS Altitude|Ground Speed|Track/;
    const monitor = memoryWorld({
      'one.gpx': recordedAgain(flight, 'handheld', 'gpx-speed', 'handheld'),
      'heights.csv': withoutPositions(whole, places),
      'engine.csv': withoutPositions(whole, new RegExp(`${places.source}|Pressure Altitude`)),
    });
    const joinedWith = (second: SecondRecording): Promise<ReadResult> =>
      readFlight(
        { file: 'one.gpx', further: { continuedIn: [], alsoRecordedBy: [second] } },
        undefined,
        readRecording,
        monitor,
      );
    const byHeight = (await joinedWith({ file: 'heights.csv', continuedIn: [] })).track;
    assert.equal(byHeight?.parts?.[1].clockOffsetBy, 'height');
    near(byHeight.parts[1].clockOffsetS?.value ?? 0, -37, 1);
    assert.ok(byHeight.channels.fuelFlowM3ps?.some((flow) => flow > 0));
    const untold = (await joinedWith({ file: 'engine.csv', continuedIn: [] })).track;
    assert.match(untold?.parts?.[1].remarks.join(' ') ?? '', /must be given \("clock-offset"\)/);
    const clockOffsetS = { value: -37, sigma: 1 };
    const given = (await joinedWith({ file: 'engine.csv', continuedIn: [], clockOffsetS })).track;
    assert.equal(given?.parts?.[1].joined, true);
    assert.ok(given.channels.fuelFlowM3ps?.some((flow) => flow > 0));
    // By itself it is no recording of a flight.
    const alone = await readFlight({ file: 'heights.csv' }, undefined, readRecording, monitor);
    assert.deepEqual([alone.track, alone.problems[0].code], [undefined, 'csv-no-headings']);
  });

  it('says how much of the other recording is not used', async () => {
    const { track } = await read('films/part2.mp4', { alsoRecordedBy: [{ file: 'whole.gpx', continuedIn: [] }] });
    assert.match(track?.parts?.[1].remarks.join(' ') ?? '', /lie outside the first and are not used/);
  });
});
