import * as vscode from 'vscode';
import { fixedFolder, globMatcher, isPattern } from '../engine/glob.ts';
import type { ByteSource, World } from '../engine/world.ts';
import { folderOf } from './paths.ts';
import type { OpenedBytes, Platform } from './platform.ts';

/** Folders below this depth are not searched: a link that points upwards would otherwise never end. */
const deepestFolder = 32;
const skippedFolders = new Set(['node_modules', '.git']);
/** Recordings that are kept open at once: whole files in memory, where the platform cannot read ranges. */
const mostOpen = 3;

/** The engine's world over the editor's file system. Everything is relative to the folder of one file. */
export interface EditorWorld extends World {
  resolve(path: string): vscode.Uri;
  /** Path as it would be written in that file. */
  relative(uri: vscode.Uri): string;
  /** To be called when the work is done; what was opened is closed. */
  close(): Promise<void>;
}

/** A path as written in a spec, also with backslashes or from the root of a drive. */
export function resolveBeside(file: vscode.Uri, path: string): vscode.Uri {
  const slashed = path.replace(/\\/g, '/');
  if (/^[A-Za-z]:\//.test(slashed)) return file.with({ path: `/${slashed}` });
  if (slashed.startsWith('/')) return file.with({ path: slashed });
  return vscode.Uri.joinPath(folderOf(file), slashed);
}

/** A path relative to the folder of `file`, '/' separated; absolute where the two have no folder in common. */
export function relativeTo(file: vscode.Uri, uri: vscode.Uri): string {
  const from = folderOf(file).path.split('/').filter(Boolean);
  const to = uri.path.split('/').filter(Boolean);
  let common = 0;
  while (common < from.length && common < to.length - 1 && from[common] === to[common]) common++;
  if (common === 0 && from.length > 0) return uri.path;
  return [...from.slice(common).map(() => '..'), ...to.slice(common)].join('/');
}

function byCodeUnit(a: string, b: string): number {
  return a < b ? -1 : Number(a > b);
}

export function editorWorld(file: vscode.Uri, platform: Platform): EditorWorld {
  const open = new Map<string, Promise<OpenedBytes>>();
  const close = async (key: string): Promise<void> => {
    const bytes = open.get(key);
    open.delete(key);
    await bytes?.then((opened) => opened.close()).catch(() => undefined);
  };
  /** Opens a file again when it was closed for others. */
  const bytesOf = async (uri: vscode.Uri): Promise<ByteSource> => {
    const key = uri.toString();
    const bytes = open.get(key) ?? platform.openBytes(uri);
    open.delete(key);
    open.set(key, bytes);
    bytes.catch(() => open.delete(key));
    for (const oldest of [...open.keys()].slice(0, -mostOpen)) await close(oldest);
    return (await bytes).source;
  };
  const resolve = (path: string): vscode.Uri => resolveBeside(file, path);
  return {
    resolve,
    relative: (uri) => relativeTo(file, uri),
    async open(path) {
      const uri = resolve(path);
      const { type, size } = await vscode.workspace.fs.stat(uri);
      if ((type & vscode.FileType.File) === 0) throw new Error(`${path} is not a file`);
      return {
        name: path,
        sizeBytes: size,
        read: async (offset, length) => (await bytesOf(uri)).read(offset, length),
      };
    },
    async list(pattern) {
      const wanted = pattern.replace(/\\/g, '/');
      const found = isPattern(wanted) ? await matching(resolve, wanted) : await literal(resolve(wanted));
      return found.map((uri) => relativeTo(file, uri)).sort(byCodeUnit);
    },
    async close() {
      for (const key of open.keys()) await close(key);
    },
  };
}

async function entriesOf(folder: vscode.Uri): Promise<[string, vscode.FileType][]> {
  try {
    return await vscode.workspace.fs.readDirectory(folder);
  } catch {
    return [];
  }
}

/** A file gives itself, a folder its files, anything else nothing. */
async function literal(uri: vscode.Uri): Promise<vscode.Uri[]> {
  let type: vscode.FileType;
  try {
    ({ type } = await vscode.workspace.fs.stat(uri));
  } catch {
    return [];
  }
  if ((type & vscode.FileType.Directory) === 0) return [uri];
  const entries = await entriesOf(uri);
  return entries
    .filter(([name, kind]) => (kind & vscode.FileType.File) !== 0 && !name.startsWith('.'))
    .map(([name]) => vscode.Uri.joinPath(uri, name));
}

async function matching(resolve: (path: string) => vscode.Uri, pattern: string): Promise<vscode.Uri[]> {
  const start = fixedFolder(pattern);
  const root = start === '' && pattern.startsWith('/') ? resolve('/') : resolve(start === '' ? '.' : start);
  const below = start === '' ? pattern.replace(/^\//, '') : pattern.slice(start.length + 1);
  const matches = globMatcher(below);
  const anyDepth = below.includes('**') || /\{[^}]*\//.test(below);
  return walk(root, anyDepth ? deepestFolder : below.split('/').length - 1, matches);
}

/** Files below a folder whose path from there is wanted. */
export async function walk(
  root: vscode.Uri,
  deepest: number,
  wanted: (path: string) => boolean,
): Promise<vscode.Uri[]> {
  const found: vscode.Uri[] = [];
  const visit = async (folder: vscode.Uri, below: string, depth: number): Promise<void> => {
    for (const [name, type] of await entriesOf(folder)) {
      const path = below === '' ? name : `${below}/${name}`;
      const uri = vscode.Uri.joinPath(folder, name);
      if ((type & vscode.FileType.Directory) !== 0) {
        if (depth < deepest && !skippedFolders.has(name)) await visit(uri, path, depth + 1);
      } else if ((type & vscode.FileType.File) !== 0 && wanted(path)) found.push(uri);
    }
  };
  await visit(root, '', 0);
  return found;
}
