import * as vscode from 'vscode';
import { snippetsAt } from '../../engine/spec/editor/index.ts';
import { positionAt, suggestAt, type Suggestion, yamlText } from '../../engine/spec/index.ts';
import { placeOf } from './places.ts';
import { recordingsNear } from './track-check.ts';
import { yamlToolKnowsSchema } from './yaml-tool.ts';

const kinds: Readonly<Record<Suggestion['kind'], vscode.CompletionItemKind>> = {
  key: vscode.CompletionItemKind.Property,
  word: vscode.CompletionItemKind.EnumMember,
  name: vscode.CompletionItemKind.Reference,
  unit: vscode.CompletionItemKind.Unit,
};

/** Keys whose value is a recording. */
const trackKeys: ReadonlySet<string> = new Set(['track', 'continued-in', 'also-recorded-by']);

/** Keys, words, names of the file, units, tracks and ready-made blocks. */
export class SpecCompletion implements vscode.CompletionItemProvider {
  static readonly triggers = [':', ' ', '/', '-'];

  async provideCompletionItems(
    document: vscode.TextDocument,
    position: vscode.Position,
  ): Promise<vscode.CompletionItem[]> {
    const text = document.getText();
    const { line, column } = placeOf(position);
    const where = positionAt(text, line, column);
    if (
      /#/.test(
        document
          .lineAt(position.line)
          .text.slice(0, position.character)
          .replace(/(["']).*?\1/g, ''),
      )
    )
      return [];
    const inFlights = where.block[0] === 'flights';
    if (where.inValue && trackKeys.has(where.key ?? '') && inFlights) {
      return (await recordingsNear(document.uri)).map((path, index) => {
        const item = new vscode.CompletionItem(path, vscode.CompletionItemKind.File);
        item.insertText = yamlText(path);
        item.sortText = String(index).padStart(4, '0');
        return this.#placed(item, position.line, where.from, where.to);
      });
    }
    const suggestions = suggestAt(text, line, column).filter(({ kind }) => kind !== 'key' || !yamlToolKnowsSchema());
    const items = suggestions.map((suggestion, index) => {
      const { label, insert, doc, kind, from, to } = suggestion;
      const item = new vscode.CompletionItem(label, kinds[kind]);
      // Right behind the colon YAML wants a blank.
      const glued = kind !== 'key' && document.lineAt(position.line).text[from - 2] === ':';
      item.insertText = glued ? ` ${insert}` : insert;
      item.documentation = doc;
      item.sortText = String(index).padStart(4, '0');
      if (kind === 'key' && insert.endsWith(': '))
        item.command = { command: 'editor.action.triggerSuggest', title: '' };
      return this.#placed(item, position.line, from, to);
    });
    const snippets = snippetsAt(text, line, column).map(({ label, body, doc, from, to }) => {
      const item = new vscode.CompletionItem({ label, description: 'ready-made' }, vscode.CompletionItemKind.Snippet);
      item.insertText = new vscode.SnippetString(body);
      item.documentation = doc;
      item.sortText = `z${label}`;
      return this.#placed(item, position.line, from, to);
    });
    return [...items, ...snippets];
  }

  #placed(item: vscode.CompletionItem, line: number, from: number, to: number): vscode.CompletionItem {
    item.range = new vscode.Range(line, from - 1, line, to - 1);
    return item;
  }
}
