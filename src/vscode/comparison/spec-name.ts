import type * as vscode from 'vscode';

const specName = /\.modproof\.ya?ml$/i;

/** Whether a file is a comparison, by its name alone: needs nothing of the engine. */
export function isSpecName(uri: vscode.Uri): boolean {
  return specName.test(uri.path);
}
