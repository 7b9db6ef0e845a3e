import { cammRun, gpmfRun } from '../../../../synth/camera-walk.ts';
import { writeCammMp4, writeGpmfMp4, writeGpmfStream } from '../../../../synth/write-mp4.ts';
import { assertSurvives } from '../../../../tools/assert-survives.ts';

const startS = Date.UTC(2026, 2, 31) / 1000;

describe('damaged films', () => {
  const gpmf = gpmfRun({ startS, seconds: 8, rateHz: 10 });
  const camm = cammRun({ startS, seconds: 8, rateHz: 2 });
  it('GPMF', () => assertSurvives('film.mp4', writeGpmfMp4(gpmf, { pictureBytes: 4 }), 2000));
  it('GPMF with a time for each sample', () =>
    assertSurvives('film.mp4', writeGpmfMp4(gpmf, { stream: 'GPS9' }), 2000));
  it('GPMF in fragments', () => assertSurvives('film.mp4', writeGpmfMp4(gpmf, { fragmented: true }), 2000));
  it('camera motion metadata, 64-bit offsets', () =>
    assertSurvives('film.mp4', writeCammMp4(camm, { offsets: 64 }), 2000));
  it('camera motion metadata in fragments', () =>
    assertSurvives('film.mp4', writeCammMp4(camm, { fragmented: true }), 2000));
  it('bare GPMF', () => assertSurvives('stream.raw', writeGpmfStream(gpmf), 2000));
});
