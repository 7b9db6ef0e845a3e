import assert from 'node:assert/strict';
import { readRecording } from '../../../../../src/engine/readers/index.ts';
import { searchPayloads } from '../../../../../src/engine/readers/mp4/salvage.ts';
import { bytesInMemory, type ByteSource } from '../../../../../src/engine/world.ts';
import { cammRun, gpmfRun } from '../../../../synth/camera-walk.ts';
import { filmBytes, type FileLayout } from '../../../../synth/film.ts';
import { layGpmfFilm, writeCammMp4, writeGpmfMp4 } from '../../../../synth/write-mp4.ts';
import { assertSurvives } from '../../../../tools/assert-survives.ts';
import { countingSource } from '../../../../tools/counting-source.ts';
import { itWithData } from '../../../../tools/with-shared-data.ts';

const startS = Date.UTC(2026, 2, 31) / 1000;
const run = gpmfRun({ startS, seconds: 12, rateHz: 18.169 });

/** As a camera leaves it whose battery was pulled: no index, and the size of the pictures never filled in. */
function unclosed(layout: FileLayout): FileLayout {
  const last = layout.pieces[layout.pieces.length - 1];
  const pieces = layout.pieces.slice(0, -1).map((piece, k) => {
    if (k !== 1) return piece;
    const bytes = piece.bytes.slice();
    new DataView(bytes.buffer).setUint32(0, 0);
    return { ...piece, bytes };
  });
  return { sizeBytes: last.offsetByte, pieces };
}

async function found(source: ByteSource): Promise<number[]> {
  const places: number[] = [];
  for await (const { offsetByte } of searchPayloads(source, {}, () => undefined)) places.push(offsetByte);
  return places;
}

describe('telemetry of a film without index', () => {
  it('is found wherever the edges of the pieces lie in which the film is read', async () => {
    // 4 MB a second but for a few bytes: a payload comes to lie over each kind of edge.
    for (const pictureBytes of [4_194_300, 4_190_000, 2_097_150]) {
      const layout = unclosed(layGpmfFilm(run, { pictureBytes }));
      const places = layout.pieces.slice(2).map(({ offsetByte }) => offsetByte);
      assert.deepEqual(await found(countingSource('film.mp4', layout)), places);
    }
  });

  it('gives the track of a film of half a gigabyte that was never closed', async () => {
    const layout = unclosed(layGpmfFilm(run, { pictureBytes: 40_000_000 }));
    const source = countingSource('film.mp4', layout);
    const { track, problems } = await readRecording(source);
    assert.equal(problems[0].code, 'mp4-no-index');
    assert.ok((track?.timeS.length ?? 0) > 200);
    assert.ok(source.counts.largest <= 6 * 1024 * 1024, `one read of ${source.counts.largest} bytes`);
  });

  it('is not searched for to the end of a film that has none', async () => {
    const source = countingSource('film.mp4', {
      sizeBytes: 40e9,
      pieces: [{ offsetByte: 4, bytes: new TextEncoder().encode('mdat') }],
    });
    const { track, problems } = await readRecording(source);
    assert.equal(track, undefined);
    assert.match(problems[0].message, /in the 273 MB that were searched/);
    assert.ok(source.counts.bytes < 400e6, `${source.counts.bytes} bytes read`);
  });

  it('is not found in bytes that only look like it', async () => {
    const likeness = writeGpmfMp4(run).slice();
    // The identity of the device is the first item of a payload.
    for (let at = 0; at + 4 < likeness.length; at++)
      if (String.fromCharCode(...likeness.subarray(at, at + 4)) === 'DVID') likeness[at] = 0x58;
    assert.deepEqual(await found(bytesInMemory('film.mp4', likeness)), []);
    assert.deepEqual(
      await found(bytesInMemory('film.mp4', writeCammMp4(cammRun({ startS, seconds: 5, rateHz: 10 })))),
      [],
    );
  });

  it('stops when asked to', async () => {
    const stop = new AbortController();
    stop.abort(new Error('enough'));
    const source = bytesInMemory('film.mp4', filmBytes(unclosed(layGpmfFilm(run))));
    await assert.rejects(readRecording(source, { signal: stop.signal }), /enough/);
  });

  itWithData('a real film whose index was cut off', 'data/video/video-gpmf-01.mp4', async (bytes) => {
    const whole = await readRecording(bytesInMemory('film.mp4', bytes));
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    let moov = 0;
    for (let at = 0; at + 8 < bytes.length; ) {
      if (String.fromCharCode(...bytes.subarray(at + 4, at + 8)) === 'moov') moov = at;
      const size = view.getUint32(at);
      at += size === 1 ? Number(view.getBigUint64(at + 8)) : size;
    }
    assert.ok(moov > 0);
    const { track, problems } = await readRecording(bytesInMemory('film.mp4', bytes.subarray(0, moov)));
    assert.equal(problems[0].code, 'mp4-no-index');
    assert.deepEqual(track?.latDeg, whole.track?.latDeg);
    assert.equal(track?.timeS.length, 191);
  });
});

describe('damaged films without index', () => {
  it('are searched or refused', () =>
    assertSurvives('film.mp4', filmBytes(unclosed(layGpmfFilm(gpmfRun({ startS, seconds: 6, rateHz: 10 })))), 1500));
});
