import * as vscode from 'vscode';
import type { EventCorrection } from '../../../shared/protocol.ts';

async function exists(uri: vscode.Uri): Promise<boolean> {
  try {
    await vscode.workspace.fs.stat(uri);
    return true;
  } catch {
    return false;
  }
}

/**
 * Changes the event file beside a recording through the editor, so that it can be undone there, that unsaved changes of
 * the person are kept, and that what is written stays as it is but for the entry meant.
 */
export async function correctEventFile(
  file: vscode.Uri,
  recording: string,
  correction: EventCorrection,
): Promise<void> {
  const { CannotEdit, removeEvent, setEvent } = await import('../later.ts');
  const edit = new vscode.WorkspaceEdit();
  if (!(await exists(file))) {
    if (correction.change === 'remove') return;
    const [begin] = setEvent('', correction.override, recording);
    edit.createFile(file, { contents: new TextEncoder().encode(begin.text), overwrite: false, ignoreIfExists: false });
    if (!(await vscode.workspace.applyEdit(edit)))
      throw new Error(`${vscode.workspace.asRelativePath(file)} could not be written.`);
    return;
  }
  const document = await vscode.workspace.openTextDocument(file);
  const text = document.getText();
  try {
    const edits =
      correction.change === 'remove' ? removeEvent(text, correction) : setEvent(text, correction.override, recording);
    for (const { start, end, text: replacement } of edits) {
      edit.replace(file, new vscode.Range(document.positionAt(start), document.positionAt(end)), replacement);
    }
  } catch (error) {
    if (!(error instanceof CannotEdit)) throw error;
    await vscode.window.showTextDocument(document, { viewColumn: vscode.ViewColumn.Beside, preview: true });
    throw new Error(`${error.message} It was opened beside: change it there.`, { cause: error });
  }
  if (edit.size === 0) return;
  if (!(await vscode.workspace.applyEdit(edit)) || !(await document.save())) {
    throw new Error(`${vscode.workspace.asRelativePath(file)} could not be written.`);
  }
}
