import * as vscode from 'vscode';
import type { Parts } from '../extension.ts';
import type { OverlayPanels } from '../overlay/panels.ts';
import { TrackDocument } from './document.ts';
import { TrackPanel } from './panel.ts';

/** Opens recordings in the viewer. */
export class TrackEditorProvider implements vscode.CustomReadonlyEditorProvider<TrackDocument> {
  static readonly viewType = 'modproof.track';

  static register(parts: Parts, overlays: OverlayPanels): void {
    parts.context.subscriptions.push(
      vscode.window.registerCustomEditorProvider(
        TrackEditorProvider.viewType,
        new TrackEditorProvider(parts, overlays),
        {
          supportsMultipleEditorsPerDocument: true,
        },
      ),
    );
  }

  private constructor(
    private readonly parts: Parts,
    private readonly overlays: OverlayPanels,
  ) {}

  openCustomDocument(uri: vscode.Uri): TrackDocument {
    return new TrackDocument(uri, this.parts.platform);
  }

  resolveCustomEditor(document: TrackDocument, panel: vscode.WebviewPanel): void {
    TrackPanel.show(this.parts, document, panel, {
      overlay: (uri) => void this.overlays.choose([uri]),
    });
  }
}
