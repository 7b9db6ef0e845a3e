import * as vscode from 'vscode';
import { registerOpenCommands } from './commands/open.ts';
import { registerOverlayCommand } from './commands/overlay.ts';
import { TrackEditorProvider } from './editor/provider.ts';
import { OverlayPanels } from './overlay/panels.ts';
import type { Platform } from './platform.ts';

/** What every part of the extension is given. */
export interface Parts {
  readonly context: vscode.ExtensionContext;
  readonly platform: Platform;
  /** Quiet by default; for what goes wrong inside. */
  readonly log: vscode.LogOutputChannel;
}

/** One line a part: each registers what it contributes and gives it to `context.subscriptions`. */
export function start(context: vscode.ExtensionContext, platform: Platform): void {
  const log = vscode.window.createOutputChannel('Modproof', { log: true });
  const parts: Parts = { context, platform, log };
  const overlays = OverlayPanels.register(parts);
  TrackEditorProvider.register(parts, overlays);
  registerOpenCommands(parts);
  registerOverlayCommand(parts, overlays);
  context.subscriptions.push(log);
}
