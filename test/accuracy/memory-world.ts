import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type ByteSource, bytesInMemory, type World } from '../../src/engine/world.ts';

/** A world whose files are in memory. Nothing is listed: specs of campaigns name each recording. */
export function memoryWorld(files: ReadonlyMap<string, Uint8Array>): World {
  return {
    open(path: string): Promise<ByteSource> {
      const bytes = files.get(path);
      return bytes ? Promise.resolve(bytesInMemory(path, bytes)) : Promise.reject(new Error(`no file ${path}`));
    },
    list: (pattern: string) => Promise.resolve(files.has(pattern) ? [pattern] : []),
  };
}

/** The recordings of a folder, by the names in its truth: `tracks/NAME`. */
export function tracksOf(folder: string): Map<string, Uint8Array> {
  const files = new Map<string, Uint8Array>();
  for (const name of readdirSync(join(folder, 'tracks')).sort()) {
    files.set(`tracks/${name}`, new Uint8Array(readFileSync(join(folder, 'tracks', name))));
  }
  return files;
}
