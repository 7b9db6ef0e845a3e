import type { ByteSource } from '../world.ts';

/** Larger files (films) are not read whole: size, both ends and evenly spread parts stand for them. */
const wholeUpToBytes = 64 * 1024 * 1024;
const endBytes = 4 * 1024 * 1024;
const partBytes = 1024 * 1024;
const parts = 16;

export interface ContentHash {
  /** SHA-256, hexadecimal, lower case. */
  readonly sha256: string;
  /** Of the whole file, or of its size and parts of it when it is large. */
  readonly of: 'file' | 'parts';
}

function hexadecimal(digest: ArrayBuffer): string {
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, '0')).join('');
}

export async function sha256(bytes: Uint8Array): Promise<string> {
  return hexadecimal(await crypto.subtle.digest('SHA-256', bytes as Uint8Array<ArrayBuffer>));
}

export async function sha256OfText(text: string): Promise<string> {
  return sha256(new TextEncoder().encode(text));
}

/** Fingerprint of a recording: SHA-256 of the file as `sha256sum` gives it, up to 64 MiB. */
export async function hashOf(source: ByteSource): Promise<ContentHash> {
  if (source.sizeBytes <= wholeUpToBytes) {
    return { sha256: await sha256(await source.read(0, source.sizeBytes)), of: 'file' };
  }
  const ranges: [number, number][] = [[0, endBytes]];
  const step = (source.sizeBytes - 2 * endBytes) / parts;
  for (let part = 0; part < parts; part++) ranges.push([Math.floor(endBytes + part * step), partBytes]);
  ranges.push([source.sizeBytes - endBytes, endBytes]);
  const hashes = [`${source.sizeBytes}`];
  for (const [offset, length] of ranges) hashes.push(await sha256(await source.read(offset, length)));
  return { sha256: await sha256OfText(hashes.join('\n')), of: 'parts' };
}
