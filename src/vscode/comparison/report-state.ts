import * as vscode from 'vscode';
import { eventFileEnding } from '../../engine/event-file/index.ts';
import { findTracks, hashOf, sha256OfText } from '../../engine/evaluate/index.ts';
import { type MadeFrom, madeFrom, outOfDate } from '../../engine/report/index.ts';
import { furtherFiles } from '../../engine/recordings/index.ts';
import type { Spec } from '../../engine/spec/index.ts';
import { engineVersion } from '../../engine/version.ts';
import { baseName } from '../paths.ts';
import type { Platform } from '../platform.ts';
import { editorWorld, type EditorWorld } from '../world-vscode.ts';
import { textIfPresent } from '../write-file.ts';
import { reportTargets } from './put-report.ts';

export type ReportState =
  /** The spec names no report, or cannot be understood. */
  | { readonly kind: 'none' }
  | { readonly kind: 'absent'; readonly target: vscode.Uri }
  | { readonly kind: 'current'; readonly target: vscode.Uri }
  | { readonly kind: 'out-of-date'; readonly target: vscode.Uri; readonly reason: string };

/** Hash of a file as long as its time and size stay the same. */
export class Hashes {
  readonly #known = new Map<string, { readonly stamp: string; readonly sha256: string }>();

  /** What an evaluation has found out need not be worked out again. */
  know(uri: vscode.Uri, stamp: string, sha256: string): void {
    if (stamp !== '') this.#known.set(uri.toString(), { stamp, sha256 });
  }

  async of(path: string, world: EditorWorld): Promise<string | undefined> {
    const uri = world.resolve(path);
    const stamp = await stampOf(uri);
    if (stamp === '') return undefined;
    const known = this.#known.get(uri.toString());
    if (known?.stamp === stamp) return known.sha256;
    try {
      const { sha256 } = await hashOf(await world.open(path));
      this.#known.set(uri.toString(), { stamp, sha256 });
      return sha256;
    } catch {
      return undefined;
    }
  }
}

/** Time and size of a file; empty when there is none. */
export async function stampOf(uri: vscode.Uri): Promise<string> {
  try {
    const { mtime, size } = await vscode.workspace.fs.stat(uri);
    return `${mtime} ${size}`;
  } catch {
    return '';
  }
}

async function recordingsNow(
  spec: Spec,
  file: vscode.Uri,
  platform: Platform,
  hashes: Hashes,
): Promise<MadeFrom['recordings']> {
  const world = editorWorld(file, platform);
  try {
    const { entries } = await findTracks(spec.flights, world, baseName(file));
    const found: { readonly sha256: string; readonly correctionsSha256?: string }[] = [];
    for (const { track, further } of entries) {
      const sha256 = await hashes.of(track, world);
      if (sha256 === undefined) continue;
      const corrections = await textIfPresent(world.resolve(track + eventFileEnding)).catch(() => undefined);
      found.push({
        sha256,
        ...(corrections === undefined ? {} : { correctionsSha256: await sha256OfText(corrections) }),
      });
      for (const { file: one } of furtherFiles(further)) {
        const known = await hashes.of(one, world);
        if (known !== undefined) found.push({ sha256: known });
      }
    }
    return found;
  } finally {
    await world.close();
  }
}

/** Whether the report of a spec is there and still tells what the spec and its recordings would tell now. */
export async function reportState(
  file: vscode.Uri,
  text: string,
  spec: Spec | undefined,
  lastTarget: vscode.Uri | undefined,
  platform: Platform,
  hashes: Hashes,
): Promise<ReportState> {
  const target = spec === undefined ? lastTarget : reportTargets(file, spec.report)[0];
  if (target === undefined) return { kind: 'none' };
  const report = await textIfPresent(target).catch(() => undefined);
  const made = report === undefined ? undefined : madeFrom(report);
  if (made === undefined) return { kind: 'absent', target };
  const specSha256 = await sha256OfText(text);
  const quick = outOfDate({ ...made, recordings: [] }, { engineVersion, specSha256, recordings: [] });
  if (quick !== undefined || spec === undefined)
    return { kind: 'out-of-date', target, reason: quick ?? 'the comparison has errors now' };
  const recordings = await recordingsNow(spec, file, platform, hashes);
  const reason = outOfDate(made, { engineVersion, specSha256, recordings });
  return reason === undefined ? { kind: 'current', target } : { kind: 'out-of-date', target, reason };
}
