import * as vscode from 'vscode';
import type { Parts } from '../extension.ts';
import { looksLikeRecording } from '../overlay/choose-tracks.ts';
import type { OverlayPanels } from '../overlay/panels.ts';
import { activeRecording } from './open.ts';

/** From the Explorer with the files marked there; from the palette with the recording shown, and more to tick. */
export function registerOverlayCommand({ context }: Parts, overlays: OverlayPanels): void {
  context.subscriptions.push(
    vscode.commands.registerCommand('modproof.overlayFlights', async (clicked?: unknown, marked?: unknown) => {
      const given = (Array.isArray(marked) && marked.length > 0 ? marked : [clicked]).filter(
        (one): one is vscode.Uri => one instanceof vscode.Uri,
      );
      const tracks = given.filter(looksLikeRecording);
      if (tracks.length > 1) {
        overlays.open(tracks);
        return;
      }
      const active = tracks[0] ?? activeRecording();
      await overlays.choose(active === undefined ? [] : [active]);
    }),
  );
}
