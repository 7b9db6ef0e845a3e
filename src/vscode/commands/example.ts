import { unzipSync } from 'fflate';
import * as vscode from 'vscode';
import type { Parts } from '../extension.ts';
import { exists } from '../write-file.ts';

const exampleSpec = 'drooped-leading-edge.modproof.yaml';
/** What to open when the window comes back with the folder of the example. */
const openNext = 'modproof.openNext';

/** A folder of that name, or the first of its kind that is free. */
async function freeFolder(parent: vscode.Uri): Promise<vscode.Uri> {
  for (let number = 1; ; number++) {
    const folder = vscode.Uri.joinPath(parent, `modproof-example${number === 1 ? '' : `-${number}`}`);
    if (!(await exists(folder))) return folder;
  }
}

async function askForParent(): Promise<vscode.Uri | undefined> {
  const folder = vscode.workspace.workspaceFolders?.[0]?.uri;
  if (folder !== undefined) {
    const here = { label: `Into ${vscode.workspace.workspaceFolders?.[0]?.name ?? 'this folder'}`, here: true };
    const elsewhere = { label: 'Another folder...', here: false };
    const picked = await vscode.window.showQuickPick([here, elsewhere], { title: 'Copy the Example' });
    if (picked === undefined) return undefined;
    if (picked.here) return folder;
  }
  const chosen = await vscode.window.showOpenDialog({
    title: 'Folder for the Example',
    openLabel: 'Copy Here',
    canSelectFolders: true,
    canSelectFiles: false,
  });
  return chosen?.[0];
}

/** Copies the example that comes with the extension into a new folder. Gives the address of its comparison. */
async function copyExample({ context }: Parts, given: unknown): Promise<vscode.Uri | undefined> {
  const parent = given instanceof vscode.Uri ? given : await askForParent();
  if (parent === undefined) return undefined;
  const packed = await vscode.workspace.fs.readFile(vscode.Uri.joinPath(context.extensionUri, 'dist', 'example.zip'));
  const folder = await freeFolder(parent);
  for (const [path, bytes] of Object.entries(unzipSync(packed))) {
    if (path.endsWith('/')) continue;
    const target = vscode.Uri.joinPath(folder, path);
    await vscode.workspace.fs.createDirectory(vscode.Uri.joinPath(target, '..'));
    await vscode.workspace.fs.writeFile(target, bytes);
  }
  const spec = vscode.Uri.joinPath(folder, exampleSpec);
  if (vscode.workspace.getWorkspaceFolder(folder) !== undefined) await vscode.window.showTextDocument(spec);
  else {
    await context.globalState.update(openNext, spec.toString());
    await vscode.commands.executeCommand('vscode.openFolder', folder, {
      forceNewWindow: vscode.workspace.workspaceFolders !== undefined,
    });
  }
  return spec;
}

/** After the window was opened anew for it. */
async function openExampleThatWaits({ context }: Parts): Promise<void> {
  const waiting = context.globalState.get<string>(openNext);
  if (waiting === undefined) return;
  const spec = vscode.Uri.parse(waiting, true);
  if (vscode.workspace.getWorkspaceFolder(spec) === undefined) return;
  await context.globalState.update(openNext, undefined);
  await vscode.window.showTextDocument(spec);
}

export function registerExample(parts: Parts): void {
  parts.context.subscriptions.push(
    vscode.commands.registerCommand('modproof.copyExample', (given?: unknown) => copyExample(parts, given)),
  );
  openExampleThatWaits(parts).catch((error: unknown) => parts.log.warn(`the example was not opened: ${String(error)}`));
}
