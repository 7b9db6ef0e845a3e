import * as vscode from 'vscode';
import type { Parts } from '../extension.ts';
import { recordingEndings } from '../overlay/choose-tracks.ts';
import { folderOf } from '../paths.ts';

const key = 'modproof.recordingFolders';
const mostRecordings = 2000;
const settleMs = 1000;
const both = recordingEndings.flatMap((ending) => [ending, ending.toUpperCase()]);
const pattern = `**/*.{${both.join(',')}}`;

/** Tells the Explorer which folders hold recordings: only there a comparison can be made from a folder. */
export function watchRecordingFolders({ context, log }: Parts): void {
  const look = async (): Promise<void> => {
    const found = await vscode.workspace.findFiles(pattern, '**/node_modules/**', mostRecordings);
    const folders: Record<string, boolean> = {};
    for (const uri of found) {
      const root = vscode.workspace.getWorkspaceFolder(uri)?.uri;
      for (let folder = folderOf(uri); ; folder = folderOf(folder)) {
        folders[folder.fsPath] = true;
        if (root === undefined || folder.path === root.path || folder.path === '/') break;
      }
    }
    await vscode.commands.executeCommand('setContext', key, folders);
  };
  let timer: ReturnType<typeof setTimeout> | undefined;
  const soon = (delayMs: number): void => {
    clearTimeout(timer);
    timer = setTimeout(() => {
      // Some workspaces cannot be searched: then the Explorer offers it on files alone.
      look().catch((error: unknown) => log.debug(`recordings were not searched: ${String(error)}`));
    }, delayMs);
  };
  const watcher = vscode.workspace.createFileSystemWatcher(pattern, false, true, false);
  context.subscriptions.push(
    watcher,
    watcher.onDidCreate(() => soon(settleMs)),
    watcher.onDidDelete(() => soon(settleMs)),
    vscode.workspace.onDidChangeWorkspaceFolders(() => soon(0)),
    { dispose: () => clearTimeout(timer) },
  );
  // Not in the way of what the person is waiting for.
  soon(settleMs);
}
