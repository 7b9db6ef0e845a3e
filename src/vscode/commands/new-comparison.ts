import * as vscode from 'vscode';
import { formatDate, formatList } from '../../../shared/format.ts';
import { eventFileName, parseEventFile, parseFurther } from '../../engine/event-file/index.ts';
import {
  filesOfFlight,
  type FoundFlight,
  foundFlights,
  furtherBeside,
  type InspectedRecording,
  outlineOf,
  readFlight,
} from '../../engine/recordings/index.ts';
import { newSpec, type RecordedFlight } from '../../engine/spec/index.ts';
import { recordedSpan } from '../../engine/track/summary.ts';
import { engineParts } from '../comparison/comparisons.ts';
import type { Parts } from '../extension.ts';
import { looksLikeRecording } from '../overlay/choose-tracks.ts';
import { baseName, folderOf } from '../paths.ts';
import { editorWorld, type EditorWorld, walk } from '../world-vscode.ts';
import { freeName, textIfPresent } from '../write-file.ts';

const mostTracks = 1000;
const depth = 4;

/** Recordings among what was chosen; those inside folders, too. */
async function recordingsIn(chosen: readonly vscode.Uri[]): Promise<vscode.Uri[]> {
  const found = new Map<string, vscode.Uri>();
  for (const uri of chosen) {
    const inside = (await isFolder(uri))
      ? await walk(uri, depth, (path) => looksLikeRecording(uri.with({ path: `/${path}` })))
      : [uri];
    for (const one of inside.filter(looksLikeRecording)) found.set(one.toString(), one);
  }
  return [...found.values()].sort((a, b) => (a.path < b.path ? -1 : 1)).slice(0, mostTracks);
}

async function isFolder(uri: vscode.Uri): Promise<boolean> {
  try {
    return ((await vscode.workspace.fs.stat(uri)).type & vscode.FileType.Directory) !== 0;
  } catch {
    return false;
  }
}

/** From the palette: all recordings of the workspace, to untick. */
async function askForRecordings(): Promise<vscode.Uri[] | undefined> {
  const folders = (vscode.workspace.workspaceFolders ?? []).map(({ uri }) => uri);
  if (folders.length === 0) {
    const picked = await vscode.window.showOpenDialog({
      title: 'Folder with Recordings',
      canSelectFolders: true,
      canSelectFiles: false,
    });
    return picked === undefined ? undefined : recordingsIn(picked);
  }
  const found = await recordingsIn(folders);
  if (found.length === 0) return [];
  const items = found.map((uri) => ({
    label: baseName(uri),
    description: vscode.workspace.asRelativePath(folderOf(uri)),
    picked: true,
    uri,
  }));
  const picked = await vscode.window.showQuickPick(items, {
    canPickMany: true,
    matchOnDescription: true,
    title: 'New Comparison: Flights',
    placeHolder: 'Flights before and after the change',
  });
  return picked?.map(({ uri }) => uri);
}

/** The deepest folder that holds them all. */
function commonFolder(uris: readonly vscode.Uri[]): vscode.Uri {
  const paths = uris.map((uri) => folderOf(uri).path.split('/'));
  const [first] = paths;
  let length = first.length;
  for (const path of paths) {
    let same = 0;
    while (same < length && path[same] === first[same]) same++;
    length = same;
  }
  return uris[0].with({ path: first.slice(0, length).join('/') || '/' });
}

/** Where tracks lie in folders "before" and "after". */
function byFolder(file: string): string | undefined {
  const folders = file.toLowerCase().split('/').slice(0, -1);
  return (['before', 'after'] as const).find((name) => folders.includes(name));
}

async function readRecording(uri: vscode.Uri, world: EditorWorld, signal: AbortSignal): Promise<InspectedRecording> {
  const file = world.relative(uri);
  try {
    const name = eventFileName(file);
    const corrections = await textIfPresent(world.resolve(name));
    const named = corrections === undefined ? undefined : parseFurther(corrections, name).further;
    const flight = { file, ...(named && { further: furtherBeside(file, named) }) };
    const { track, format } = await readFlight(flight, undefined, engineParts.readRecording, world, { signal });
    if (track === undefined) return { file };
    const span = { ...recordedSpan(track), file };
    const overrides = corrections === undefined ? [] : parseEventFile(corrections, name, span).overrides;
    const analysis = engineParts.analyse(track, { signal, ...(overrides.length === 0 ? {} : { overrides }) });
    const outline = outlineOf(file, track, format);
    return { file, analysis, ...(outline && { outline }) };
  } catch {
    signal.throwIfAborted();
    return { file };
  }
}

/** Asks when the change was made, where the folders do not say it. Undefined when the person gave up. */
async function askForChange(
  flights: readonly RecordedFlight[],
): Promise<((file: string) => string | undefined) | undefined> {
  const dateOf = new Map(
    flights.flatMap(({ file, analysis }) =>
      analysis === undefined ? [] : [[file, formatDate(analysis.recording.startS)] as const],
    ),
  );
  const dates = [...new Set(dateOf.values())].sort();
  if (dates.length < 2 || flights.every(({ file }) => byFolder(file) !== undefined)) return byFolder;
  const after = (from: string): number => [...dateOf.values()].filter((date) => date >= from).length;
  const gapDays = (index: number): number => (Date.parse(dates[index + 1]) - Date.parse(dates[index])) / 86_400_000;
  const gaps = dates.slice(1).map((date, index) => ({ date, index, days: gapDays(index) }));
  const longest = Math.max(...gaps.map(({ days }) => days));
  // Work on an aeroplane takes time: the longest pause is the first guess.
  gaps.sort((a, b) => Number(b.days === longest) - Number(a.days === longest) || a.index - b.index);
  const items = [
    ...gaps.map(({ date, index, days }) => ({
      label: `Between ${dates[index]} and ${date}`,
      description: `${dateOf.size - after(date)} before, ${after(date)} after${days === longest && gaps.length > 1 ? '; the longest pause' : ''}`,
      date,
    })),
    { label: 'I will fill it in myself', description: 'each flight gets a blank', date: undefined },
  ];
  const picked = await vscode.window.showQuickPick(items, {
    title: 'New Comparison: When Was the Change Made?',
    placeHolder: 'Flights before it are "before", the others "after"',
  });
  if (picked === undefined) return undefined;
  const { date } = picked;
  if (date === undefined) return byFolder;
  return (file) => {
    const flown = dateOf.get(file);
    return flown === undefined ? undefined : flown < date ? 'before' : 'after';
  };
}

interface NewComparisonOptions {
  /** First day with the change; asked for when it is not given. `false`: blanks. */
  readonly changedOn?: string | false;
}

function changedOnOf(options: unknown): string | false | undefined {
  const { changedOn } = (typeof options === 'object' && options !== null ? options : {}) as NewComparisonOptions;
  return changedOn === false || typeof changedOn === 'string' ? changedOn : undefined;
}

/** First blank of a new spec: where to begin. */
function firstBlank(document: vscode.TextDocument): vscode.Position {
  for (let line = 0; line < document.lineCount; line++) {
    const blank = /^\s*(?:- )?[\w-]+:(?= #)/.exec(document.lineAt(line).text);
    if (blank !== null) return new vscode.Position(line, blank[0].length);
  }
  return new vscode.Position(0, 0);
}

async function newComparison(
  parts: Parts,
  clicked: unknown,
  marked: unknown,
  options: unknown,
): Promise<vscode.Uri | undefined> {
  const given = (Array.isArray(marked) && marked.length > 0 ? marked : [clicked]).filter(
    (one): one is vscode.Uri => one instanceof vscode.Uri,
  );
  const tracks = given.length > 0 ? await recordingsIn(given) : await askForRecordings();
  if (tracks === undefined) return undefined;
  if (tracks.length === 0) {
    void vscode.window.showInformationMessage(
      'There are no recordings here: GPX, IGC, NMEA, FIT, KML or CSV files, or films of a camera with GPS.',
    );
    return undefined;
  }
  const folder = given.length === 1 && (await isFolder(given[0])) ? given[0] : commonFolder(tracks);
  const target = await freeName(folder, 'comparison', '.modproof.yaml');
  const world = editorWorld(target, parts.platform);
  const stop = new AbortController();
  let flights: readonly FoundFlight[];
  try {
    flights = await vscode.window.withProgress(
      { location: vscode.ProgressLocation.Notification, title: 'Reading the flights', cancellable: true },
      async (progress, token) => {
        token.onCancellationRequested(() => stop.abort(new Error('cancelled')));
        const read: InspectedRecording[] = [];
        for (const uri of tracks) {
          stop.signal.throwIfAborted();
          progress.report({ message: baseName(uri) });
          read.push(await readRecording(uri, world, stop.signal));
          progress.report({ increment: 100 / tracks.length });
        }
        return foundFlights(read, { ...engineParts, world, signal: stop.signal });
      },
    );
  } catch (error) {
    if (stop.signal.aborted) return undefined;
    throw error;
  } finally {
    await world.close();
  }
  const changedOn = changedOnOf(options);
  const configurationOf = changedOn === undefined ? await askForChange(flights) : byDate(flights, changedOn);
  if (configurationOf === undefined) return undefined;
  const report = baseName(target).replace(/\.modproof\.yaml$/, '.md');
  const text = newSpec(flights, { configurationOf, reportFile: report });
  await vscode.workspace.fs.createDirectory(folder);
  const edit = new vscode.WorkspaceEdit();
  edit.createFile(target, { contents: new TextEncoder().encode(text), overwrite: false, ignoreIfExists: false });
  if (!(await vscode.workspace.applyEdit(edit)))
    throw new Error(`${vscode.workspace.asRelativePath(target)} could not be written.`);
  const document = await vscode.workspace.openTextDocument(target);
  const at = firstBlank(document);
  await vscode.window.showTextDocument(document, { selection: new vscode.Range(at, at) });
  const joined = flights.map(filesOfFlight).filter((files) => files.length > 1);
  if (joined.length > 0) {
    void vscode.window.showInformationMessage(
      `One flight, as clocks and places show: ${joined
        .slice(0, 5)
        .map((files) => formatList(files))
        .join('; ')}.`,
    );
  }
  const unread = flights.filter(({ analysis }) => analysis === undefined).map(({ file }) => file);
  if (unread.length > 0)
    void vscode.window.showWarningMessage(
      `${formatList(unread.slice(0, 5))} could not be read: open ${unread.length === 1 ? 'it' : 'them'} as a flight to see why.`,
    );
  return target;
}

function byDate(flights: readonly RecordedFlight[], changedOn: string | false): (file: string) => string | undefined {
  const startOf = new Map(flights.map(({ file, analysis }) => [file, analysis?.recording.startS]));
  return (file) => {
    const startS = startOf.get(file);
    if (changedOn === false || startS === undefined) return byFolder(file);
    return formatDate(startS) < changedOn ? 'before' : 'after';
  };
}

export function registerNewComparison(parts: Parts): void {
  parts.context.subscriptions.push(
    vscode.commands.registerCommand(
      'modproof.newComparison',
      (clicked?: unknown, marked?: unknown, options?: unknown) => newComparison(parts, clicked, marked, options),
    ),
  );
}
