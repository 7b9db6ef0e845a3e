import * as vscode from 'vscode';
import { isPattern } from '../../engine/glob.ts';
import { locate } from '../../engine/spec/index.ts';
import { writtenTracks } from '../../engine/spec/editor/index.ts';
import { parsedSpec } from '../comparison/spec-file.ts';
import { resolveBeside } from '../world-vscode.ts';
import { rangeOf } from './places.ts';

/** Tracks and the report of a spec, to be opened with a click. */
export class SpecLinks implements vscode.DocumentLinkProvider {
  provideDocumentLinks(document: vscode.TextDocument): vscode.DocumentLink[] {
    const text = document.getText();
    const links = writtenTracks(text)
      .filter(({ track }) => !isPattern(track) && !track.endsWith('/'))
      .map(({ track, at }) => {
        const link = new vscode.DocumentLink(rangeOf(at), resolveBeside(document.uri, track));
        link.tooltip = 'Open the flight';
        return link;
      });
    const report = parsedSpec(document).spec?.report;
    for (const [key, path] of [
      ['file', report?.file],
      ['insert-into', report?.insertInto],
    ] as const) {
      const place = path === undefined ? undefined : locate(text, ['report', key]);
      if (path === undefined || place === undefined) continue;
      const link = new vscode.DocumentLink(rangeOf(place), resolveBeside(document.uri, path));
      link.tooltip = 'Open the report as text';
      links.push(link);
    }
    return links;
  }
}
