import * as vscode from 'vscode';
import type { Evaluation } from '../../engine/evaluate/index.ts';
import {
  CannotInsert,
  isUntouchedReport,
  mayReplaceFigure,
  reportAsFile,
  type ReportFiles,
  reportInNotes,
} from '../../engine/report/index.ts';
import { folderOf } from '../paths.ts';
import { resolveBeside } from '../world-vscode.ts';
import { textIfPresent, writeAtomically } from '../write-file.ts';

/** Why a report was not written; nothing of the person's was touched. */
export interface Refused {
  /** Key of the spec under `report` that asked for it. */
  readonly key: 'file' | 'insert-into';
  readonly target: vscode.Uri;
  readonly message: string;
}

export interface PutReports {
  readonly written: readonly vscode.Uri[];
  readonly refused: readonly Refused[];
}

class Refusal extends Error {}

/** Where the spec wants its report: a file of its own first. */
export function reportTargets(
  spec: vscode.Uri,
  report: { readonly file?: string; readonly insertInto?: string },
): vscode.Uri[] {
  return [report.file, report.insertInto].flatMap((path) => (path === undefined ? [] : [resolveBeside(spec, path)]));
}

function shown(uri: vscode.Uri): string {
  return vscode.workspace.asRelativePath(uri);
}

/** A folder that is not trusted may not make us write outside it. */
export function mayWriteAt(target: vscode.Uri): boolean {
  return vscode.workspace.isTrusted || vscode.workspace.getWorkspaceFolder(target) !== undefined;
}

function checkPlace(target: vscode.Uri): void {
  if (mayWriteAt(target)) return;
  throw new Refusal(
    `The report would be written outside this folder, to ${target.path}, which is not done in Restricted Mode: trust the folder first, or choose a name inside it.`,
  );
}

function checkOpen(target: vscode.Uri): void {
  const open = vscode.workspace.textDocuments.find((document) => document.uri.toString() === target.toString());
  if (open?.isDirty === true)
    throw new Refusal(`${shown(target)} is open and has changes that are not saved: save them first.`);
}

/** Refuses before anything is written when a figure would replace a picture that is not ours. */
async function put(target: vscode.Uri, files: ReportFiles, before: string | undefined): Promise<void> {
  const figures = files.figures.map(({ path, svg }) => ({ uri: vscode.Uri.joinPath(folderOf(target), path), svg }));
  for (const { uri } of figures) {
    if (!mayReplaceFigure(await textIfPresent(uri)))
      throw new Refusal(`${shown(uri)} was not drawn by Modproof and is not replaced: move it away.`);
  }
  for (const { uri, svg } of figures) if ((await textIfPresent(uri)) !== svg) await writeAtomically(uri, svg);
  // Somebody may have saved meanwhile: then it is theirs that counts.
  if ((await textIfPresent(target)) !== before)
    throw new Refusal(`${shown(target)} was changed while the report was made: evaluate again.`);
  if (files.markdown !== before) await writeAtomically(target, files.markdown);
}

async function putFile(target: vscode.Uri, evaluation: Evaluation): Promise<void> {
  const units = evaluation.spec?.report.units;
  if (units === undefined) return;
  const old = await textIfPresent(target);
  if (old !== undefined && !(await isUntouchedReport(old))) {
    throw new Refusal(
      `${shown(target)} was written or changed by a person and is not replaced: choose another name for the report, or move that file away.`,
    );
  }
  await put(target, await reportAsFile(target.path, evaluation, units), old);
}

async function insert(target: vscode.Uri, evaluation: Evaluation): Promise<void> {
  const units = evaluation.spec?.report.units;
  if (units === undefined) return;
  const notes = await textIfPresent(target);
  if (notes === undefined)
    throw new Refusal(`There are no notes ${shown(target)} to write the report into: make the file first.`);
  try {
    await put(target, reportInNotes(target.path, notes, evaluation, units), notes);
  } catch (error) {
    if (!(error instanceof CannotInsert)) throw error;
    throw new Refusal(`${shown(target)}${error.line === undefined ? '' : `, line ${error.line}`}: ${error.message}`);
  }
}

/** Writes the report where the spec wants it. What a person wrote is never replaced. */
export async function putReports(spec: vscode.Uri, evaluation: Evaluation): Promise<PutReports> {
  const { file, insertInto } = evaluation.spec?.report ?? {};
  const written: vscode.Uri[] = [];
  const refused: Refused[] = [];
  const attempt = async (
    key: Refused['key'],
    path: string | undefined,
    write: (target: vscode.Uri, evaluation: Evaluation) => Promise<void>,
  ): Promise<void> => {
    if (path === undefined) return;
    const target = resolveBeside(spec, path);
    try {
      checkPlace(target);
      checkOpen(target);
      await write(target, evaluation);
      written.push(target);
    } catch (error) {
      const message =
        error instanceof Refusal
          ? error.message
          : `${shown(target)} could not be written: ${error instanceof Error ? error.message : String(error)}`;
      refused.push({ key, target, message });
    }
  };
  await attempt('file', file, putFile);
  await attempt('insert-into', insertInto, insert);
  return { written, refused };
}
