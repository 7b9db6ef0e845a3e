import * as vscode from 'vscode';
import { parseSpec, type ParsedSpec } from '../../engine/spec/index.ts';
import { baseName } from '../paths.ts';
import { isSpecName } from './spec-name.ts';

/** Any language: somebody may have told the editor that these files are something else than YAML. */
export const specSelector: vscode.DocumentSelector = { pattern: '**/*.modproof.{yaml,yml}' };

export { isSpecName as isSpec };

const parsed = new WeakMap<vscode.TextDocument, { readonly version: number; readonly result: ParsedSpec }>();

/** The spec in a document, parsed once for each version of its text. */
export function parsedSpec(document: vscode.TextDocument): ParsedSpec {
  const known = parsed.get(document);
  if (known?.version === document.version) return known.result;
  const result = parseSpec(document.getText(), baseName(document.uri));
  parsed.set(document, { version: document.version, result });
  return result;
}

/** The comparison meant by a command: that given (an Explorer item, an argument), else that of the active editor, else the only one in sight. */
export function specMeant(given: unknown): vscode.Uri | undefined {
  if (given instanceof vscode.Uri) return isSpecName(given) ? given : undefined;
  const active = vscode.window.activeTextEditor?.document.uri;
  if (active !== undefined && isSpecName(active)) return active;
  const input: unknown = vscode.window.tabGroups.activeTabGroup.activeTab?.input;
  if (input instanceof vscode.TabInputText && isSpecName(input.uri)) return input.uri;
  // With the report in front, the comparison beside it is meant.
  const visible = vscode.window.visibleTextEditors.map(({ document }) => document.uri).filter((uri) => isSpecName(uri));
  return visible.length === 1 ? visible[0] : undefined;
}
