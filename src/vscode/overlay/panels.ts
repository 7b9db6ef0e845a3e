import * as vscode from 'vscode';
import type { OverlayTrack } from '../../../shared/protocol.ts';
import type { Parts } from '../extension.ts';
import { baseName } from '../paths.ts';
import { chooseTracks } from './choose-tracks.ts';
import { showOverlay } from './panel.ts';

export interface ShownOverlay {
  readonly tracks: readonly OverlayTrack[];
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

  #show(panel: vscode.WebviewPanel, tracks: readonly OverlayTrack[]): void {
    this.#shown.set(panel, { tracks });
    panel.onDidDispose(() => this.#shown.delete(panel));
    showOverlay(this.parts, panel, tracks, (drawn) => this.#shown.set(panel, { tracks, drawn }));
  }

  /** Lets the person add to `chosen`, then opens. */
  async choose(chosen: readonly vscode.Uri[]): Promise<void> {
    const tracks = await chooseTracks(chosen);
    if (tracks !== undefined) this.open(tracks.map((uri) => ({ file: uri.toString() })));
  }

  open(tracks: readonly OverlayTrack[]): vscode.WebviewPanel {
    const title =
      tracks.length === 1
        ? `Overlay: ${baseName(vscode.Uri.parse(tracks[0].file))}`
        : `Overlay of ${tracks.length} flights`;
    const panel = vscode.window.createWebviewPanel(OverlayPanels.viewType, title, vscode.ViewColumn.Active, {});
    this.#show(panel, tracks);
    return panel;
  }

  deserializeWebviewPanel(panel: vscode.WebviewPanel, state: unknown): Promise<void> {
    this.#show(panel, tracksIn(state));
    return Promise.resolve();
  }
}

/** What the page kept: it may come from another version, or be damaged. */
function tracksIn(state: unknown): OverlayTrack[] {
  const kept: unknown =
    typeof state === 'object' && state !== null ? (state as { tracks?: unknown }).tracks : undefined;
  if (!Array.isArray(kept)) return [];
  return kept.flatMap((one: unknown) => {
    const { file, configuration } = (typeof one === 'object' && one !== null ? one : {}) as Partial<OverlayTrack>;
    if (typeof file !== 'string') return [];
    return [{ file, ...(typeof configuration === 'string' ? { configuration } : {}) }];
  });
}
