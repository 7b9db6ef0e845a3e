import * as vscode from 'vscode';
import type { ComparisonsApi } from '../../src/vscode/comparison/register.ts';
import { eventually, ok } from './assert.ts';
import { closeAll, extensionApi, file } from './editor.ts';

/** What suites do with comparison specs again and again. */

export const wholeSpec = 'campaign/before-after.modproof.yaml';

export async function comparisons(): Promise<ComparisonsApi> {
  return (await extensionApi()).comparisons;
}

export async function textOf(uri: vscode.Uri): Promise<string> {
  return new TextDecoder().decode(await vscode.workspace.fs.readFile(uri));
}

export async function write(uri: vscode.Uri, text: string): Promise<void> {
  await vscode.workspace.fs.writeFile(uri, new TextEncoder().encode(text));
}

let specs = 0;

/**
 * A copy of the whole spec beside it, changed, and opened. Each has a name of its own: the editor keeps the text of a file
 * that was closed for a while, also when another has taken its place.
 */
export async function openSpec(change: (text: string) => string = (text) => text): Promise<vscode.TextDocument> {
  await extensionApi();
  const uri = file(`campaign/spec-${++specs}.modproof.yaml`);
  await write(uri, change(await textOf(file(wholeSpec))));
  const document = await vscode.workspace.openTextDocument(uri);
  await vscode.window.showTextDocument(document);
  return document;
}

/** Closes and deletes the specs that were opened. */
export async function removeSpecs(): Promise<void> {
  for (const document of vscode.workspace.textDocuments.filter(({ isDirty }) => isDirty)) {
    await vscode.window.showTextDocument(document);
    await vscode.commands.executeCommand('workbench.action.files.revert');
  }
  await closeAll();
  await removeFiles(...Array.from({ length: specs }, (_, index) => `campaign/spec-${index + 1}.modproof.yaml`));
}

export async function removeFiles(...names: readonly string[]): Promise<void> {
  for (const name of names) {
    try {
      await vscode.workspace.fs.delete(file(name), { recursive: true });
    } catch {
      // It was not made.
    }
  }
}

/** Waits for diagnostics of ours that satisfy `wanted`. */
export function diagnosed(
  document: vscode.TextDocument,
  what: string,
  wanted: (found: readonly vscode.Diagnostic[]) => boolean,
): Promise<readonly vscode.Diagnostic[]> {
  const ours = (): vscode.Diagnostic[] =>
    vscode.languages.getDiagnostics(document.uri).filter(({ source }) => source === 'Modproof');
  return eventually(() => {
    const found = ours();
    return wanted(found) ? found : undefined;
  }, what).catch((error: unknown) => {
    throw new Error(
      `${String(error)}: ${JSON.stringify(ours().map(({ code, message, range }) => [range.start.line + 1, code, message]))}`,
    );
  });
}

/** The position of a piece of text in a document. */
export function positionOf(document: vscode.TextDocument, piece: string, offset = 0): vscode.Position {
  const at = document.getText().indexOf(piece);
  ok(at >= 0, `${piece} is not in the document`);
  return document.positionAt(at + offset);
}

/** Puts a text over a piece of a document, as typing does. */
export async function retype(document: vscode.TextDocument, piece: string, text: string): Promise<void> {
  const start = positionOf(document, piece);
  const end = positionOf(document, piece, piece.length);
  const edit = new vscode.WorkspaceEdit();
  edit.replace(document.uri, new vscode.Range(start, end), text);
  ok(await vscode.workspace.applyEdit(edit), 'the edit was not applied');
}

export async function lenses(document: vscode.TextDocument): Promise<string[]> {
  const found = await vscode.commands.executeCommand<vscode.CodeLens[]>(
    'vscode.executeCodeLensProvider',
    document.uri,
    100,
  );
  return found.map(({ command }) => command?.title ?? '');
}
