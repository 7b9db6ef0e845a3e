import * as vscode from 'vscode';

/** Last part of the path. */
export function baseName(uri: vscode.Uri): string {
  return uri.path.slice(uri.path.lastIndexOf('/') + 1);
}

export function folderOf(uri: vscode.Uri): vscode.Uri {
  return vscode.Uri.joinPath(uri, '..');
}

/** A neighbour in the same folder. */
export function besideWith(uri: vscode.Uri, ending: string): vscode.Uri {
  return uri.with({ path: uri.path + ending });
}
