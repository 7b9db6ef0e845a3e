import type * as vscode from 'vscode';
import { type ModproofApi, start } from '../extension.ts';
import { openFileInRanges } from './file-in-ranges.ts';
import { nodeThreads } from './start-thread.ts';

/** Entry in the Node extension host: desktop and remote. */
export function activate(context: vscode.ExtensionContext): ModproofApi {
  return start(context, {
    openBytes: openFileInRanges,
    threads: () => Promise.resolve(nodeThreads(context.extensionUri)),
  });
}
