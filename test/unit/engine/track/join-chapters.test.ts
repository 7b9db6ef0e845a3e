import assert from 'node:assert/strict';
import { readRecording } from '../../../../src/engine/readers/index.ts';
import type { Chapter } from '../../../../src/engine/track/join-chapters.ts';
import { chapterAt, joinChapters } from '../../../../src/engine/track/join-chapters.ts';
import type { Track } from '../../../../src/engine/track/track.ts';
import { bytesInMemory } from '../../../../src/engine/world.ts';
import { gpmfRun } from '../../../synth/camera-walk.ts';
import { writeGpmfMp4 } from '../../../synth/write-mp4.ts';
import { near } from '../../../tools/near.ts';
import { trackOf } from './track-of.ts';

const startS = Date.UTC(2026, 2, 31) / 1000;
const run = gpmfRun({ startS, seconds: 180, rateHz: 18.169 });

async function chapter(name: string, from: number, to: number): Promise<Chapter> {
  const samples = run.filter(({ timeS }) => timeS >= startS + from && timeS < startS + to);
  const bytes = writeGpmfMp4(samples, { videoStartS: startS + from });
  const { track } = await readRecording(bytesInMemory(name, bytes));
  assert.ok(track);
  return { name, track };
}

const straight = (from: number, to: number, more: Partial<Track> = {}): Track =>
  trackOf(
    Array.from({ length: to - from }, (_, k) => ({ t: from + k, east: 30 * (from + k), up: 100, speed: 30 })),
    more,
  );

describe('a recording in several files', () => {
  it('is one track in the order of time, with the film that shows each instant', async () => {
    const parts = [await chapter('c.mp4', 120, 180), await chapter('a.mp4', 0, 60), await chapter('b.mp4', 60, 120)];
    const { track, chapters, problems } = joinChapters(parts);
    assert.deepEqual(problems, []);
    assert.deepEqual(
      chapters.map(({ name }) => name),
      ['a.mp4', 'b.mp4', 'c.mp4'],
    );
    assert.ok(track);
    // Each file was fitted for itself: where two meet, one sample may come before the other ends.
    assert.ok(run.length - track.timeS.length <= 2);
    for (let i = 1; i < track.timeS.length; i++) {
      const stepS = track.timeS[i] - track.timeS[i - 1];
      assert.ok(stepS > 0 && stepS < 0.15, `${stepS} s before row ${i}`);
    }
    near(track.videoStartS ?? 0, startS, 0.06);
    assert.equal(chapterAt(chapters, startS + 100)?.name, 'b.mp4');
    near(chapterAt(chapters, startS + 100)?.intoFilmS ?? 0, 40, 0.06);
    assert.equal(chapterAt(chapters, startS - 1), undefined);
  });

  it('keeps breaks, and columns that only some files have', () => {
    const first = straight(0, 100, { breaks: [50], channels: { engineSpeedRpm: new Float64Array(100).fill(2400) } });
    const { hdop, ...second } = straight(100, 200, { breaks: [20] });
    assert.equal(hdop, undefined);
    const { track, problems } = joinChapters([
      { name: 'a', track: first },
      { name: 'b', track: { ...second, altitudes: [{ kind: 'pressure', valuesM: new Float64Array(100).fill(90) }] } },
    ]);
    assert.deepEqual(problems, []);
    assert.deepEqual(track?.breaks, [50, 120]);
    const rpm = track?.channels.engineSpeedRpm ?? new Float64Array();
    assert.deepEqual([rpm[0], rpm[99], rpm[100]], [2400, 2400, Number.NaN]);
    assert.deepEqual(
      track?.altitudes.map(({ kind }) => kind),
      ['msl', 'pressure'],
    );
    assert.deepEqual([track?.altitudes[0].valuesM[150], track?.altitudes[1].valuesM[150]], [Number.NaN, 90]);
  });

  it('drops what two files both hold where they meet', () => {
    const { track, problems } = joinChapters([
      { name: 'a', track: straight(0, 100) },
      { name: 'b', track: straight(98, 200) },
    ]);
    assert.deepEqual(problems, []);
    assert.equal(track?.timeS.length, 200);
  });

  it('says that a file may be missing', () => {
    const { track, problems } = joinChapters([
      { name: 'a', track: straight(0, 100) },
      { name: 'c', track: straight(400, 500) },
    ]);
    assert.deepEqual(
      problems.map(({ code, severity }) => [code, severity]),
      [['chapters-apart', 'warning']],
    );
    assert.equal(track?.timeS.length, 200);
  });

  it('is not made of files that overlap or lie far apart in place', () => {
    const overlap = joinChapters([
      { name: 'a', track: straight(0, 100) },
      { name: 'b', track: straight(50, 150) },
    ]);
    assert.equal(overlap.track, undefined);
    assert.deepEqual(
      overlap.problems.map(({ code }) => code),
      ['chapters-overlap'],
    );
    const far = straight(100, 200);
    const jump = joinChapters([
      { name: 'a', track: straight(0, 100) },
      { name: 'b', track: { ...far, latDeg: far.latDeg.map((latDeg) => latDeg + 0.1) } },
    ]);
    assert.equal(jump.track, undefined);
    assert.deepEqual(
      jump.problems.map(({ code }) => code),
      ['chapters-jump'],
    );
    assert.deepEqual(joinChapters([]), { chapters: [], problems: [] });
  });
});
