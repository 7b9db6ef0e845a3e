import * as vscode from 'vscode';
import { registerAddToComparison } from './commands/add-to-comparison.ts';
import { registerOpenCommands } from './commands/open.ts';
import { registerOverlayCommand } from './commands/overlay.ts';
import { type ComparisonsApi, registerComparisons } from './comparison/register.ts';
import { TrackEditorProvider } from './editor/provider.ts';
import type { ShownFlight } from './editor/viewers.ts';
import { OverlayPanels, type ShownOverlay } from './overlay/panels.ts';
import type { Platform } from './platform.ts';

/** What every part of the extension is given. */
export interface Parts {
  readonly context: vscode.ExtensionContext;
  readonly platform: Platform;
  /** Quiet by default; for what goes wrong inside. */
  readonly log: vscode.LogOutputChannel;
}

/** What the extension gives to others, tests first of all. */
export interface ModproofApi {
  /** The viewers that are open. */
  shown(): readonly ShownFlight[];
  /** The overlays that are open, by what their pages drew. */
  overlays(): readonly ShownOverlay[];
  readonly onDidChange: vscode.Event<void>;
  readonly comparisons: ComparisonsApi;
}

/** One line a part: each registers what it contributes and gives it to `context.subscriptions`. */
export function start(context: vscode.ExtensionContext, platform: Platform): ModproofApi {
  const log = vscode.window.createOutputChannel('Modproof', { log: true });
  const parts: Parts = { context, platform, log };
  const overlays = OverlayPanels.register(parts);
  const { viewers } = TrackEditorProvider.register(parts, overlays);
  registerOpenCommands(parts, viewers);
  registerOverlayCommand(parts, overlays);
  registerAddToComparison(parts);
  const comparisons = registerComparisons(parts);
  context.subscriptions.push(log);
  return {
    shown: () => viewers.shown(),
    overlays: () => overlays.shown(),
    onDidChange: viewers.onDidChange,
    comparisons,
  };
}
