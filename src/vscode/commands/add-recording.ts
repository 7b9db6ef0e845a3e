import * as vscode from 'vscode';
import {
  addFurther,
  eventFileName,
  type FurtherKey,
  parseFurther,
  type RecordingToName,
} from '../../engine/event-file/index.ts';
import { readRecording } from '../../engine/readers/index.ts';
import { asOneFlight, joinFlight, type ReadFile } from '../../engine/recordings/index.ts';
import { CannotEdit } from '../../engine/yaml-text/index.ts';
import type { Parts } from '../extension.ts';
import { recordingEndings } from '../overlay/choose-tracks.ts';
import { baseName, folderOf } from '../paths.ts';
import type { Platform } from '../platform.ts';
import { editorWorld, relativeTo } from '../world-vscode.ts';
import { textIfPresent } from '../write-file.ts';
import { activeRecording } from './open.ts';

/** What is to be written of one file, and why it may not fit. */
interface Found extends RecordingToName {
  readonly key: FurtherKey;
  /** Why it could not be joined; absent when it could. */
  readonly why?: string;
}

/** Reads the recording and the others, and tells what each is to the first. */
async function look(
  recording: vscode.Uri,
  others: readonly vscode.Uri[],
  platform: Platform,
  signal: AbortSignal,
  onFile: (name: string) => void,
): Promise<Found[]> {
  const world = editorWorld(recording, platform);
  const read = async (uri: vscode.Uri): Promise<ReadFile> => {
    const file = relativeTo(recording, uri);
    onFile(baseName(uri));
    try {
      const { track, format, problems } = await readRecording(await world.open(file), {
        signal,
        withoutPositions: uri !== recording,
      });
      const why = problems.find(({ severity }) => severity === 'error')?.message ?? 'It holds no usable track.';
      return { file, ...(format && { format }), ...(track ? { track } : { why }) };
    } catch (error) {
      signal.throwIfAborted();
      return { file, why: error instanceof Error ? error.message : String(error) };
    }
  };
  try {
    const files: ReadFile[] = [];
    for (const uri of [recording, ...others]) files.push(await read(uri));
    const { first, others: recorders } = asOneFlight(files);
    const { parts } = joinFlight(first, recorders);
    return parts
      .filter(({ role }) => role === 'continuation' || role === 'second-recorder')
      .map(({ file, role, joined, remarks }) => {
        const continuedIn = parts.filter((part) => part.continues === file).map((part) => part.file);
        return {
          file,
          ...(role === 'continuation' ? { key: 'continued-in' } : { key: 'also-recorded-by', continuedIn }),
          ...(joined ? {} : { why: remarks.join(' ') }),
        };
      });
  } finally {
    await world.close();
  }
}

/** Names them in the event file, through the editor, so that it can be undone and nothing that a person wrote is lost. */
async function write(recording: vscode.Uri, found: readonly Found[]): Promise<void> {
  const name = baseName(recording);
  const file = recording.with({ path: eventFileName(recording.path) });
  for (const { key, ...other } of found) {
    const saved = await textIfPresent(file);
    const edit = new vscode.WorkspaceEdit();
    if (saved === undefined) {
      const text = addFurther('', key, other, name).map((one) => one.text);
      edit.createFile(file, { contents: new TextEncoder().encode(text.join('')), overwrite: false });
      if (!(await vscode.workspace.applyEdit(edit))) throw new Error(`${baseName(file)} could not be written.`);
      continue;
    }
    const document = await vscode.workspace.openTextDocument(file);
    try {
      for (const { start, end, text } of addFurther(document.getText(), key, other, name))
        edit.replace(file, new vscode.Range(document.positionAt(start), document.positionAt(end)), text);
    } catch (error) {
      if (!(error instanceof CannotEdit)) throw error;
      await vscode.window.showTextDocument(document, { viewColumn: vscode.ViewColumn.Beside, preview: true });
      throw new Error(`${error.message} It was opened beside: change it there.`, { cause: error });
    }
    if (edit.size === 0) continue;
    if (!(await vscode.workspace.applyEdit(edit)) || !(await document.save()))
      throw new Error(`${baseName(file)} could not be written.`);
  }
}

/** Arguments for tests and other callers: what would otherwise be asked for. */
interface Chosen {
  /** Add what could not be joined, too. */
  readonly anyway?: boolean;
}

async function add(parts: Parts, recording: vscode.Uri, given: readonly vscode.Uri[], chosen: Chosen): Promise<void> {
  const name = baseName(recording);
  const others =
    given.length > 0
      ? given
      : ((await vscode.window.showOpenDialog({
          title: `Another Recording of the Flight of ${name}`,
          openLabel: 'Add to Flight',
          canSelectMany: true,
          defaultUri: folderOf(recording),
          filters: { Recordings: [...recordingEndings], 'All files': ['*'] },
        })) ?? []);
  const stop = new AbortController();
  const wanted = others.filter((uri) => uri.toString() !== recording.toString());
  if (wanted.length === 0) return;
  const faults = parseFurther(
    (await textIfPresent(recording.with({ path: eventFileName(recording.path) }))) ?? '',
    name,
  );
  if (faults.problems.length > 0) throw new Error(`${eventFileName(name)}: ${faults.problems[0].message}`);
  const found = await vscode.window.withProgress(
    { location: vscode.ProgressLocation.Notification, title: 'Reading the recordings', cancellable: true },
    (progress, token) => {
      token.onCancellationRequested(() => stop.abort(new Error('cancelled')));
      return look(recording, wanted, parts.platform, stop.signal, (message) => progress.report({ message }));
    },
  );
  const apart = found.filter(({ why }) => why !== undefined);
  const anyway = 'Add All the Same';
  if (apart.length > 0 && chosen.anyway === undefined) {
    const answer = await vscode.window.showWarningMessage(
      `${apart.map(({ file }) => file).join(', ')} cannot be joined to ${name}.`,
      {
        modal: true,
        detail: `${apart.map(({ file, why }) => `${file}: ${why}`).join('\n')}\n\nIf you know the offset of its clock, add it and write "clock-offset" beside it in ${eventFileName(name)}.`,
      },
      anyway,
    );
    if (answer !== anyway) return;
  }
  await write(recording, chosen.anyway === false ? found.filter(({ why }) => why === undefined) : found);
}

/**
 * Names further recordings of a flight in the event file beside its first one; the viewer and every comparison then show and
 * use the flight joined from all of them.
 */
export function registerAddRecording(parts: Parts): void {
  parts.context.subscriptions.push(
    vscode.commands.registerCommand(
      'modproof.addRecording',
      async (clicked?: unknown, others?: unknown, chosen?: unknown) => {
        const recording = clicked instanceof vscode.Uri ? clicked : activeRecording();
        if (recording === undefined) {
          void vscode.window.showInformationMessage('Open or click a recording first.');
          return;
        }
        const given = (Array.isArray(others) ? others : []).filter(
          (one): one is vscode.Uri => one instanceof vscode.Uri,
        );
        try {
          await add(
            parts,
            recording,
            given.filter((uri) => uri.toString() !== recording.toString()),
            chosen ?? {},
          );
        } catch (error) {
          void vscode.window.showErrorMessage(error instanceof Error ? error.message : String(error));
        }
      },
    ),
  );
}
