import { gpmfRun } from '../synth/camera-walk.ts';
import type { FileLayout } from '../synth/film.ts';
import { layGpmfFilm } from '../synth/write-mp4.ts';

export const startS = Date.UTC(2026, 2, 31) / 1000;

/** An hour of film: 12 GB, 18 positions a second, and as much other telemetry as cameras write (6 kB a second). */
export function hourOfFilm(index: 'front' | 'end'): FileLayout {
  const acceleration = Array.from({ length: 1000 }, () => [9.8, 0, 0] as const);
  const samples = gpmfRun({ startS, seconds: 3600, rateHz: 18.169 });
  return layGpmfFilm(samples, { index, offsets: 64, pictureBytes: 3_333_333, acceleration: () => acceleration });
}
