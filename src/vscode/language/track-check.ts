import * as vscode from 'vscode';
import type { Problem } from '../../../shared/problem.ts';
import { isPattern } from '../../engine/glob.ts';
import { writtenTracks } from '../../engine/spec/editor/index.ts';
import { looksLikeRecording } from '../overlay/choose-tracks.ts';
import { folderOf } from '../paths.ts';
import type { Platform } from '../platform.ts';
import { editorWorld, relativeTo, walk } from '../world-vscode.ts';
import { exists } from '../write-file.ts';

/** Tracks of a spec that are not there: one problem each, in the words of an evaluation. */
export async function missingTracks(document: vscode.TextDocument, platform: Platform): Promise<readonly Problem[]> {
  const world = editorWorld(document.uri, platform);
  const problems: Problem[] = [];
  for (const { track, at, index } of writtenTracks(document.getText())) {
    if (index === undefined || (await exists(world.resolve(track)))) continue;
    if (!isPattern(track)) {
      const message = `"${track}" is not there: tracks are looked for from the folder of this file.`;
      problems.push({ code: 'track-not-found', severity: 'error', message, at });
    } else if ((await world.list(track)).length === 0) {
      problems.push({
        code: 'track-pattern-empty',
        severity: 'error',
        message: `"${track}" matches no recording.`,
        at,
      });
    }
  }
  return problems;
}

const mostOffered = 500;
/** Folders below the spec that are looked into. */
const depth = 3;

/** Recordings near a spec, as they would be written in it: beside and below, and the rest of the workspace. */
export async function recordingsNear(spec: vscode.Uri): Promise<readonly string[]> {
  const near = await walk(folderOf(spec), depth, (path) => looksLikeRecording(spec.with({ path: `/${path}` })));
  const found = near.map((uri) => relativeTo(spec, uri));
  return [...new Set(found)].sort().slice(0, mostOffered);
}
