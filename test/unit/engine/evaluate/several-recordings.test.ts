import assert from 'node:assert/strict';
import type { LevelRun } from '../../../../shared/analysis.ts';
import type { Problem } from '../../../../shared/problem.ts';
import { analyse } from '../../../../src/engine/analyse.ts';
import { compare } from '../../../../src/engine/compare/index.ts';
import {
  type EngineParts,
  type Evaluation,
  evaluate,
  type ResultCache,
} from '../../../../src/engine/evaluate/index.ts';
import { deriveMotion } from '../../../../src/engine/track/derive-motion.ts';
import { analysisPending } from '../../../../src/engine/view/index.ts';
import { readRecording } from '../../../../src/engine/readers/index.ts';
import { writeReport } from '../../../../src/engine/report/index.ts';
import { simulatedFlight } from '../../../synth/simulated-flights.ts';
import { memoryWorld } from '../../../tools/memory-world.ts';
import { near } from '../../../tools/near.ts';
import { recordedAgain } from '../../../tools/two-recorders.ts';

const whole: EngineParts = { readRecording, analyse, compare };
/** Without looking for events: for what is settled before. */
const quick: EngineParts = {
  ...whole,
  analyse: (track) => analysisPending(track, deriveMotion(track).motion),
};
const flight = simulatedFlight('several recordings a', { receiver: 'camera10', weather: 'fair', length: 'short' });
const other = simulatedFlight('several recordings, other', {
  receiver: 'camera10',
  weather: 'fair',
  length: 'circuits',
});

const files: Readonly<Record<string, Uint8Array | string>> = {
  'one.gpx': recordedAgain(flight, 'handheld', 'gpx-speed', 'gps'),
  'logs/engine.csv': recordedAgain(flight, 'panel', 'csv-aviation', 'panel', { lateS: 11 }),
  'logs/other.csv': recordedAgain(other, 'panel', 'csv-aviation', 'other panel'),
  'films/part1.mp4': recordedAgain(flight, 'camera10', 'gpmf-gps9', 'camera', { to: 0.5 }),
  'films/part2.mp4': recordedAgain(flight, 'camera10', 'gpmf-gps9', 'camera', { from: 0.5 }),
};

const specOf = (...flights: readonly string[]): string => `modproof: 1
title: T
aircraft: { propeller: fixed-pitch }
configurations:
  before: { baseline: true }
  after: {}
flights:
${flights.map((one) => `  - ${one}`).join('\n')}
questions: [ground-roll, level-speed]
`;

async function run(
  specText: string,
  content: Readonly<Record<string, Uint8Array | string>> = files,
  cache?: ResultCache,
  parts = quick,
): Promise<Evaluation> {
  const world = memoryWorld(content);
  return evaluate({ specText, specPath: 'x.modproof.yaml', world, ...(cache && { cache }) }, parts);
}

const alone = '{ track: one.gpx, configuration: before }';
const joined = '{ track: one.gpx, configuration: before, also-recorded-by: logs/engine.csv }';
const codes = (problems: readonly Problem[]): string[] => problems.map(({ code }) => code);
const cruise = ({ flights }: Evaluation): readonly LevelRun[] => flights[0].analysis?.levelRuns ?? [];

const withPanelOnce = (() => {
  let evaluation: Promise<Evaluation> | undefined;
  return (): Promise<Evaluation> => (evaluation ??= run(specOf(joined), files, undefined, whole));
})();

describe('a comparison with a flight in several recordings', () => {
  it('has airspeed and fuel flow that only the second recorder wrote', async () => {
    const [without, withPanel] = [await run(specOf(alone), files, undefined, whole), await withPanelOnce()];
    assert.ok(cruise(withPanel).length > 0, 'a level run is needed to tell anything');
    assert.ok(cruise(without).every(({ fuelFlowM3ps }) => fuelFlowM3ps === undefined));
    const byAirspeed = ({ trueAirspeedMps }: LevelRun): boolean =>
      trueAirspeedMps?.method === 'from indicated airspeed, pressure altitude and temperature';
    assert.ok(!cruise(without).some(byAirspeed));
    assert.ok(cruise(withPanel).every(byAirspeed));
    // Pressure altitude and air temperature came over as well: else the airspeed says what stands for them.
    for (const { trueAirspeedMps } of cruise(withPanel))
      assert.doesNotMatch(trueAirspeedMps?.remarks?.join(' ') ?? '', /No pressure altitude|No air temperature/);
    const panel = await run(specOf('{ track: logs/engine.csv, configuration: before }'), files, undefined, whole);
    let compared = 0;
    for (const [index, level] of cruise(withPanel).entries()) {
      assert.ok(level.fuelFlowM3ps && level.trueAirspeedMps && level.engineSpeedRpm, `level run ${index}`);
      // The recorder's own analysis of the same minutes: an independent way to the same figures.
      const midS = (level.startS + level.endS) / 2 + 11;
      const own = cruise(panel).find(({ startS, endS }) => startS <= midS && endS >= midS);
      if (own?.fuelFlowM3ps === undefined || own.trueAirspeedMps === undefined) continue;
      near(level.fuelFlowM3ps.value / own.fuelFlowM3ps.value, 1, 0.03);
      near(level.trueAirspeedMps.value, own.trueAirspeedMps.value, 1);
      compared++;
    }
    assert.ok(compared > 0);
    // Events are those of the first recording: nothing of them comes from the second.
    assert.deepEqual(
      withPanel.flights[0].analysis?.takeoffs.map(({ rollStart }) => rollStart.timeS),
      without.flights[0].analysis?.takeoffs.map(({ rollStart }) => rollStart.timeS),
    );
  });

  it('keeps every file in its provenance, and shows files and offset in the report', async () => {
    const evaluation = await withPanelOnce();
    assert.deepEqual(
      evaluation.provenance.recordings.map(({ file, ofFlight }) => [file, ofFlight]),
      [
        ['one.gpx', undefined],
        ['logs/engine.csv', 'one.gpx'],
      ],
    );
    const { markdown } = writeReport(evaluation, { figureFolder: 'f' });
    const offset = evaluation.flights[0].analysis?.recording.parts?.[1].clockOffsetS;
    near(offset?.value ?? 0, -11, 1);
    assert.match(markdown, /## Flights in several recordings/);
    assert.match(
      markdown,
      /`engine\.csv` *\| another recorder *\|.*\| -1[01]\.\d\d s \(-1[01]\.\d\d to -1[01]\.\d\d\), by ground speed/,
    );
    for (const { sha256 } of evaluation.provenance.recordings) assert.ok(markdown.includes(sha256));
    const hidden = specOf(joined).replace('questions:', 'report: { hide-positions: true }\nquestions:');
    assert.doesNotMatch(writeReport(await run(hidden), { figureFolder: 'f' }).markdown, /engine\.csv/);
  });

  it('is worked out again when any of its files changes, and not otherwise', async () => {
    const kept = new Map<string, string>();
    let puts = 0;
    const cache: ResultCache = {
      get: (key) => Promise.resolve(kept.get(key)),
      put: (key, value) => {
        puts++;
        kept.set(key, value);
        return Promise.resolve();
      },
    };
    const first = await run(specOf(joined), files, cache);
    assert.equal(puts, 2);
    const again = await run(specOf(joined), files, cache);
    assert.equal(puts, 2);
    assert.deepEqual(again.flights[0].analysis, first.flights[0].analysis);
    await run(specOf(joined), { ...files, 'logs/engine.csv': files['logs/other.csv'] }, cache);
    assert.equal(puts, 4);
    await run(
      specOf(joined.replace('logs/engine.csv', '{ track: logs/engine.csv, clock-offset: -11 s }')),
      files,
      cache,
    );
    assert.equal(puts, 6);
  });

  it('does not sink with its second recording, and says so where that is named', async () => {
    for (const [second, code] of [
      ['logs/absent.csv', 'recording-not-joined'],
      ['logs/other.csv', 'recording-not-joined'],
    ]) {
      const { flights, problems } = await run(specOf(joined.replace('logs/engine.csv', second)));
      assert.ok(flights[0].analysis, second);
      const told = problems.find((problem) => problem.code === code);
      assert.equal(told?.at?.line, 8, second);
      assert.match(told?.message ?? '', /used without it/);
    }
  });

  it('takes times into the film by the name of its part, and asks for it', async () => {
    const film = (when: string): string =>
      specOf(
        `{ track: films/part1.mp4, continued-in: films/part2.mp4, configuration: before, corrections: [{ lift-off: "${when}" }] }`,
      );
    const found = await run(film('film part1.mp4 0:01'));
    const parts1 = found.flights[0].analysis?.recording.films ?? [];
    assert.deepEqual(
      parts1.map(({ name }) => name),
      ['films/part1.mp4', 'films/part2.mp4'],
    );
    assert.equal(found.flights[0].entry.overrides[0].film, 'films/part1.mp4');
    near(found.flights[0].entry.overrides[0].timeS, parts1[0].startS + 1, 1e-6);
    const unnamed = await run(film('film 0:01'));
    assert.deepEqual(unnamed.flights[0].entry.overrides, []);
    assert.match(
      unnamed.problems.find(({ code }) => code === 'correction-outside')?.message ?? '',
      /is in 2 files: name the one that you looked at, such as "film part2\.mp4 0:41\.3"/,
    );
    const second = await run(film('film part2.mp4 0:10'));
    near(second.flights[0].entry.overrides[0].timeS, parts1[1].startS + 10, 1e-6);
  });

  it('reads further recordings from the event file, and leaves them out of a pattern', async () => {
    const content = {
      ...files,
      'films/part1.mp4.events.yaml': 'continued-in: part2.mp4\nalso-recorded-by: ../one.gpx\n',
    };
    const { flights, problems } = await run(specOf('{ track: films/*.mp4, configuration: before }'), content);
    assert.deepEqual(
      flights.map(({ file }) => file),
      ['films/part1.mp4'],
    );
    assert.deepEqual(
      flights[0].analysis?.recording.parts?.map(({ file, joined: used }) => [file, used]),
      [
        ['films/part1.mp4', true],
        ['films/part2.mp4', true],
        ['one.gpx', true],
      ],
    );
    assert.deepEqual(
      codes(problems).filter((code) => /^recording|^event-file/.test(code)),
      [],
    );
    const faulty = { ...content, 'films/part1.mp4.events.yaml': 'continued-in: { a: b }\n' };
    const told = (await run(specOf('{ track: films/part1.mp4, configuration: before }'), faulty)).problems;
    assert.ok(told.some(({ code, at }) => code === 'event-file-recordings' && at?.line === 1));
  });

  it('is not a flight of its own by another name', async () => {
    const twice = await run(specOf(alone, '{ track: logs/engine.csv, configuration: after }'));
    assert.ok(codes(twice.problems).includes('recording-same-time'));
    const folder = await run(specOf('{ track: films/, configuration: before, also-recorded-by: one.gpx }'));
    assert.ok(folder.problems.some(({ code, severity }) => code === 'recording-of-which' && severity === 'error'));
    const named = await run(specOf('{ track: films/part1.mp4, configuration: before }', alone), {
      ...files,
      'films/part1.mp4.events.yaml': 'also-recorded-by: ../one.gpx\n',
    });
    assert.ok(named.problems.some(({ code, severity }) => code === 'recording-of-which' && severity === 'warning'));
    assert.equal(named.flights.length, 2);
  });
});
