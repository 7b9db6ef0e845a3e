import * as vscode from 'vscode';
import type { Parts } from '../extension.ts';
import { baseName } from '../paths.ts';
import { chooseTracks } from './choose-tracks.ts';
import { showOverlay } from './panel.ts';

export interface ShownOverlay {
  readonly tracks: readonly vscode.Uri[];
  readonly drawn?: { readonly runs: number; readonly problems: number };
}

/** Windows that lay flights over each other; kept over a reload of the editor. */
export class OverlayPanels implements vscode.WebviewPanelSerializer {
  static readonly viewType = 'modproof.overlay';

  static register(parts: Parts): OverlayPanels {
    const panels = new OverlayPanels(parts);
    parts.context.subscriptions.push(vscode.window.registerWebviewPanelSerializer(OverlayPanels.viewType, panels));
    return panels;
  }

  readonly #shown = new Map<vscode.WebviewPanel, ShownOverlay>();

  private constructor(private readonly parts: Parts) {}

  /** For tests: the overlays that are open, and what their pages drew. */
  shown(): ShownOverlay[] {
    return [...this.#shown.values()];
  }

  #show(panel: vscode.WebviewPanel, tracks: readonly vscode.Uri[]): void {
    this.#shown.set(panel, { tracks });
    panel.onDidDispose(() => this.#shown.delete(panel));
    showOverlay(this.parts, panel, tracks, (drawn) => this.#shown.set(panel, { tracks, drawn }));
  }

  /** Lets the person add to `chosen`, then opens. */
  async choose(chosen: readonly vscode.Uri[]): Promise<void> {
    const tracks = await chooseTracks(chosen);
    if (tracks !== undefined) this.open(tracks);
  }

  open(tracks: readonly vscode.Uri[]): vscode.WebviewPanel {
    const title = tracks.length === 1 ? `Overlay: ${baseName(tracks[0])}` : `Overlay of ${tracks.length} flights`;
    const panel = vscode.window.createWebviewPanel(OverlayPanels.viewType, title, vscode.ViewColumn.Active, {});
    this.#show(panel, tracks);
    return panel;
  }

  deserializeWebviewPanel(panel: vscode.WebviewPanel, state: unknown): Promise<void> {
    const files: unknown =
      typeof state === 'object' && state !== null ? (state as { files?: unknown }).files : undefined;
    const tracks = Array.isArray(files) ? files.filter((file): file is string => typeof file === 'string') : [];
    this.#show(
      panel,
      tracks.map((file) => vscode.Uri.parse(file)),
    );
    return Promise.resolve();
  }
}
