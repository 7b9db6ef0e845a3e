/**
 * What the engine needs from outside. The command gives it Node's file system, the editor gives it its own, tests give
 * it memory. The engine never imports `vscode`, `node:*` or the DOM, and takes time and randomness as arguments.
 */

/** Bytes that can be read in ranges. A short answer means the end of the file. */
export interface ByteSource {
  /** Name as the user gave it: used for messages and, last, as a hint of the format. */
  readonly name: string;
  readonly sizeBytes: number;
  read(offset: number, length: number): Promise<Uint8Array>;
}

export interface World {
  /** Opens a file by a path relative to `from` (a file in whose folder the search starts) or absolute. Throws if absent. */
  open(path: string, from?: string): Promise<ByteSource>;
  /** Files that match a glob or lie in a folder, relative to the folder of `from`, sorted by code unit, '/' separated. */
  list(pattern: string, from?: string): Promise<readonly string[]>;
}

export interface Work {
  readonly signal?: AbortSignal;
  /** Called with a fraction from 0 to 1. */
  readonly onProgress?: (fraction: number) => void;
}

/** A {@link ByteSource} over bytes in memory. */
export function bytesInMemory(name: string, bytes: Uint8Array): ByteSource {
  return {
    name,
    sizeBytes: bytes.length,
    read: (offset, length) => Promise.resolve(bytes.subarray(offset, Math.min(bytes.length, offset + length))),
  };
}
