import assert from 'node:assert/strict';
import { createFile, MP4BoxBuffer } from 'mp4box';
import { WindowedReader } from '../../../../../src/engine/readers/mp4/boxes.ts';
import { readMovie } from '../../../../../src/engine/readers/mp4/movie.ts';
import type { SampleTable } from '../../../../../src/engine/readers/mp4/sample-table.ts';
import { ProblemList } from '../../../../../src/engine/readers/problem-list.ts';
import { bytesInMemory } from '../../../../../src/engine/world.ts';
import { cammRun, gpmfRun } from '../../../../synth/camera-walk.ts';
import { writeCammMp4, writeGpmfMp4 } from '../../../../synth/write-mp4.ts';
import { near } from '../../../../tools/near.ts';
import { itWithData } from '../../../../tools/with-shared-data.ts';

async function ownTable(bytes: Uint8Array): Promise<{ table: SampleTable; entry: string; problems: string[] }> {
  const problems = new ProblemList('film.mp4');
  const movie = await readMovie(new WindowedReader(bytesInMemory('film.mp4', bytes)), problems);
  assert.ok('tracks' in movie);
  const track = movie.tracks.find(({ samples }) => samples);
  assert.ok(track?.samples);
  return { table: track.samples, entry: track.sampleEntry, problems: problems.toArray().map(({ code }) => code) };
}

/** The same table by the library mp4box (BSD-3-Clause), an independent reader of the container. */
function referenceTable(
  bytes: Uint8Array,
  entry: string,
): { offset: number; size: number; timeS: number; durationS: number }[] {
  const file = createFile();
  file.appendBuffer(MP4BoxBuffer.fromArrayBuffer(bytes.slice().buffer, 0));
  file.flush();
  const track = file.getInfo().tracks.find(({ codec }) => codec.startsWith(entry));
  assert.ok(track, `the library sees a track of ${entry}`);
  return file.getTrackSamplesInfo(track.id).map((sample) => ({
    offset: sample.offset,
    size: sample.size,
    timeS: sample.dts / sample.timescale,
    durationS: sample.duration / sample.timescale,
  }));
}

async function assertSameTable(bytes: Uint8Array): Promise<void> {
  const { table, entry, problems } = await ownTable(bytes);
  assert.deepEqual(problems, []);
  const reference = referenceTable(bytes, entry);
  assert.ok(reference.length > 0);
  assert.deepEqual(
    [...table.offsetBytes],
    reference.map(({ offset }) => offset),
  );
  assert.deepEqual(
    [...table.sizeBytes],
    reference.map(({ size }) => size),
  );
  for (const [i, { timeS, durationS }] of reference.entries()) {
    near(table.timeS[i], timeS, 1e-9);
    near(table.durationS[i], durationS, 1e-9);
  }
}

describe('sample table against the library mp4box', () => {
  const startS = Date.UTC(2026, 2, 31) / 1000;
  const gpmf = gpmfRun({ startS, seconds: 20, rateHz: 18.169 });
  const camm = cammRun({ startS, seconds: 20, rateHz: 1 }).filter((_, k) => k % 7 !== 3);
  for (const options of [{}, { index: 'front' }, { offsets: 64 }, { fragmented: true }] as const) {
    it(`GPMF ${JSON.stringify(options)}`, () => assertSameTable(writeGpmfMp4(gpmf, options)));
    it(`camera motion metadata ${JSON.stringify(options)}`, () => assertSameTable(writeCammMp4(camm, options)));
  }
  itWithData('a real film', 'data/video/video-gpmf-01.mp4', assertSameTable);
  itWithData(
    'a film of 34 minutes, many samples in each chunk',
    'flights/engine/tracks/2024-10-29_1749.mp4',
    assertSameTable,
  );
  itWithData('a film of 44 minutes with uneven samples', 'flights/plugs/tracks/2023-12-21_1650.mp4', assertSameTable);
});
