/**
 * What it costs to read the position track of a long film: bytes, time and memory. Stands alone (`npx tsx
 * test/perf/video.bench.ts`) and ends by itself; other programs take its rows.
 */
import { pathToFileURL } from 'node:url';
import { readRecording } from '../../src/engine/readers/index.ts';
import { cammRun } from '../synth/camera-walk.ts';
import type { FileLayout } from '../synth/film.ts';
import { layCammFilm } from '../synth/write-mp4.ts';
import { countingSource } from '../tools/counting-source.ts';
import { hourOfFilm, startS } from './hour-of-film.ts';

export interface BenchRow {
  readonly name: string;
  readonly value: number;
  readonly unit: string;
}

const gigabyte = 1e9;

async function measured(name: string, layout: FileLayout): Promise<BenchRow[]> {
  const source = countingSource('film.mp4', layout);
  globalThis.gc?.();
  const used = (): number => {
    const { heapUsed, arrayBuffers } = process.memoryUsage();
    return heapUsed + arrayBuffers;
  };
  const before = used();
  let peak = before;
  const started = performance.now();
  const { track } = await readRecording({
    ...source,
    read: async (offset, length) => {
      const bytes = await source.read(offset, length);
      peak = Math.max(peak, used());
      return bytes;
    },
  });
  const tookMs = performance.now() - started;
  peak = Math.max(peak, used());
  return [
    { name: `${name}: size`, value: layout.sizeBytes / gigabyte, unit: 'GB' },
    { name: `${name}: samples`, value: track?.timeS.length ?? 0, unit: '' },
    { name: `${name}: read`, value: source.counts.bytes / 1e6, unit: 'MB' },
    { name: `${name}: reads`, value: source.counts.reads, unit: '' },
    { name: `${name}: time`, value: tookMs, unit: 'ms' },
    { name: `${name}: memory above the start`, value: (peak - before) / 1e6, unit: 'MB' },
  ];
}

export async function rows(): Promise<BenchRow[]> {
  const camm = cammRun({ startS, seconds: 3600, rateHz: 10 });
  return [
    ...(await measured('GPMF, index at the end', hourOfFilm('end'))),
    ...(await measured('GPMF, index in front', hourOfFilm('front'))),
    ...(await measured('camera motion metadata', layCammFilm(camm, { offsets: 64, pictureBytes: 3_333_333 }))),
  ];
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  for (const { name, value, unit } of await rows())
    console.log(`${name.padEnd(55)} ${value.toFixed(1).padStart(10)} ${unit}`);
}
