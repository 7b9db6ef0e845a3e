import * as vscode from 'vscode';
import type { TimeSpan } from '../editor/panel.ts';
import { TrackEditorProvider } from '../editor/provider.ts';
import type { Viewers } from '../editor/viewers.ts';
import type { Parts } from '../extension.ts';
import { looksLikeRecording, recordingEndings } from '../overlay/choose-tracks.ts';

/** The recording in the active tab, whether shown by our viewer or as text. */
export function activeRecording(): vscode.Uri | undefined {
  const input: unknown = vscode.window.tabGroups.activeTabGroup.activeTab?.input;
  if (input instanceof vscode.TabInputCustom && input.viewType.startsWith(TrackEditorProvider.viewType))
    return input.uri;
  const uri = input instanceof vscode.TabInputText || input instanceof vscode.TabInputCustom ? input.uri : undefined;
  return uri !== undefined && looksLikeRecording(uri) ? uri : undefined;
}

function isTimeSpan(value: unknown): value is TimeSpan {
  const span = value as Partial<TimeSpan> | undefined;
  return typeof span === 'object' && typeof span?.startS === 'number' && typeof span.endS === 'number';
}

async function askForRecording(): Promise<vscode.Uri | undefined> {
  const picked = await vscode.window.showOpenDialog({
    title: 'Open as Flight',
    filters: { Recordings: [...recordingEndings], 'All files': ['*'] },
  });
  return picked?.[0];
}

/** Into the viewer (with a second argument at a span of Unix times), and back to the text. */
export function registerOpenCommands({ context }: Parts, viewers: Viewers): void {
  context.subscriptions.push(
    vscode.commands.registerCommand('modproof.openAsFlight', async (clicked?: unknown, span?: unknown) => {
      const uri = clicked instanceof vscode.Uri ? clicked : (activeRecording() ?? (await askForRecording()));
      if (uri === undefined) return;
      if (isTimeSpan(span)) viewers.show(uri, span);
      await vscode.commands.executeCommand('vscode.openWith', uri, TrackEditorProvider.viewType);
    }),
    vscode.commands.registerCommand('modproof.openAsText', async (clicked?: unknown) => {
      const uri = clicked instanceof vscode.Uri ? clicked : activeRecording();
      if (uri !== undefined) await vscode.commands.executeCommand('vscode.openWith', uri, 'default');
    }),
  );
}
