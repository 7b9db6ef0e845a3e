import * as vscode from 'vscode';
import { baseName, folderOf } from '../paths.ts';
import { walk } from '../world-vscode.ts';
import { specMeant } from './spec-file.ts';

/** Folders below each root that are looked into where the workspace cannot be searched. */
const depth = 4;

async function specsOfWorkspace(): Promise<vscode.Uri[]> {
  try {
    return await vscode.workspace.findFiles('**/*.modproof.{yaml,yml}', '**/node_modules/**', 200);
  } catch {
    const roots = (vscode.workspace.workspaceFolders ?? []).map(({ uri }) => uri);
    return (
      await Promise.all(roots.map((root) => walk(root, depth, (path) => /\.modproof\.ya?ml$/i.test(path))))
    ).flat();
  }
}

/** A comparison of the workspace, when none is open: the only one, or one to choose. */
async function askForSpec(): Promise<vscode.Uri | undefined> {
  const found = await specsOfWorkspace();
  if (found.length < 2) {
    if (found.length === 0)
      void vscode.window.showInformationMessage(
        'There is no comparison in this workspace: make one with "New Comparison".',
      );
    return found[0];
  }
  const items = found.map((uri) => ({
    label: baseName(uri),
    description: vscode.workspace.asRelativePath(folderOf(uri)),
    uri,
  }));
  const picked = await vscode.window.showQuickPick(items, { title: 'Comparison' });
  return picked?.uri;
}

/** The document of the comparison that a command means, asked for where it cannot be told. */
export async function meant(given: unknown): Promise<vscode.TextDocument | undefined> {
  const uri = specMeant(given) ?? (await askForSpec());
  return uri === undefined ? undefined : vscode.workspace.openTextDocument(uri);
}
