import * as vscode from 'vscode';
import { registerOpenCommands } from './commands/open.ts';
import { registerOverlayCommand } from './commands/overlay.ts';
import type { ComparisonsApi } from './comparison/register.ts';
import { TrackEditorProvider } from './editor/provider.ts';
import type { ShownFlight } from './editor/viewers.ts';
import { OverlayPanels, type ShownOverlay } from './overlay/panels.ts';
import { standInFor } from './placeholders.ts';
import type { Platform } from './platform.ts';
import { ChosenWork } from './reading/choose-work.ts';

/** What every part of the extension is given. */
export interface Parts {
  readonly context: vscode.ExtensionContext;
  readonly platform: Platform;
  /** Where recordings are read and analysed. */
  readonly work: ChosenWork;
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
  /** Whether recordings are read in threads of their own; undefined while none was read. */
  readonly inThreads: boolean | undefined;
  /** There once `ready` is. */
  readonly comparisons: ComparisonsApi;
  /** Everything is loaded and registered; viewers and their commands are so at once. */
  readonly ready: Promise<void>;
}

/** Commands of the parts that come later: all that are contributed but those registered at once. */
function commandsOfLater(context: vscode.ExtensionContext, atOnce: readonly string[]): string[] {
  const manifest = context.extension.packageJSON as { contributes?: { commands?: { command: string }[] } };
  const contributed = manifest.contributes?.commands?.map(({ command }) => command) ?? [];
  return contributed.filter((command) => !atOnce.includes(command));
}

/**
 * One line a part: each registers what it contributes and gives it to `context.subscriptions`. What opens recordings is
 * there at once; what stands on the engine is loaded when that is done, without anybody waiting for it.
 */
export function start(context: vscode.ExtensionContext, platform: Platform): ModproofApi {
  const log = vscode.window.createOutputChannel('Modproof', { log: true });
  context.subscriptions.push(log);
  const work = new ChosenWork(
    platform.threads,
    async () => (await import('./later.ts')).flightsHere,
    (error) => log.warn(`Recordings are read in the editor's own thread: ${String(error)}`),
  );
  context.subscriptions.push(work);
  const parts: Parts = { context, platform, work, log };
  const overlays = OverlayPanels.register(parts);
  const { viewers } = TrackEditorProvider.register(parts, overlays);
  registerOpenCommands(parts, viewers);
  registerOverlayCommand(parts, overlays);

  let comparisons: ComparisonsApi | undefined;
  const atOnce = ['modproof.openAsFlight', 'modproof.openAsText', 'modproof.overlayFlights'];
  const loadLater = async (): Promise<void> => {
    // After the turn in which the editor waits for the activation.
    await new Promise((resolve) => setTimeout(resolve, 0));
    const later = await import('./later.ts');
    removeStandIns();
    later.registerAddToComparison(parts);
    later.registerAddRecording(parts);
    comparisons = later.registerComparisons(parts);
  };
  const ready = loadLater();
  const removeStandIns = standInFor(commandsOfLater(context, atOnce), ready);
  ready.catch((error: unknown) => log.error(error instanceof Error ? error : String(error)));
  return {
    shown: () => viewers.shown(),
    overlays: () => overlays.shown(),
    onDidChange: viewers.onDidChange,
    get inThreads() {
      return work.inThreads;
    },
    get comparisons() {
      if (comparisons === undefined) throw new Error('comparisons are still being loaded: await `ready`');
      return comparisons;
    },
    ready,
  };
}
