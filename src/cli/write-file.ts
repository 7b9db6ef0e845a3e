import { randomBytes } from 'node:crypto';
import { chmod, link, mkdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';

/** The text of a file, or undefined when there is none. Other trouble is thrown. */
export async function textIfPresent(path: string): Promise<string | undefined> {
  try {
    return await readFile(path, 'utf8');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return undefined;
    throw error;
  }
}

function neighbour(path: string): string {
  return join(dirname(path), `.${basename(path)}.${randomBytes(6).toString('hex')}.tmp`);
}

/**
 * Writes a whole file or nothing: into a neighbour first, then renamed over the old one. A reader sees the old text or the
 * new, never a part. Keeps the permissions of the file that it replaces.
 */
export async function writeAtomically(path: string, text: string | Uint8Array): Promise<void> {
  await mkdir(dirname(path), { recursive: true });
  const temporary = neighbour(path);
  try {
    await writeFile(temporary, text, { flag: 'wx' });
    const old = await stat(path).catch(() => undefined);
    if (old !== undefined) await chmod(temporary, old.mode & 0o777);
    await rename(temporary, path);
  } catch (error) {
    await rm(temporary, { force: true });
    throw error;
  }
}

/** Writes a file that must not exist yet: whatever appears meanwhile wins. Rejects with code EEXIST. */
export async function writeNew(path: string, text: string): Promise<void> {
  await mkdir(dirname(path), { recursive: true });
  const temporary = neighbour(path);
  try {
    await writeFile(temporary, text, { flag: 'wx' });
    // A link fails where the name is taken, which a rename does not. Not every file system has links.
    await link(temporary, path).catch(async (error: NodeJS.ErrnoException) => {
      if (error.code === 'EEXIST') throw error;
      await writeFile(path, text, { flag: 'wx' });
    });
  } finally {
    await rm(temporary, { force: true });
  }
}

/** Keeps a copy of a file beside it, under the first free name: `report.md.old`, `report.md.old2`. Gives the name. */
export async function setAside(path: string): Promise<string> {
  for (let number = 1; ; number++) {
    const name = `${path}.old${number === 1 ? '' : number}`;
    try {
      await writeFile(name, await readFile(path), { flag: 'wx' });
      return name;
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    }
  }
}
