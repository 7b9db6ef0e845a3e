import { createHash } from 'node:crypto';
import { mkdir, readdir, readFile, rm, stat, utimes, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { gunzipSync, gzipSync } from 'node:zlib';
import type { ResultCache } from '../engine/evaluate/index.ts';
import { writeAtomically } from './write-file.ts';

/** Results of some hundred flights; the longest unused go first. */
const mostBytes = 200 * 1024 * 1024;
const ignoreAll = '# Results of earlier evaluations; may be deleted at any time.\n*\n';

/**
 * A cache in a folder beside the spec, ignored by version control by itself. `salt` is whatever else the results depend on
 * (the program itself). Trouble with the disk never reaches the caller: it only costs time.
 */
export function folderCache(folder: string, salt: string): ResultCache {
  const pathOf = (key: string): string =>
    join(folder, `${createHash('sha256').update(`${salt}\n${key}`).digest('hex').slice(0, 40)}.json.gz`);
  let ready: Promise<void> | undefined;
  const prepare = async (): Promise<void> => {
    await mkdir(folder, { recursive: true });
    await writeFile(join(folder, '.gitignore'), ignoreAll, { flag: 'wx' }).catch(() => undefined);
    await trim(folder);
  };
  return {
    get: async (key) => {
      const path = pathOf(key);
      try {
        const text = gunzipSync(await readFile(path)).toString('utf8');
        const now = new Date();
        await utimes(path, now, now).catch(() => undefined);
        return text;
      } catch {
        return undefined;
      }
    },
    put: async (key, value) => {
      try {
        ready ??= prepare();
        await ready;
        await writeAtomically(pathOf(key), gzipSync(value, { level: 1 }));
      } catch {
        // The next evaluation works it out again.
      }
    },
  };
}

/** Deletes what was not used for longest until the rest is small enough. Touches nothing but its own files. */
async function trim(folder: string): Promise<void> {
  const names = (await readdir(folder)).filter((name) => /^[0-9a-f]{40}\.json\.gz$/.test(name));
  const files = await Promise.all(
    names.map(async (name) => {
      const facts = await stat(join(folder, name));
      return { path: join(folder, name), bytes: facts.size, usedMs: facts.mtimeMs };
    }),
  );
  files.sort((a, b) => b.usedMs - a.usedMs);
  let total = 0;
  for (const file of files) {
    total += file.bytes;
    if (total > mostBytes) await rm(file.path, { force: true });
  }
}

/** Folder of the cache of a spec. */
export function cacheFolder(specPath: string): string {
  return join(dirname(specPath), '.modproof-cache');
}
