import * as vscode from 'vscode';
import { foldsOf, type OutlineItem, outlineOf } from '../../engine/spec/editor/index.ts';
import { rangeOf } from './places.ts';

const kinds: Readonly<Record<OutlineItem['kind'], vscode.SymbolKind>> = {
  section: vscode.SymbolKind.Module,
  configuration: vscode.SymbolKind.Class,
  airfield: vscode.SymbolKind.Namespace,
  runway: vscode.SymbolKind.Field,
  day: vscode.SymbolKind.Event,
  flight: vscode.SymbolKind.File,
  question: vscode.SymbolKind.Constant,
  entry: vscode.SymbolKind.Object,
};

function symbolOf(item: OutlineItem, document: vscode.TextDocument): vscode.DocumentSymbol {
  const selection = document.validateRange(rangeOf(item.at));
  const end = document.lineAt(Math.min(item.endLine, document.lineCount) - 1).range.end;
  const whole = new vscode.Range(selection.start, end.isBefore(selection.end) ? selection.end : end);
  const symbol = new vscode.DocumentSymbol(item.name || '(blank)', item.detail, kinds[item.kind], whole, selection);
  symbol.children = item.children.map((child) => symbolOf(child, document));
  return symbol;
}

export class SpecOutline implements vscode.DocumentSymbolProvider, vscode.FoldingRangeProvider {
  provideDocumentSymbols(document: vscode.TextDocument): vscode.DocumentSymbol[] {
    return outlineOf(document.getText()).map((item) => symbolOf(item, document));
  }

  provideFoldingRanges(document: vscode.TextDocument): vscode.FoldingRange[] {
    return foldsOf(document.getText()).map(
      ({ startLine, endLine, kind }) =>
        new vscode.FoldingRange(
          startLine - 1,
          endLine - 1,
          ...(kind === 'comment' ? [vscode.FoldingRangeKind.Comment] : []),
        ),
    );
  }
}
