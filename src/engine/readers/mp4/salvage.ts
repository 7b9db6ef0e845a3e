import type { ByteSource, Work } from '../../world.ts';
import { beginsWithDevice } from '../gpmf/read.ts';
import { walkKlv } from '../gpmf/klv.ts';

/** A payload of GPMF that was found in the middle of a film. */
export interface FoundPayload {
  readonly offsetByte: number;
  readonly bytes: Uint8Array;
}

const windowBytes = 4 * 1024 * 1024;

/** A second of everything a camera writes is 30 kB; what declares more than this is a chance likeness. */
const mostPayloadBytes = 1024 * 1024;

/**
 * Payloads come once a second, and a second of the densest film has some tens of megabytes: where none comes for this
 * long there are none, and a film of many gigabytes without telemetry is not searched to its end.
 */
const mostBetweenBytes = 256 * 1024 * 1024;

/** Larger than any film of one take; what lies behind is not searched. */
const mostSearchedBytes = 64 * 1024 ** 3;

/** `DEVC`, and the identity of the device with which its nest begins. */
const firstSign = 0x44;
const identity = [0x44, 0x56, 0x49, 0x44] as const;

/**
 * The payloads of GPMF in a film whose index is missing, by what they look like: a nest of a device that begins with its
 * identity, holds a stream, and is whole. Reads the film from its begin in pieces; `searched` is told how far.
 */
export async function* searchPayloads(
  source: ByteSource,
  work: Work,
  searched: (bytes: number) => void,
): AsyncGenerator<FoundPayload> {
  const endByte = Math.min(source.sizeBytes, mostSearchedBytes);
  let windowByte = 0;
  let lastByte = 0;
  while (windowByte + 16 <= endByte && windowByte - lastByte <= mostBetweenBytes) {
    work.signal?.throwIfAborted();
    const window = await source.read(windowByte, Math.min(windowBytes + mostPayloadBytes, endByte - windowByte));
    // What begins in the overlap is left to the next window, unless this is the last.
    const starts = windowByte + window.length >= endByte ? window.length : Math.min(windowBytes, window.length);
    let at = window.indexOf(firstSign);
    while (at !== -1 && at < starts) {
      const length = payloadLength(window, at);
      if (length > 0) {
        yield { offsetByte: windowByte + at, bytes: window.slice(at, at + length) };
        lastByte = windowByte + at;
      }
      at = window.indexOf(firstSign, at + Math.max(1, length));
    }
    if (window.length === 0) return;
    windowByte += at === -1 ? window.length : at;
    searched(Math.min(windowByte, endByte));
    work.onProgress?.(Math.min(1, windowByte / endByte));
  }
}

/** The length of a whole payload that begins there; 0 for anything else. */
function payloadLength(window: Uint8Array, at: number): number {
  if (!beginsWithDevice(window.subarray(at, at + 12))) return 0;
  if (identity.some((sign, k) => window[at + 8 + k] !== sign)) return 0;
  const declared = window[at + 5] * ((window[at + 6] << 8) | window[at + 7]);
  const length = 8 + Math.ceil(declared / 4) * 4;
  if (length > mostPayloadBytes || at + length > window.length) return 0;
  let whole = true;
  let streams = 0;
  walkKlv(
    new DataView(window.buffer, window.byteOffset + at, length),
    (item) => {
      if (item.key === 'STRM') streams++;
    },
    () => {
      whole = false;
    },
  );
  return whole && streams > 0 ? length : 0;
}
