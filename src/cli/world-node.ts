import { open, readdir, stat } from 'node:fs/promises';
import { basename, dirname, join, relative, resolve, sep } from 'node:path';
import { fixedFolder, globMatcher, isPattern } from '../engine/glob.ts';
import type { ByteSource, World } from '../engine/world.ts';

/** Folders below this depth are not searched: a link that points upwards would otherwise never end. */
const deepestFolder = 32;

/** Not searched by a pattern, as nobody keeps recordings there. */
const skippedFolders = new Set(['node_modules', '.git']);

/** A folder was to be opened as a file. */
export class IsFolder extends Error {
  constructor() {
    super('it is a folder');
  }
}

/** The world over Node's file system. Relative paths start at the folder of `from`, or at `workingFolder`. */
export function nodeWorld(workingFolder: string = process.cwd()): World {
  const folderOf = (from: string | undefined): string =>
    from === undefined ? workingFolder : dirname(resolve(workingFolder, from));
  return {
    open: async (path, from) => openFile(resolve(folderOf(from), path), path),
    list: async (pattern, from) => {
      const folder = folderOf(from);
      const wanted = pattern.split('\\').join('/');
      const found = isPattern(wanted) ? await matching(folder, wanted) : await literal(folder, wanted);
      return found.sort(byCodeUnit);
    },
  };
}

function byCodeUnit(a: string, b: string): number {
  return a < b ? -1 : Number(a > b);
}

/** Every read opens and closes the file: nothing to forget, and a reader that gives up leaves no handle behind. */
async function openFile(path: string, name: string): Promise<ByteSource> {
  const found = await stat(path).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT' || error.code === 'ENOTDIR') throw new Error('there is no such file', { cause: error });
    throw error;
  });
  if (!found.isFile()) throw found.isDirectory() ? new IsFolder() : new Error('it is no ordinary file');
  return {
    name,
    sizeBytes: found.size,
    read: async (offset, length) => {
      const wanted = Math.max(0, Math.min(length, found.size - offset));
      const bytes = new Uint8Array(wanted);
      if (wanted === 0) return bytes;
      const handle = await open(path, 'r');
      try {
        let filled = 0;
        while (filled < wanted) {
          const { bytesRead } = await handle.read(bytes, filled, wanted - filled, offset + filled);
          if (bytesRead === 0) break;
          filled += bytesRead;
        }
        return bytes.subarray(0, filled);
      } finally {
        await handle.close();
      }
    },
  };
}

/** A file gives itself, a folder its files, anything else nothing. */
async function literal(folder: string, path: string): Promise<string[]> {
  const full = resolve(folder, path);
  const found = await stat(full).catch(() => undefined);
  if (found?.isFile()) return [slashed(relative(folder, full))];
  if (!found?.isDirectory()) return [];
  const inside = await readdir(full, { withFileTypes: true });
  const names = inside.filter((entry) => !entry.name.startsWith('.')).map((entry) => join(full, entry.name));
  const files: string[] = [];
  for (const name of names) {
    if ((await stat(name).catch(() => undefined))?.isFile()) files.push(slashed(relative(folder, name)));
  }
  return files;
}

async function matching(folder: string, pattern: string): Promise<string[]> {
  const start = fixedFolder(pattern);
  const root = resolve(folder, start === '' && pattern.startsWith('/') ? '/' : start);
  const below = start === '' ? pattern.replace(/^\//, '') : pattern.slice(start.length + 1);
  const matches = globMatcher(below);
  const found: string[] = [];
  const anyDepth = below.includes('**') || /\{[^}]*\//.test(below);
  await walk(root, '', 0, anyDepth ? deepestFolder : below.split('/').length - 1, (path) => {
    if (matches(path)) found.push(slashed(relative(folder, join(root, path))));
  });
  return found;
}

async function walk(
  root: string,
  below: string,
  depth: number,
  deepest: number,
  visit: (path: string) => void,
): Promise<void> {
  const entries = await readdir(join(root, below), { withFileTypes: true }).catch(() => []);
  for (const entry of entries) {
    const path = below === '' ? entry.name : `${below}/${entry.name}`;
    const kind = entry.isSymbolicLink() ? await stat(join(root, path)).catch(() => undefined) : entry;
    if (kind?.isFile()) visit(path);
    else if (kind?.isDirectory() && depth < deepest && !skippedFolders.has(basename(path))) {
      await walk(root, path, depth + 1, deepest, visit);
    }
  }
}

function slashed(path: string): string {
  return path.split(sep).join('/');
}
