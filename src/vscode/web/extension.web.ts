import type * as vscode from 'vscode';
import { type ModproofApi, start } from '../extension.ts';
import { openWholeFile } from '../whole-file.ts';

/** Entry in the web worker extension host: VS Code in a browser. */
export function activate(context: vscode.ExtensionContext): ModproofApi {
  return start(context, { openBytes: openWholeFile });
}
