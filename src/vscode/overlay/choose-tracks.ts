import * as vscode from 'vscode';
import { baseName, folderOf } from '../paths.ts';

/** Endings under which recordings come; the content decides in the end. */
export const recordingEndings = ['gpx', 'igc', 'nmea', 'fit', 'kml', 'kmz', 'csv', 'mp4', 'mov'] as const;
const recordingPattern = new RegExp(`\\.(?:${recordingEndings.join('|')})(?:\\.gz)?$`, 'i');
const mostTracks = 500;

export function looksLikeRecording(uri: vscode.Uri): boolean {
  return recordingPattern.test(uri.path);
}

/** Recordings of the workspace, or of the folder of `near` where the workspace cannot be searched. */
async function findTracks(near: vscode.Uri | undefined): Promise<vscode.Uri[]> {
  try {
    const found = await vscode.workspace.findFiles(
      `**/*.{${recordingEndings.join(',')}}`,
      '**/node_modules/**',
      mostTracks,
    );
    if (found.length > 0) return found;
  } catch {
    // No search here: the neighbours are the next best.
  }
  const folder = near === undefined ? vscode.workspace.workspaceFolders?.[0]?.uri : folderOf(near);
  if (folder === undefined) return [];
  const entries = await vscode.workspace.fs.readDirectory(folder);
  return entries
    .filter(([, type]) => (type & vscode.FileType.File) !== 0)
    .map(([name]) => vscode.Uri.joinPath(folder, name))
    .filter(looksLikeRecording);
}

/** A list to tick: `chosen` come ticked. Undefined when the person thought better of it. */
export async function chooseTracks(chosen: readonly vscode.Uri[]): Promise<vscode.Uri[] | undefined> {
  const known = new Set(chosen.map((uri) => uri.toString()));
  const others = (await findTracks(chosen[0])).filter((uri) => !known.has(uri.toString()));
  const items = [...chosen, ...others.sort((a, b) => (a.path < b.path ? -1 : 1))].map((uri) => ({
    label: baseName(uri),
    description: vscode.workspace.asRelativePath(folderOf(uri)),
    picked: known.has(uri.toString()),
    uri,
  }));
  if (items.length === 0) {
    void vscode.window.showInformationMessage('There are no recordings in this workspace to lay over each other.');
    return undefined;
  }
  const picked = await vscode.window.showQuickPick(items, {
    canPickMany: true,
    matchOnDescription: true,
    title: 'Overlay Flights',
    placeHolder: 'Flights whose take-offs are laid over each other',
  });
  return picked === undefined || picked.length === 0 ? undefined : picked.map((item) => item.uri);
}
