import type { FileLayout } from '../synth/film.ts';
import type { ByteSource } from '../../src/engine/world.ts';

/** A {@link ByteSource} that counts what is read from it. */
export interface CountingSource extends ByteSource {
  readonly counts: { bytes: number; reads: number; largest: number };
}

/** A file of any size made of pieces; what no piece covers reads as zero and needs no memory. */
export function countingSource(name: string, layout: FileLayout): CountingSource {
  const counts = { bytes: 0, reads: 0, largest: 0 };
  const pieces = [...layout.pieces].sort((a, b) => a.offsetByte - b.offsetByte);
  return {
    name,
    sizeBytes: layout.sizeBytes,
    counts,
    read: (offset, length) => {
      const out = new Uint8Array(Math.max(0, Math.min(length, layout.sizeBytes - offset)));
      counts.bytes += out.length;
      counts.reads++;
      counts.largest = Math.max(counts.largest, out.length);
      for (let k = firstPieceAfter(pieces, offset); k < pieces.length; k++) {
        const { offsetByte, bytes } = pieces[k];
        if (offsetByte >= offset + out.length) break;
        const from = Math.max(0, offset - offsetByte);
        const to = Math.min(bytes.length, offset + out.length - offsetByte);
        out.set(bytes.subarray(from, to), offsetByte + from - offset);
      }
      return Promise.resolve(out);
    },
  };
}

/** Index of the first piece that ends behind an offset; pieces do not overlap. */
function firstPieceAfter(pieces: FileLayout['pieces'], offset: number): number {
  let low = 0;
  let high = pieces.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (pieces[middle].offsetByte + pieces[middle].bytes.length <= offset) low = middle + 1;
    else high = middle;
  }
  return low;
}
