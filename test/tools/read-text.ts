import assert from 'node:assert/strict';
import { readRecording } from '../../src/engine/readers/index.ts';
import type { ReadOptions, ReadResult } from '../../src/engine/readers/reader.ts';
import type { AltitudeKind, Track } from '../../src/engine/track/track.ts';
import { bytesInMemory } from '../../src/engine/world.ts';

/** Reads a recording given as text. */
export function readText(name: string, text: string, options: ReadOptions = {}): Promise<ReadResult> {
  return readRecording(bytesInMemory(name, new TextEncoder().encode(text)), options);
}

export function codesOf({ problems }: ReadResult): string[] {
  return problems.map(({ code }) => code);
}

/** The track of a result; fails with its problems where there is none. */
export function trackOf({ track, problems }: ReadResult): Track {
  assert.ok(track, problems.map(({ code, message }) => `${code}: ${message}`).join('\n'));
  return track;
}

export function altitudeOf(track: Track, kind: AltitudeKind): Float64Array {
  const column = track.altitudes.find((altitude) => altitude.kind === kind);
  assert.ok(column, `altitude ${kind} among ${track.altitudes.map((altitude) => altitude.kind).join(', ')}`);
  return column.valuesM;
}

export function isoOf(timeS: number): string {
  return new Date(Math.round(timeS * 1000)).toISOString();
}
