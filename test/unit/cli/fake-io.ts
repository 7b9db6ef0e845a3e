import type { ResultCache } from '../../../src/engine/evaluate/index.ts';
import type { World } from '../../../src/engine/world.ts';
import type { CommandIo } from '../../../src/cli/io.ts';
import { memoryWorld } from '../../tools/memory-world.ts';

export interface FakeIo extends CommandIo {
  readonly out: () => string;
  readonly err: () => string;
}

/** A terminal in memory. */
export function fakeIo(
  files: Readonly<Record<string, string | Uint8Array>>,
  rest: {
    readonly world?: World;
    readonly workingFolder?: string;
    readonly watched?: boolean;
    readonly signal?: AbortSignal;
    readonly cache?: ResultCache;
  } = {},
): FakeIo {
  let [out, err] = ['', ''];
  return {
    world: rest.world ?? memoryWorld(files),
    workingFolder: rest.workingFolder ?? '/nowhere',
    write: (text) => {
      out += text;
    },
    tell: (text) => {
      err += text;
    },
    watched: rest.watched ?? false,
    signal: rest.signal ?? new AbortController().signal,
    cacheFor: () => rest.cache,
    out: () => out,
    err: () => err,
  };
}
