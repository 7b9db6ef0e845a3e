import * as vscode from 'vscode';
import { nameAt, renameRefusal, renameThing } from '../../engine/spec/editor/index.ts';
import { placeOf, rangeOf } from './places.ts';

/** Go to definition, references, highlights and rename for what a spec gives names to. */
export class SpecNames
  implements
    vscode.DefinitionProvider,
    vscode.ReferenceProvider,
    vscode.RenameProvider,
    vscode.DocumentHighlightProvider
{
  provideDefinition(document: vscode.TextDocument, position: vscode.Position): vscode.LocationLink[] {
    const thing = this.#at(document, position);
    return (thing?.definitions ?? []).map((at) => ({
      originSelectionRange: thing && rangeOf(thing.at),
      targetUri: document.uri,
      targetRange: rangeOf(at),
    }));
  }

  provideReferences(
    document: vscode.TextDocument,
    position: vscode.Position,
    { includeDeclaration }: vscode.ReferenceContext,
  ): vscode.Location[] {
    const thing = this.#at(document, position);
    if (thing === undefined) return [];
    const places = includeDeclaration ? [...thing.definitions, ...thing.uses] : thing.uses;
    return places.map((at) => new vscode.Location(document.uri, rangeOf(at)));
  }

  provideDocumentHighlights(document: vscode.TextDocument, position: vscode.Position): vscode.DocumentHighlight[] {
    const thing = this.#at(document, position);
    if (thing === undefined) return [];
    return [
      ...thing.definitions.map((at) => new vscode.DocumentHighlight(rangeOf(at), vscode.DocumentHighlightKind.Write)),
      ...thing.uses.map((at) => new vscode.DocumentHighlight(rangeOf(at), vscode.DocumentHighlightKind.Read)),
    ];
  }

  prepareRename(
    document: vscode.TextDocument,
    position: vscode.Position,
  ): { readonly range: vscode.Range; readonly placeholder: string } {
    const thing = this.#at(document, position);
    if (thing === undefined) throw new Error('Configurations, airfields, runways, days and stations can be renamed.');
    const refusal = renameRefusal(thing);
    if (refusal !== undefined) throw new Error(refusal);
    return { range: rangeOf(thing.at), placeholder: thing.name };
  }

  provideRenameEdits(
    document: vscode.TextDocument,
    position: vscode.Position,
    newName: string,
  ): vscode.WorkspaceEdit | undefined {
    const thing = this.#at(document, position);
    if (thing === undefined) return undefined;
    const renamed = renameThing(document.getText(), thing, newName);
    if (typeof renamed === 'string') throw new Error(renamed);
    const edit = new vscode.WorkspaceEdit();
    for (const { at, text } of renamed.edits) edit.replace(document.uri, rangeOf(at), text);
    return edit;
  }

  #at(document: vscode.TextDocument, position: vscode.Position): ReturnType<typeof nameAt> {
    const { line, column } = placeOf(position);
    return nameAt(document.getText(), line, column);
  }
}
