import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { analyse } from '../../../../src/engine/analyse.ts';
import type { Analysis } from '../../../../src/engine/analysis.ts';
import { compare } from '../../../../src/engine/compare/index.ts';
import { evaluate } from '../../../../src/engine/evaluate/index.ts';
import { parseEventFile } from '../../../../src/engine/event-file/index.ts';
import { readRecording } from '../../../../src/engine/readers/index.ts';
import { recordedSpan } from '../../../../src/engine/track/summary.ts';
import { type FilmEvent, filmEvents } from '../../../../src/engine/view/index.ts';
import { bytesInMemory } from '../../../../src/engine/world.ts';
import { filmClockSigmaS } from '../../../../shared/film-time.ts';
import { simulatedFlight } from '../../../synth/simulated-flights.ts';
import { type GpmfSample, writeGpmfMp4 } from '../../../synth/write-mp4.ts';
import { memoryWorld } from '../../../tools/memory-world.ts';
import { near } from '../../../tools/near.ts';
import { sharedData } from '../../../tools/shared-data.ts';

const flight = simulatedFlight('film#2', { receiver: 'good10' });
const samples: GpmfSample[] = Array.from(flight.track.timeS, (timeS, row) => ({
  timeS,
  latDeg: flight.track.latDeg[row],
  lonDeg: flight.track.lonDeg[row],
  altitudeM: flight.track.altitudes[0].valuesM[row],
  groundSpeedMps: flight.track.groundSpeedMps?.[row] ?? 0,
})).filter((sample) => Object.values(sample).every(Number.isFinite));
/** The film begins this long before its first position. */
const beforeS = 4.25;
/** A payload says when it was written, not its samples: they are spread over it, which is right to one sample at 10 Hz. */
const oneSampleS = 0.1;
const startS = samples[0].timeS - beforeS;
const film = writeGpmfMp4(samples, { stream: 'GPS9', videoStartS: startS });

const analysed = async (bytes: Uint8Array): Promise<Analysis> => {
  const { track } = await readRecording(bytesInMemory('a.mp4', bytes));
  assert.ok(track);
  return analyse(track);
};
const at = (events: readonly FilmEvent[], kind: FilmEvent['kind']): FilmEvent => {
  const found = events.find((event) => event.kind === kind && event.number === 1);
  assert.ok(found, kind);
  return found;
};

describe('events as times into the film', () => {
  it('are the times after the first picture', async () => {
    const analysis = await analysed(film);
    const events = filmEvents(analysis);
    assert.ok(events.length >= 5, 'start of roll, lift-off, two heights, touchdown');
    for (const { timeS, moment } of events) {
      near(moment.atS, timeS - startS, oneSampleS);
      assert.ok(moment.fromS < moment.atS && moment.atS < moment.toS);
    }
    near(at(events, 'liftoff').timeS, analysis.takeoffs[0].liftoff?.timeS ?? 0, 1e-9);
  });

  it('are none of a recording that is no film', () => {
    assert.deepEqual(filmEvents(analyse(flight.track)), []);
  });

  // ISO/IEC 14496-12, 8.6.6: the time that a player shows is that of the edited presentation.
  it('follow the edit lists of the film', async () => {
    const plain = at(filmEvents(await analysed(film)), 'liftoff').moment.atS;
    const edited = async (edits: Parameters<typeof writeGpmfMp4>[1]): Promise<number> =>
      at(
        filmEvents(await analysed(writeGpmfMp4(samples, { stream: 'GPS9', videoStartS: startS, ...edits }))),
        'liftoff',
      ).moment.atS;
    near(await edited({ edits: { meta: { emptyS: 1.5 } } }), plain + 1.5, 0.01, 'telemetry that is shown later');
    near(await edited({ edits: { meta: { skippedS: 2 } } }), plain - 2, 0.01, 'its first two seconds are skipped');
    const both = { vide: { skippedS: 2 }, meta: { skippedS: 2 } };
    near(await edited({ edits: both }), plain - 2, 0.01, 'a film whose beginning was cut');
    near(await edited({ edits: { vide: { emptyS: 0.4 } } }), plain, 0.01, 'pictures that begin late');
    near(await edited({ edits: { vide: { skippedS: 0.066 } } }), plain, 0.01, 'pictures that are stored out of order');
  });

  it('come back as the pilot gives them, in the spec and beside the recording, and are marked', async () => {
    const liftoffS = at(filmEvents(await analysed(film)), 'liftoff').moment.atS + 0.7;
    const minutes = Math.floor(liftoffS / 60);
    const written = `film ${minutes}:${(liftoffS - minutes * 60).toFixed(2).padStart(5, '0')}`;
    const corrections = `[{ lift-off: "${written}", uncertainty: 0.1 s, seen: in the film }]`;
    const spec = (own: string): string => `modproof: 1
title: T
aircraft: { propeller: fixed-pitch }
configurations: { before: { baseline: true }, after: {} }
flights:
  - track: a.mp4
    configuration: before${own}
questions: [{ metric: ground-roll }]
`;
    const beside = { 'a.mp4.events.yaml': `corrections: ${corrections}\n` };
    for (const [text, files] of [
      [spec(`\n    corrections: ${corrections}`), {}],
      [spec(''), beside],
    ] as const) {
      const evaluation = await evaluate(
        { specText: text, specPath: 'c.modproof.yaml', world: memoryWorld({ 'a.mp4': film, ...files }) },
        { readRecording, analyse, compare },
      );
      const [{ analysis }] = evaluation.flights;
      assert.ok(analysis);
      const { liftoff } = analysis.takeoffs[0];
      assert.equal(liftoff?.origin, 'pilot');
      near(liftoff.timeS - startS, liftoffS, oneSampleS);
      near(liftoff.sigmaS, Math.hypot(0.1, filmClockSigmaS), 1e-9, 'how late the positions are is not known');
      near(at(filmEvents(analysis), 'liftoff').moment.atS, liftoffS, 0.0051);
    }
  });

  it('are refused for what is no film, with the line', () => {
    const file = parseEventFile(
      'corrections:\n  - lift-off: film 3:05.2\n',
      'a.gpx.events.yaml',
      recordedSpan(flight.track),
    );
    assert.deepEqual(file.overrides, []);
    assert.deepEqual(
      file.problems.map(({ code, at: place }) => [code, place?.line]),
      [['event-file-time', 2]],
    );
  });

  it('are refused outside the film', () => {
    const recorded = { startS: 1000, endS: 1600, films: [{ startS: 990 }] };
    const { overrides, problems } = parseEventFile(
      'corrections: [{ stop: film 22:00 }, { touchdown: film 8:00 }]',
      'f',
      recorded,
    );
    assert.deepEqual(overrides, [{ event: 'touchdown', number: 1, timeS: 1470, intoFilmS: 480 }]);
    assert.deepEqual(
      problems.map(({ code }) => code),
      ['correction-outside'],
    );
  });

  it('that no take-off or landing takes are told', () => {
    const overrides = [
      { event: 'liftoff', number: 7, timeS: flight.track.timeS[0] + 60 },
      { event: 'liftoff', number: 1, timeS: analyse(flight.track).takeoffs[0].liftoff?.timeS ?? 0 },
    ] as const;
    const told = analyse(flight.track, { overrides }).problems.filter(
      ({ code }) => code === 'correction-without-event',
    );
    assert.equal(told.length, 1);
    assert.match(told[0].message, /lift-off no\. 7 .* is not used: the recording shows/);
  });
});

interface TrueFlight {
  readonly file: string;
  readonly epochUtc: string;
  readonly receiver: { readonly recordFromT: number; readonly rateHz: number };
  readonly takeoffs: readonly {
    readonly brakeRelease: { readonly t: number };
    readonly liftoff?: { readonly t: number };
  }[];
  readonly landings: readonly { readonly touchdown: { readonly t: number } }[];
}

// Six simulated films with known answers; their pictures begin with the first sample that the camera wrote.
describe('times into simulated films with known answers', function () {
  this.timeout(60_000);
  for (const folder of ['engine', 'plugs']) {
    it(`${folder}: the true moment lies in the span`, async function () {
      const truthFile = sharedData(`flights/${folder}/truth.json`);
      if (truthFile === undefined) {
        console.warn(`      skipped: flights/${folder} is not beside the repository`);
        this.skip();
      }
      const truth = JSON.parse(readFileSync(truthFile, 'utf8')) as { readonly flights: readonly TrueFlight[] };
      let checked = 0;
      for (const one of truth.flights.filter(({ file }) => file.endsWith('.mp4'))) {
        const bytes = readFileSync(truthFile.replace('truth.json', one.file));
        const { track } = await readRecording(bytesInMemory(one.file, bytes));
        assert.ok(track);
        // A receiver with one fix a second writes its first one up to a second after it was switched on.
        const { recordFromT, rateHz } = one.receiver;
        near(
          track.videoStartS ?? 0,
          Date.parse(one.epochUtc) / 1000 + recordFromT,
          Math.max(0.15, 0.5 / rateHz),
          one.file,
        );
        const events = filmEvents(analyse(track));
        const trueFilmS = (t: number): number => Date.parse(one.epochUtc) / 1000 + t - (track.videoStartS ?? 0);
        const [takeoff] = one.takeoffs;
        for (const [kind, t] of [
          ['roll-start', takeoff.brakeRelease.t],
          ['liftoff', takeoff.liftoff?.t],
        ] as const) {
          if (t === undefined) continue;
          const { fromS, toS } = at(events, kind).moment;
          assert.ok(
            fromS <= trueFilmS(t) && trueFilmS(t) <= toS,
            `${one.file} ${kind}: ${trueFilmS(t)} in ${fromS} to ${toS}`,
          );
          checked++;
        }
      }
      assert.ok(checked > 0);
    });
  }
});
