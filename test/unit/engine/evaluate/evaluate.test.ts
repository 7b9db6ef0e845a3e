import assert from 'node:assert/strict';
import { createHash } from 'node:crypto';
import type { Instant } from '../../../../shared/measured.ts';
import type { Analysis, AnalysisOptions, Takeoff } from '../../../../src/engine/analysis.ts';
import type { AnalysedFlight } from '../../../../src/engine/compare/flight.ts';
import { decodeResult, encodeResult } from '../../../../src/engine/evaluate/cache.ts';
import { type EngineParts, type Evaluation, evaluate } from '../../../../src/engine/evaluate/index.ts';
import type { Track } from '../../../../src/engine/track/track.ts';
import { memoryWorld } from '../../../tools/memory-world.ts';

const spec = `modproof: 1
title: T
aircraft: { propeller: fixed-pitch }
configurations:
  before: { baseline: true }
  after: {}
airfields:
  home: { elevation: 100 ft, runways: { "36": { heading: 360 deg, slope: 1 % } } }
days:
  2024-04-13: { air-temperature: 4 degC }
  2024-04-14: { air-temperature: 9 degC, wind: 360 deg 10 kt }
flights:
  - { track: one.gpx, configuration: before, runway: "36" }
  - { track: more/, configuration: after }
  - track: more/three.gpx
    configuration: before
    corrections: [{ lift-off: "23:00:10.5" }]
`;

const startS = Date.UTC(2024, 3, 13, 23, 0, 0) / 1000;

function track(from: number): Track {
  const timeS = Float64Array.from({ length: 60 }, (_, index) => from + index);
  const constant = new Float64Array(60);
  return { timeS, latDeg: constant, lonDeg: constant, altitudes: [], breaks: [], channels: {}, assumptions: [] };
}

interface Calls {
  read: number;
  analysed: AnalysisOptions[];
  compared: readonly AnalysedFlight[];
}

/** Reads "ok", "ok+1" (a day later), "broken"; throws for "throws". */
function takeoff(headingRad: number): Takeoff {
  const at = (timeS: number): Instant => ({ timeS, sigmaS: 0.1, origin: 'found' });
  return {
    outcome: 'flown',
    rollStart: at(startS + 5),
    liftoff: at(startS + 20),
    rollingStart: false,
    startSpeedMps: 0,
    headingRad,
    latDeg: 0,
    lonDeg: 0,
    screens: [],
    remarks: [],
  };
}

function fakes(headedRad?: number): { readonly parts: EngineParts; readonly calls: Calls } {
  const calls: Calls = { read: 0, analysed: [], compared: [] };
  return {
    calls,
    parts: {
      readRecording: async (source) => {
        calls.read++;
        const text = new TextDecoder().decode(await source.read(0, source.sizeBytes));
        if (text === 'throws') throw new Error('boom');
        if (text === 'broken') {
          return { problems: [{ code: 'x', severity: 'error', message: 'no fix' }], contents: [] };
        }
        return { format: 'gpx', track: track(startS + (text === 'ok+1' ? 86_400 : 0)), problems: [], contents: [] };
      },
      analyse: (recording, options): Analysis => {
        calls.analysed.push(options);
        return {
          recording: {
            startS: recording.timeS[0],
            endS: recording.timeS[59],
            samples: 60,
            rateHz: Number.NaN,
            gaps: [],
            altitudeKinds: [],
            speedSource: 'differenced',
          },
          phases: [],
          takeoffs: headedRad === undefined ? [] : [takeoff(headedRad)],
          landings: [],
          climbs: [],
          levelRuns: [],
          winds: [],
          problems: [{ code: 'y', severity: 'info', message: 'seen' }],
        };
      },
      compare: (whole, flights) => {
        calls.compared = flights;
        return { title: whole.title, metrics: [], leftOut: [], problems: [] };
      },
    },
  };
}

const files = {
  'one.gpx': 'ok',
  'more/two.gpx': 'ok+1',
  'more/three.gpx': 'ok',
  'more/notes.md': 'a note',
  'more/two.gpx.events.yaml': 'corrections:\n  - { lift-off: 2024-04-14T23:00:20Z, seen: film }\n',
};

async function run(
  text = spec,
  content: Readonly<Record<string, string>> = files,
  headedRad?: number,
): Promise<{ readonly evaluation: Evaluation; readonly calls: Calls }> {
  const { parts, calls } = fakes(headedRad);
  const evaluation = await evaluate(
    { specText: text, specPath: 'x.modproof.yaml', world: memoryWorld(content) },
    parts,
  );
  return { evaluation, calls };
}

describe('evaluation of a spec', () => {
  it('expands folders, passes over notes, and lets an own entry win over a folder', async () => {
    const { evaluation } = await run();
    assert.deepEqual(
      evaluation.flights.map((flight) => [flight.file, flight.entry.configuration]),
      [
        ['one.gpx', 'before'],
        ['more/two.gpx', 'after'],
        ['more/three.gpx', 'before'],
      ],
    );
    assert.deepEqual(
      evaluation.problems.filter((problem) => problem.severity !== 'info'),
      [],
    );
  });

  it('finds the conditions of the day that the recording was made on', async () => {
    const { evaluation } = await run();
    assert.deepEqual(
      evaluation.flights.map((flight) => [flight.day, flight.entry.conditions.airTemperatureK?.value]),
      [
        ['2024-04-13', 277.15],
        ['2024-04-14', 282.15],
        ['2024-04-13', 277.15],
      ],
    );
  });

  it('warns when the day written is not that of the recording, but not of the night before or after', async () => {
    const written = (day: string): string => spec.replace('{ track: one.gpx,', `{ track: one.gpx, day: ${day},`);
    const said = async (day: string): Promise<readonly (string | undefined)[]> =>
      (await run(written(day))).evaluation.problems
        .filter((problem) => problem.code === 'track-other-day')
        .map((problem) => `${problem.severity} ${problem.at?.line}: ${problem.message}`);
    assert.deepEqual(await said('2024-05-13'), [
      'warning 13: "one.gpx" was recorded on 2024-04-13 (UTC), but 2024-05-13 is written as its day: is it the right one?',
    ]);
    assert.deepEqual(await said('2024-04-12'), []);
    assert.deepEqual(await said('2024-04-14'), []);
  });

  it('warns when the runway written is not that of the take-off', async () => {
    const said = async (degrees: number): Promise<readonly string[]> =>
      (await run(spec, files, (degrees * Math.PI) / 180)).evaluation.problems
        .filter((problem) => problem.code === 'track-other-runway')
        .map((problem) => `${problem.severity} ${problem.at?.line}: ${problem.message}`);
    assert.deepEqual(await said(182), [
      'warning 13: The take-off of "one.gpx" was in the direction of 182 deg, but the runway written has a heading of 360 deg: is it the right runway? Its slope and elevation count.',
    ]);
    assert.deepEqual(await said(355), []);
    assert.deepEqual(await said(20), []);
  });

  it('hands slope, headwind, heights and corrections to the analysis', async () => {
    const { calls } = await run(spec.replace('2024-04-13: { air', '2024-04-13: { wind: 360 deg 10 kt, air'));
    assert.deepEqual(calls.analysed[0].screenHeightsM, [15.24, 30.48]);
    assert.equal(calls.analysed[0].runwaySlope, 0.01);
    assert.ok(Math.abs((calls.analysed[0].headwindMps?.value ?? 0) - (10 * 1852) / 3600) < 1e-9);
    assert.deepEqual(calls.analysed[1].overrides, [
      { event: 'liftoff', number: 1, timeS: startS + 86_420, why: 'film' },
    ]);
    assert.deepEqual(calls.analysed[2].overrides, [{ event: 'liftoff', number: 1, timeS: startS + 10.5 }]);
  });

  it('reports a correction outside the recording and does not use it', async () => {
    const { evaluation, calls } = await run(spec.replace('23:00:10.5', '12:00:00'));
    assert.ok(evaluation.problems.some((problem) => problem.code === 'correction-outside' && problem.at?.line === 15));
    assert.equal(calls.analysed[2].overrides, undefined);
  });

  it('goes on when a recording is absent, broken or makes a reader fail', async () => {
    for (const [content, code] of [
      [undefined, 'track-not-found'],
      ['broken', 'track-unusable'],
      ['throws', 'track-failed'],
    ] as const) {
      const { 'one.gpx': _, ...others } = files;
      const { evaluation, calls } = await run(spec, content === undefined ? others : { ...files, 'one.gpx': content });
      const problem = evaluation.problems.find((candidate) => candidate.code === code);
      assert.equal(problem?.at?.line, 13, code);
      assert.equal(problem?.at?.file, 'x.modproof.yaml');
      assert.equal(evaluation.flights[0].analysis, undefined);
      assert.equal(calls.compared.length, 3);
      assert.ok(evaluation.result);
    }
  });

  it('says when a pattern matches nothing and when a day belongs to no recording', async () => {
    const { evaluation } = await run(
      spec.replace('track: more/,', 'track: none/*.gpx,').replace('2024-04-14:', '2024-04-15:'),
    );
    assert.ok(evaluation.problems.some((problem) => problem.code === 'track-pattern-empty' && problem.at?.line === 14));
    assert.ok(
      evaluation.problems.some((problem) => problem.code === 'spec-unused' && problem.message.includes('2024-04-15')),
    );
  });

  it('does nothing with a spec that has errors', async () => {
    const { evaluation, calls } = await run(spec.replace('fixed-pitch', 'fixed'));
    assert.equal(evaluation.result, undefined);
    assert.equal(calls.read, 0);
  });

  it('gives the hashes that sha256sum gives', async () => {
    const { evaluation } = await run();
    const expected = createHash('sha256').update('ok').digest('hex');
    assert.equal(evaluation.provenance.recordings[0].sha256, expected);
    assert.equal(evaluation.provenance.specSha256, createHash('sha256').update(spec).digest('hex'));
  });

  it('remembers readings and analyses, and only as long as nothing changed', async () => {
    const kept = new Map<string, string>();
    const cache = {
      get: (key: string) => Promise.resolve(kept.get(key)),
      put: (key: string, value: string) => Promise.resolve(void kept.set(key, value)),
    };
    const once = async (text: string, content: Readonly<Record<string, string>>) => {
      const { parts, calls } = fakes();
      const request = { specText: text, specPath: 'x.modproof.yaml', world: memoryWorld(content), cache };
      return { evaluation: await evaluate(request, parts), calls };
    };
    const first = await once(spec, files);
    assert.deepEqual([first.calls.read, first.calls.analysed.length], [3, 3]);
    const second = await once(spec, files);
    assert.deepEqual([second.calls.read, second.calls.analysed.length], [0, 0]);
    assert.deepEqual(JSON.stringify(second.evaluation.flights), JSON.stringify(first.evaluation.flights));
    assert.ok(Number.isNaN(second.evaluation.flights[0].analysis?.recording.rateHz), 'NaN survives');
    const slope = await once(spec.replace('slope: 1 %', 'slope: 2 %'), files);
    assert.deepEqual([slope.calls.read, slope.calls.analysed.length], [1, 1]);
    const changed = await once(spec, { ...files, 'one.gpx': 'ok+1' });
    assert.deepEqual([changed.calls.read, changed.calls.analysed.length], [1, 1]);
    for (const key of kept.keys()) kept.set(key, '{"cut sho');
    const damaged = await once(spec, files);
    assert.deepEqual([damaged.calls.read, damaged.calls.analysed.length], [3, 3]);
  });

  it('stops when asked', async () => {
    const { parts } = fakes();
    const abort = new AbortController();
    abort.abort();
    await assert.rejects(
      evaluate({ specText: spec, specPath: 'x', world: memoryWorld(files), work: { signal: abort.signal } }, parts),
      /abort/i,
    );
  });

  it('reports progress up to the end', async () => {
    const { parts } = fakes();
    const seen: number[] = [];
    await evaluate(
      {
        specText: spec,
        specPath: 'x',
        world: memoryWorld(files),
        work: { onProgress: (fraction) => seen.push(fraction) },
      },
      parts,
    );
    assert.equal(seen[seen.length - 1], 1);
    assert.deepEqual(
      [...seen].sort((a, b) => a - b),
      seen,
    );
  });
});

describe('text of cached results', () => {
  it('keeps numbers that JSON has no words for', () => {
    const value = { a: Number.NaN, b: [Number.POSITIVE_INFINITY, -0.5], c: 'NaN', d: Number.NEGATIVE_INFINITY };
    assert.deepEqual(decodeResult(encodeResult(value)), value);
    assert.equal(decodeResult('{"a":'), undefined);
  });
});
