import assert from 'node:assert/strict';
import * as fc from 'fast-check';
import { readRecording } from '../../src/engine/readers/index.ts';
import { countingSource } from './counting-source.ts';
import { mutated, mutations } from './mutations.ts';

/**
 * Reads a file in many damaged forms (always the same ones): none may throw, hang, read more than a few times the file, or
 * give columns of different lengths, times out of order, or more rows than the file has bytes.
 */
export async function assertSurvives(name: string, bytes: Uint8Array, runs: number): Promise<void> {
  let readable = 0;
  await fc.assert(
    fc.asyncProperty(mutations, async (changes) => {
      const damaged = mutated(bytes, changes);
      const source = countingSource(name, { sizeBytes: damaged.length, pieces: [{ offsetByte: 0, bytes: damaged }] });
      const { track } = await readRecording(source);
      assert.ok(source.counts.largest <= damaged.length, 'one read is not larger than the file');
      assert.ok(source.counts.bytes <= 40 * damaged.length + 1_000_000, `${source.counts.bytes} bytes read`);
      if (!track) return;
      readable++;
      const n = track.timeS.length;
      assert.ok(n > 0 && n <= damaged.length, `${n} rows`);
      for (let i = 1; i < n; i++) assert.ok(track.timeS[i] > track.timeS[i - 1], 'times ascend');
      const columns = [
        track.latDeg,
        track.lonDeg,
        track.groundSpeedMps,
        ...track.altitudes.map(({ valuesM }) => valuesM),
      ];
      for (const column of columns) assert.ok(column === undefined || column.length === n);
      for (const breakRow of track.breaks) assert.ok(breakRow > 0 && breakRow < n);
    }),
    { seed: 20_260_331, numRuns: runs, interruptAfterTimeLimit: 15_000, markInterruptAsFailure: true },
  );
  // Damage that never, or always, leaves a track would test only half of the reader.
  assert.ok(readable > runs / 20 && readable < runs, `${readable} of ${runs} damaged files gave a track`);
}
