import type * as vscode from 'vscode';
import { start } from '../extension.ts';
import { openFileInRanges } from './file-in-ranges.ts';

/** Entry in the Node extension host: desktop and remote. */
export function activate(context: vscode.ExtensionContext): void {
  start(context, { openBytes: openFileInRanges });
}
