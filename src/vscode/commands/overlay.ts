import * as vscode from 'vscode';
import type { OverlayTrack } from '../../../shared/protocol.ts';
import { isSpecName } from '../comparison/spec-name.ts';
import type { Parts } from '../extension.ts';
import { looksLikeRecording } from '../overlay/choose-tracks.ts';
import type { OverlayPanels } from '../overlay/panels.ts';
import { activeRecording } from './open.ts';

/** The comparison in the active tab. */
function activeSpec(): vscode.Uri | undefined {
  const uri = vscode.window.activeTextEditor?.document.uri;
  return uri !== undefined && isSpecName(uri) ? uri : undefined;
}

async function overlayOfSpec(spec: vscode.Uri, { platform }: Parts, overlays: OverlayPanels): Promise<void> {
  const { tracksOfSpec } = await import('../later.ts');
  const tracks: OverlayTrack[] = await tracksOfSpec(spec, platform);
  if (tracks.length > 0) overlays.open(tracks);
  else void vscode.window.showInformationMessage('This comparison names no recording yet.');
}

/**
 * From the Explorer with the files marked there, or with a comparison: its flights by configuration; from the palette with
 * what is in the active tab, and more recordings to tick.
 */
export function registerOverlayCommand(parts: Parts, overlays: OverlayPanels): void {
  parts.context.subscriptions.push(
    vscode.commands.registerCommand('modproof.overlayFlights', async (clicked?: unknown, marked?: unknown) => {
      const given = (Array.isArray(marked) && marked.length > 0 ? marked : [clicked]).filter(
        (one): one is vscode.Uri => one instanceof vscode.Uri,
      );
      const spec = given.find(isSpecName) ?? (given.length === 0 ? activeSpec() : undefined);
      if (spec !== undefined) {
        await overlayOfSpec(spec, parts, overlays);
        return;
      }
      const tracks = given.filter(looksLikeRecording);
      if (tracks.length > 1) {
        overlays.open(tracks.map((uri) => ({ file: uri.toString() })));
        return;
      }
      const active = tracks[0] ?? activeRecording();
      await overlays.choose(active === undefined ? [] : [active]);
    }),
  );
}
