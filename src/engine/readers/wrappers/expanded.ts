import type { ByteSource, Work } from '../../world.ts';

/** What is unpacked stays in memory; the largest recordings known (10 Hz for a day, as text) have 100 MB. */
const mostExpandedBytes = 256 * 1024 * 1024;

/**
 * Recordings shrink to a fifth or, as XML, to a thirtieth of their size. 300 times, above a few megabytes, is a file made
 * to fill memory (deflate itself can reach 1032).
 */
const mostRatio = 300;
const ratioFromBytes = 16 * 1024 * 1024;

/** Packed bytes are given on in pieces this small, so that no piece can expand by more than about 4 MB. */
const pieceBytes = 4096;

const readBytes = 1024 * 1024;

/** Why unpacking ended early. */
export type ExpandedTooFar = 'size' | 'ratio';

/** Gathers what an unpacker gives, up to the limits. */
export class Expanded {
  readonly #pieces: Uint8Array[] = [];
  #bytes = 0;
  packedBytes = 0;
  tooFar: ExpandedTooFar | undefined;

  take(piece: Uint8Array): void {
    if (this.tooFar) return;
    this.#bytes += piece.length;
    if (this.#bytes > mostExpandedBytes) this.tooFar = 'size';
    else if (this.#bytes > ratioFromBytes && this.#bytes > mostRatio * this.packedBytes) this.tooFar = 'ratio';
    if (piece.length > 0) this.#pieces.push(piece);
  }

  get sizeBytes(): number {
    return this.#bytes;
  }

  whole(): Uint8Array {
    const out = new Uint8Array(this.#bytes);
    let at = 0;
    for (const piece of this.#pieces) {
      out.set(piece, at);
      at += piece.length;
    }
    return out;
  }
}

/**
 * Feeds a stretch of a file to an unpacker until it ends, fails or goes beyond the limits. Answers the failure of the
 * unpacker, if any; what came before it is kept in `expanded`.
 */
export async function expand(
  source: ByteSource,
  fromByte: number,
  toByte: number,
  push: (piece: Uint8Array, last: boolean) => void,
  expanded: Expanded,
  work: Work,
): Promise<string | undefined> {
  for (let at = fromByte; at < toByte; at += readBytes) {
    work.signal?.throwIfAborted();
    const bytes = await source.read(at, Math.min(readBytes, toByte - at));
    for (let from = 0; from < bytes.length; from += pieceBytes) {
      const piece = bytes.subarray(from, from + pieceBytes);
      expanded.packedBytes += piece.length;
      const last = at + from + piece.length >= toByte;
      try {
        push(piece, last);
      } catch (error) {
        return error instanceof Error ? error.message : String(error);
      }
      if (expanded.tooFar) return undefined;
    }
  }
  return undefined;
}

/** Says why unpacking was ended. */
export function tooFarMessage(tooFar: ExpandedTooFar): string {
  return tooFar === 'size'
    ? `Unpacked, the content has more than ${mostExpandedBytes / 1024 / 1024} MB: unpack it and open the recording itself.`
    : `The content expands to more than ${mostRatio} times its size, which no recording does: it was not unpacked further.`;
}
