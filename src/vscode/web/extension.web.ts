import type * as vscode from 'vscode';
import { type ModproofApi, start } from '../extension.ts';
import { openWholeFile } from '../whole-file.ts';
import { webThreads } from './start-thread.ts';

// The bundler's: the module is run when it is asked for.
declare const require: (module: '../later.ts') => unknown;

/** What is not needed to start, for the Node host, which has no copy of its own. */
export const later = (): unknown => require('../later.ts');

/** Entry in the web worker extension host: VS Code in a browser. */
export function activate(context: vscode.ExtensionContext): ModproofApi {
  return start(context, { openBytes: openWholeFile, threads: () => webThreads(context.extensionUri) });
}
