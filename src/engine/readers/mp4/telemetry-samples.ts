import type { ByteSource, Work } from '../../world.ts';
import type { ProblemList } from '../problem-list.ts';
import type { SampleTable } from './sample-table.ts';

export interface TelemetrySample {
  /** Its place in the sample table. */
  readonly index: number;
  readonly offsetByte: number;
  readonly timeS: number;
  readonly durationS: number;
  readonly bytes: Uint8Array;
}

/** Neighbours closer than this are read together: seeking costs more than 16 kB of film. */
const joinedGapBytes = 16_384;

/** One read is not larger than this (unless a single sample is). */
const batchBytes = 1024 * 1024;

/** A single telemetry sample larger than this is not believed: one second of everything a camera writes is 30 kB. */
const mostSampleBytes = 16 * 1024 * 1024;

/** So many reads are on their way at once, which hides the delay of a slow disk. */
const parallelReads = 8;

interface Batch {
  readonly from: number;
  to: number;
  readonly startByte: number;
  endByte: number;
}

/** The samples of a track in order, read in ranges; those that lie beyond the end of the file are counted and left out. */
export async function* telemetrySamples(
  source: ByteSource,
  table: SampleTable,
  problems: ProblemList,
  work: Work = {},
): AsyncGenerator<TelemetrySample> {
  const batches = batchesOf(source, table, problems);
  for (let first = 0; first < batches.length; first += parallelReads) {
    work.signal?.throwIfAborted();
    const group = batches.slice(first, first + parallelReads);
    const read = await Promise.all(group.map(({ startByte, endByte }) => source.read(startByte, endByte - startByte)));
    for (const [k, batch] of group.entries()) {
      for (let index = batch.from; index < batch.to; index++) {
        const from = table.offsetBytes[index] - batch.startByte;
        const bytes = read[k].subarray(from, from + table.sizeBytes[index]);
        if (bytes.length === 0) continue;
        yield {
          index,
          offsetByte: table.offsetBytes[index],
          timeS: table.timeS[index],
          durationS: table.durationS[index],
          bytes,
        };
      }
    }
    work.onProgress?.(Math.min(1, (first + group.length) / batches.length));
  }
}

function batchesOf(source: ByteSource, table: SampleTable, problems: ProblemList): Batch[] {
  const batches: Batch[] = [];
  let current: Batch | undefined;
  for (let index = 0; index < table.sizeBytes.length; index++) {
    const startByte = table.offsetBytes[index];
    const endByte = startByte + table.sizeBytes[index];
    if (endByte > source.sizeBytes) {
      problems.warning(
        'mp4-samples-missing',
        'Parts of the telemetry lie beyond the end of the file: the copy is incomplete, the rest is read.',
        { byte: source.sizeBytes },
      );
      continue;
    }
    if (table.sizeBytes[index] > mostSampleBytes) {
      problems.warning('mp4-sample-too-large', 'A telemetry sample of more than 16 MB is not believed and left out.', {
        byte: startByte,
      });
      continue;
    }
    const joins =
      current?.to === index &&
      startByte >= current.endByte &&
      startByte - current.endByte <= joinedGapBytes &&
      endByte - current.startByte <= batchBytes;
    if (current && joins) {
      current.to = index + 1;
      current.endByte = endByte;
    } else {
      current = { from: index, to: index + 1, startByte, endByte };
      batches.push(current);
    }
  }
  return batches;
}
