import * as vscode from 'vscode';
import type { Place } from '../../../shared/problem.ts';

/** A place of the engine, counted from 1, as a range of the editor. */
export function rangeOf({ line = 1, column = 1, endLine = line, endColumn = column }: Place): vscode.Range {
  return new vscode.Range(line - 1, column - 1, endLine - 1, endColumn - 1);
}

/** A position of the editor as line and column of the engine. */
export function placeOf(position: vscode.Position): { readonly line: number; readonly column: number } {
  return { line: position.line + 1, column: position.character + 1 };
}
