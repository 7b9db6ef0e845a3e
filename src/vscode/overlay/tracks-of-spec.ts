import * as vscode from 'vscode';
import type { OverlayTrack } from '../../../shared/protocol.ts';
import { findTracks } from '../../engine/evaluate/index.ts';
import { parsedSpec } from '../comparison/spec-file.ts';
import { baseName } from '../paths.ts';
import type { Platform } from '../platform.ts';
import { editorWorld } from '../world-vscode.ts';

/** The recordings of a comparison with their configurations, patterns expanded, without those left out as a whole. */
export async function tracksOfSpec(spec: vscode.Uri, platform: Platform): Promise<OverlayTrack[]> {
  const parsed = parsedSpec(await vscode.workspace.openTextDocument(spec)).spec;
  if (parsed === undefined) throw new Error(`${baseName(spec)} has errors: put them right first.`);
  const world = editorWorld(spec, platform);
  try {
    const { entries } = await findTracks(parsed.flights, world, baseName(spec));
    const leftOut = new Set(
      parsed.exclusions
        .filter(({ metric, number }) => metric === undefined && number === undefined)
        .map(({ track }) => track),
    );
    return entries
      .filter(({ track }) => !leftOut.has(track))
      .flatMap(({ track, configuration, further }) =>
        // The parts of a film each have their own take-offs; other recorders would only show the same ones again.
        [track, ...(further?.continuedIn ?? []).map(({ file }) => file)].map((file) => ({
          file: world.resolve(file).toString(),
          configuration,
        })),
      );
  } finally {
    await world.close();
  }
}
