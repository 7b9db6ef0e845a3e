import * as vscode from 'vscode';
import type { ModproofApi } from '../../src/vscode/extension.ts';
import type { ShownFlight } from '../../src/vscode/editor/viewers.ts';
import { eventually, ok } from './assert.ts';

/** What suites do in the editor again and again. */

export function file(name: string): vscode.Uri {
  const folder = vscode.workspace.workspaceFolders?.[0];
  ok(folder, 'the tests need a workspace');
  return vscode.Uri.joinPath(folder.uri, name);
}

export async function extensionApi(): Promise<ModproofApi> {
  const extension = vscode.extensions.getExtension<ModproofApi>('modproof.modproof');
  ok(extension, 'the extension under development was not found');
  const api = await extension.activate();
  await api.ready;
  return api;
}

export async function closeAll(): Promise<void> {
  await vscode.commands.executeCommand('workbench.action.closeAllEditors');
  const api = await extensionApi();
  await eventually(() => api.shown().length === 0 || undefined, 'all viewers closed');
}

export function activeInput(): unknown {
  return vscode.window.tabGroups.activeTabGroup.activeTab?.input;
}

/** Waits for a viewer of `uri` that satisfies `as`. */
export async function shownFlight(
  uri: vscode.Uri,
  what: string,
  as: (shown: ShownFlight) => boolean = (shown) => shown.drawn !== undefined && !shown.drawn.pending,
): Promise<ShownFlight> {
  const api = await extensionApi();
  return eventually(
    () => api.shown().find((shown) => shown.uri.toString() === uri.toString() && as(shown)),
    `${what}: ${JSON.stringify(api.shown().map(({ uri: one, ...rest }) => ({ file: one.path, ...rest })))}`,
    25_000,
  );
}

/** Opens as a click in the Explorer does. */
export async function open(name: string): Promise<ShownFlight> {
  await vscode.commands.executeCommand('vscode.open', file(name));
  return shownFlight(file(name), `${name} drawn`);
}
