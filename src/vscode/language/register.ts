import * as vscode from 'vscode';
import type { Comparisons } from '../comparison/comparisons.ts';
import { specSelector } from '../comparison/spec-file.ts';
import type { Parts } from '../extension.ts';
import { onDisplayUnitsChanged } from '../settings.ts';
import { SpecLenses } from './code-lens.ts';
import { SpecCompletion } from './completion.ts';
import { SpecDiagnostics } from './diagnostics.ts';
import { SpecHover } from './hover.ts';
import { SpecLinks } from './links.ts';
import { SpecNames } from './names.ts';
import { SpecOutline } from './outline.ts';
import { SpecQuickFixes } from './quick-fixes.ts';

/** Help with writing comparison specs, in the text editor. */
export function registerLanguage(parts: Parts, comparisons: Comparisons): SpecDiagnostics {
  const { languages } = vscode;
  const diagnostics = new SpecDiagnostics(parts, comparisons);
  const names = new SpecNames();
  const outline = new SpecOutline();
  const lensesChanged = new vscode.EventEmitter<void>();
  parts.context.subscriptions.push(
    diagnostics,
    lensesChanged,
    comparisons.onDidChange(() => lensesChanged.fire()),
    onDisplayUnitsChanged(() => lensesChanged.fire()),
    languages.registerCodeActionsProvider(specSelector, new SpecQuickFixes(), SpecQuickFixes.metadata),
    languages.registerCompletionItemProvider(specSelector, new SpecCompletion(), ...SpecCompletion.triggers),
    languages.registerHoverProvider(specSelector, new SpecHover(comparisons)),
    languages.registerDefinitionProvider(specSelector, names),
    languages.registerReferenceProvider(specSelector, names),
    languages.registerDocumentHighlightProvider(specSelector, names),
    languages.registerRenameProvider(specSelector, names),
    languages.registerDocumentLinkProvider(specSelector, new SpecLinks()),
    languages.registerDocumentSymbolProvider(specSelector, outline, { label: 'Modproof' }),
    languages.registerFoldingRangeProvider(specSelector, outline),
    languages.registerCodeLensProvider(specSelector, new SpecLenses(comparisons, lensesChanged.event)),
  );
  return diagnostics;
}
