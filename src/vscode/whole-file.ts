import * as vscode from 'vscode';
import { bytesInMemory } from '../engine/world.ts';
import { baseName } from './paths.ts';
import type { OpenedBytes } from './platform.ts';

/** The editor's file system gives whole files only; more than this would be held in memory for a few hundred kB of track. */
const mostBytes = 1_000_000_000;

/** Reads a file through the editor's file system: works for every kind of workspace. */
export async function openWholeFile(uri: vscode.Uri): Promise<OpenedBytes> {
  const { size } = await vscode.workspace.fs.stat(uri);
  if (size > mostBytes) {
    throw new Error(
      `The file has ${(size / 1e9).toFixed(1)} GB, and this kind of workspace can only be read whole. Open the folder on the machine that holds the file, or extract the track first.`,
    );
  }
  const bytes = await vscode.workspace.fs.readFile(uri);
  return { source: bytesInMemory(baseName(uri), bytes), close: () => Promise.resolve() };
}
