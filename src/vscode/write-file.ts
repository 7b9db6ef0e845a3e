import * as vscode from 'vscode';
import { baseName, folderOf } from './paths.ts';

const { fs } = vscode.workspace;

export async function exists(uri: vscode.Uri): Promise<boolean> {
  try {
    await fs.stat(uri);
    return true;
  } catch {
    return false;
  }
}

/** The text of a file, or undefined when there is none. Other trouble is thrown. */
export async function textIfPresent(uri: vscode.Uri): Promise<string | undefined> {
  try {
    return new TextDecoder('utf-8', { ignoreBOM: true }).decode(await fs.readFile(uri));
  } catch (error) {
    if (!(await exists(uri))) return undefined;
    throw error;
  }
}

/**
 * Writes a whole file or nothing: into a neighbour first, then renamed over the old one, where the file system can. Where
 * it cannot rename, the file is written straight away: what it does then is its own affair.
 */
export async function writeAtomically(uri: vscode.Uri, text: string): Promise<void> {
  const bytes = new TextEncoder().encode(text);
  await fs.createDirectory(folderOf(uri));
  const mark = Array.from(crypto.getRandomValues(new Uint8Array(6)), (byte) => byte.toString(16).padStart(2, '0')).join(
    '',
  );
  const neighbour = vscode.Uri.joinPath(folderOf(uri), `.${baseName(uri)}.${mark}.tmp`);
  try {
    await fs.writeFile(neighbour, bytes);
    await fs.rename(neighbour, uri, { overwrite: true });
  } catch {
    await Promise.resolve(fs.delete(neighbour)).catch(() => undefined);
    await fs.writeFile(uri, bytes);
  }
}

/** The first name of `base.ending`, `base-2.ending` ... in a folder that is free. */
export async function freeName(folder: vscode.Uri, base: string, ending: string): Promise<vscode.Uri> {
  for (let number = 1; ; number++) {
    const uri = vscode.Uri.joinPath(folder, `${base}${number === 1 ? '' : `-${number}`}${ending}`);
    if (!(await exists(uri))) return uri;
  }
}

/** Writes a file that must not exist yet: what is there, or appears meanwhile, stays. Gives false when the name is taken. */
export async function writeNew(uri: vscode.Uri, text: string): Promise<boolean> {
  if (await exists(uri)) return false;
  await fs.createDirectory(folderOf(uri));
  const neighbour = vscode.Uri.joinPath(folderOf(uri), `.${baseName(uri)}.${crypto.randomUUID()}.tmp`);
  await fs.writeFile(neighbour, new TextEncoder().encode(text));
  try {
    await fs.rename(neighbour, uri, { overwrite: false });
    return true;
  } catch (error) {
    await Promise.resolve(fs.delete(neighbour)).catch(() => undefined);
    if (await exists(uri)) return false;
    throw error;
  }
}
