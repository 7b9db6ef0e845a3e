import * as vscode from 'vscode';
import { quickFixes } from '../../engine/spec/editor/index.ts';
import { diagnosticSource } from './diagnostics.ts';
import { rangeOf } from './places.ts';
import { recordingsNear } from './track-check.ts';

export class SpecQuickFixes implements vscode.CodeActionProvider {
  static readonly metadata = { providedCodeActionKinds: [vscode.CodeActionKind.QuickFix] };

  async provideCodeActions(
    document: vscode.TextDocument,
    _range: vscode.Range,
    context: vscode.CodeActionContext,
  ): Promise<vscode.CodeAction[]> {
    const ours = context.diagnostics.filter(({ source }) => source === diagnosticSource);
    const existing = ours.some(({ code }) => code === 'track-not-found') ? await recordingsNear(document.uri) : [];
    return ours.flatMap((diagnostic) => {
      const { range, message, code } = diagnostic;
      const at = {
        line: range.start.line + 1,
        column: range.start.character + 1,
        endLine: range.end.line + 1,
        endColumn: range.end.character + 1,
      };
      const problem = { code: typeof code === 'string' ? code : '', severity: 'error' as const, message, at };
      return quickFixes(document.getText(), problem, existing).map(({ title, edits, preferred }) => {
        const action = new vscode.CodeAction(title, vscode.CodeActionKind.QuickFix);
        action.edit = new vscode.WorkspaceEdit();
        for (const { at, text } of edits) action.edit.replace(document.uri, rangeOf(at), text);
        action.diagnostics = [diagnostic];
        action.isPreferred = preferred;
        return action;
      });
    });
  }
}
