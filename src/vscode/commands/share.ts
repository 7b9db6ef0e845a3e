import * as vscode from 'vscode';
import { formatCount } from '../../../shared/format.ts';
import { findTracks, hashOf } from '../../engine/evaluate/index.ts';
import { type FlightToRead, readFlight } from '../../engine/recordings/index.ts';
import {
  readRadius,
  type RecordingToShare,
  secretOf,
  seedOf,
  type Shared,
  shareChoices,
  shareRecordings,
  type ShareOptions,
  whatRemains,
} from '../../engine/share/index.ts';
import type { ShareSettings } from '../../engine/spec/index.ts';
import { engineParts } from '../comparison/comparisons.ts';
import { isSpec, parsedSpec } from '../comparison/spec-file.ts';
import type { Parts } from '../extension.ts';
import { looksLikeRecording } from '../overlay/choose-tracks.ts';
import { baseName, folderOf } from '../paths.ts';
import { editorWorld, resolveBeside } from '../world-vscode.ts';
import { freeName, writeAtomically } from '../write-file.ts';
import { activeRecording } from './open.ts';

interface Asked {
  /** Where tracks are relative to: a spec, or a recording. */
  readonly from: vscode.Uri;
  readonly flights: readonly FlightToRead[];
  /** What a spec says of sharing. */
  readonly settings?: ShareSettings;
}

async function askedFor(given: readonly vscode.Uri[], parts: Parts): Promise<Asked | undefined> {
  const edited = vscode.window.activeTextEditor?.document.uri;
  const spec =
    given.find(isSpec) ?? (given.length === 0 && edited !== undefined && isSpec(edited) ? edited : undefined);
  if (spec !== undefined) {
    const parsed = parsedSpec(await vscode.workspace.openTextDocument(spec));
    if (parsed.spec === undefined) {
      void vscode.window.showErrorMessage(`${baseName(spec)} has errors: nothing was written.`);
      return undefined;
    }
    const world = editorWorld(spec, parts.platform);
    try {
      const { entries } = await findTracks(parsed.spec.flights, world, spec.path);
      // A flight in several recordings is given away as one, with the channels of all of them.
      const flights = entries.map(
        ({ track, csv, date, further }): FlightToRead => ({
          file: track,
          ...(csv && { csv }),
          ...(date && { date }),
          ...(further && { further }),
        }),
      );
      return { from: spec, flights, settings: parsed.spec.share ?? {} };
    } finally {
      await world.close();
    }
  }
  const active = given.length === 0 ? activeRecording() : undefined;
  const recordings = [...given.filter(looksLikeRecording), ...(active === undefined ? [] : [active])];
  if (recordings.length === 0) {
    void vscode.window.showInformationMessage(
      'Mark recordings in the Explorer, or open one, to write copies without their places.',
    );
    return undefined;
  }
  const world = editorWorld(recordings[0], parts.platform);
  return { from: recordings[0], flights: recordings.map((uri) => ({ file: world.relative(uri) })) };
}

async function askForRadius(): Promise<number | undefined> {
  const wrong = (text: string): string | undefined => {
    const read = readRadius(text);
    return typeof read === 'string' ? read : undefined;
  };
  const written = await vscode.window.showInputBox({
    title: 'Share Without Places (2/3): Radius',
    prompt:
      'What lies within it around the beginning and end of each flight is left out. Wide enough to hold several fields.',
    value: '10 km',
    validateInput: wrong,
  });
  if (written === undefined) return undefined;
  const read = readRadius(written);
  return typeof read === 'string' ? undefined : read;
}

/** What a person chooses step by step; undefined when they thought better of it. */
async function askHow(): Promise<ShareSettings | undefined> {
  const places = await vscode.window.showQuickPick(
    [
      {
        label: 'Move the whole flight',
        detail: 'To an ocean: distances, directions and speeds stay, and the copy measures the same',
        places: 'moved' as const,
      },
      {
        label: 'Cut the fields out',
        detail: 'Positions stay real; what lies around beginning and end is left out, with take-off and landing',
        places: 'cut' as const,
      },
    ],
    { title: 'Share Without Places (1/3)', placeHolder: 'How the places go out of the copies' },
  );
  if (places === undefined) return undefined;
  const radiusM = places.places === 'cut' ? await askForRadius() : undefined;
  if (places.places === 'cut' && radiusM === undefined) return undefined;
  const more = await vscode.window.showQuickPick(
    [
      {
        label: 'Heights above the field',
        detail: 'An elevation tells a field; density altitude is lost',
        key: 'heights',
      },
      { label: 'Move the dates', detail: 'By whole days, the first flight to 2010-01-01', key: 'dates' },
    ],
    { title: 'Share Without Places (3/3)', placeHolder: 'What else to hide', canPickMany: true },
  );
  if (more === undefined) return undefined;
  const chosen = new Set(more.map(({ key }) => key));
  return {
    places: places.places,
    ...(radiusM === undefined ? {} : { radiusM }),
    heights: chosen.has('heights') ? 'relative' : 'kept',
    dates: chosen.has('dates') ? 'moved' : 'kept',
  };
}

interface Read {
  readonly recordings: readonly RecordingToShare[];
  readonly hashes: readonly string[];
  readonly unread: readonly string[];
}

async function readAll({ from, flights }: Asked, parts: Parts): Promise<Read | undefined> {
  const world = editorWorld(from, parts.platform);
  const stop = new AbortController();
  const recordings: RecordingToShare[] = [];
  const hashes: string[] = [];
  const unread: string[] = [];
  try {
    await vscode.window.withProgress(
      { location: vscode.ProgressLocation.Notification, title: 'Reading the flights', cancellable: true },
      async (progress, token) => {
        token.onCancellationRequested(() => stop.abort(new Error('cancelled')));
        for (const flight of flights) {
          const { file } = flight;
          stop.signal.throwIfAborted();
          progress.report({ message: file.split('/').pop() });
          try {
            const source = await world.open(file);
            const { sha256 } = await hashOf(source);
            const { track } = await readFlight(flight, undefined, engineParts.readRecording, world, {
              signal: stop.signal,
            });
            if (track === undefined) unread.push(file);
            else {
              recordings.push({ file, track });
              hashes.push(sha256);
            }
          } catch {
            stop.signal.throwIfAborted();
            unread.push(file);
          }
          progress.report({ increment: 100 / flights.length });
        }
      },
    );
    return { recordings, hashes, unread };
  } catch (error) {
    if (stop.signal.aborted) return undefined;
    throw error;
  } finally {
    await world.close();
  }
}

/** A folder of its own for each sharing: nothing that is there is touched. */
async function freeFolder(asked: Asked): Promise<vscode.Uri> {
  const wanted = asked.settings?.folder ?? 'shared';
  const target = resolveBeside(asked.from, wanted.replace(/[\\/]+$/, ''));
  if (!vscode.workspace.isTrusted && vscode.workspace.getWorkspaceFolder(target) === undefined) {
    throw new Error(
      `The copies would be written outside this folder, to ${target.path}, which is not done in Restricted Mode.`,
    );
  }
  return freeName(folderOf(target), baseName(target), '');
}

/** What was written of what, and what a reader can still find, for the person alone. */
function account(shared: Shared, read: Read, how: Omit<ShareOptions, 'seed'>, secret: string): string {
  const lines = ['# Copies without places', '', 'For yourself: this page names the originals.', ''];
  for (const { of, name, remarks } of shared.copies)
    lines.push(`- \`${name}\` of \`${of}\`. ${remarks.join(' ')}`.trim());
  for (const { of, reason } of shared.refused) lines.push(`- \`${of}\` was not shared. ${reason}`);
  for (const file of read.unread) lines.push(`- \`${file}\` could not be read.`);
  lines.push(
    '',
    '## What a determined reader can still find',
    '',
    ...whatRemains(how).map((sentence) => `- ${sentence}`),
  );
  if (how.places === 'cut') {
    lines.push(
      '',
      `To cut the same circles again, write \`secret: ${secret}\` under \`share:\` in a comparison. Keep it to yourself.`,
    );
  }
  return `${lines.join('\n')}\n`;
}

async function share(
  parts: Parts,
  clicked: unknown,
  marked: unknown,
  options: unknown,
): Promise<vscode.Uri[] | undefined> {
  const given = (Array.isArray(marked) && marked.length > 0 ? marked : [clicked]).filter(
    (one): one is vscode.Uri => one instanceof vscode.Uri,
  );
  const asked = await askedFor(given, parts);
  if (asked === undefined) return undefined;
  const stated = asked.settings !== undefined && Object.keys(asked.settings).length > 0 ? asked.settings : undefined;
  const settings = (options as ShareSettings | undefined) ?? stated ?? (await askHow());
  if (settings === undefined) return undefined;
  const read = await readAll(asked, parts);
  if (read === undefined) return undefined;
  if (read.recordings.length === 0) {
    void vscode.window.showErrorMessage('None of these could be read as a recording: nothing was written.');
    return undefined;
  }
  const how = shareChoices(settings);
  const secret = settings.secret ?? (await secretOf(read.hashes));
  const shared = shareRecordings(read.recordings, { ...how, seed: await seedOf(secret) });
  const folder = await freeFolder(asked);
  const written: vscode.Uri[] = [];
  for (const { name, text } of shared.copies) {
    const target = vscode.Uri.joinPath(folder, name);
    await writeAtomically(target, text);
    written.push(target);
  }
  if (written.length > 0) await vscode.commands.executeCommand('modproof.openAsFlight', written[0]);
  void tell(written, folder, account(shared, read, how, secret));
  return written;
}

async function tell(written: readonly vscode.Uri[], folder: vscode.Uri, text: string): Promise<void> {
  const read = 'What They Still Tell';
  const message =
    written.length === 0
      ? 'Nothing is left of these flights when the fields are cut out: nothing was written.'
      : `${formatCount(written.length, 'copy', 'copies')} without places in ${vscode.workspace.asRelativePath(folder)}. They are not anonymous: read what a determined reader can still find before you give them away.`;
  if ((await vscode.window.showInformationMessage(message, read)) !== read) return;
  const document = await vscode.workspace.openTextDocument({ language: 'markdown', content: text });
  await vscode.window.showTextDocument(document, { preview: true });
}

/** From the Explorer with recordings marked there or a comparison, from the palette with what is open. */
export function registerShare(parts: Parts): void {
  parts.context.subscriptions.push(
    vscode.commands.registerCommand('modproof.shareFlights', (clicked?: unknown, marked?: unknown, options?: unknown) =>
      share(parts, clicked, marked, options),
    ),
  );
}
