import * as vscode from 'vscode';
import type { Parts } from '../extension.ts';
import type { OverlayPanels } from '../overlay/panels.ts';
import { TrackDocument } from './document.ts';
import { TrackPanel } from './panel.ts';
import { TextDiffs } from './text-diff.ts';
import { Viewers } from './viewers.ts';

/** Opens recordings in the viewer. */
export class TrackEditorProvider implements vscode.CustomReadonlyEditorProvider<TrackDocument> {
  /** Ours by default, and on request for files that people also read as text or play: one editor, two rules. */
  static readonly viewType = 'modproof.track';
  static readonly viewTypeOnRequest = 'modproof.trackOnRequest';

  readonly viewers = new Viewers();
  readonly #textDiffs = new TextDiffs();

  static register(parts: Parts, overlays: OverlayPanels): TrackEditorProvider {
    const provider = new TrackEditorProvider(parts, overlays);
    for (const viewType of [TrackEditorProvider.viewType, TrackEditorProvider.viewTypeOnRequest]) {
      parts.context.subscriptions.push(
        vscode.window.registerCustomEditorProvider(viewType, provider, { supportsMultipleEditorsPerDocument: true }),
      );
    }
    return provider;
  }

  private constructor(
    private readonly parts: Parts,
    private readonly overlays: OverlayPanels,
  ) {}

  openCustomDocument(uri: vscode.Uri): TrackDocument {
    return new TrackDocument(uri, this.parts);
  }

  resolveCustomEditor(document: TrackDocument, panel: vscode.WebviewPanel): void {
    const shown = TrackPanel.show(this.parts, document, panel, {
      overlay: (uri) => void this.overlays.choose([uri]),
      changed: (one) => this.viewers.changed(one),
    });
    this.viewers.add(shown);
    void this.#textDiffs.resolved(document.uri, panel);
  }
}
