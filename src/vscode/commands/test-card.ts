import * as vscode from 'vscode';
import type { Comparisons, Evaluated } from '../comparison/comparisons.ts';
import { meant } from '../comparison/find-spec.ts';
import { mayWriteAt } from '../comparison/put-report.ts';
import { showReport } from '../comparison/show-report.ts';
import { baseName, folderOf } from '../paths.ts';
import { resolveBeside } from '../world-vscode.ts';
import { freeName, writeNew } from '../write-file.ts';

/** Name of a card where the spec names none: `wing.modproof.yaml` has `wing-test-card.md`. */
function usualName(spec: vscode.Uri): string {
  return `${baseName(spec).replace(/\.modproof\.ya?ml$/i, '')}-test-card`;
}

/** Adds the section that asks for a card to the end of a spec, or the card to a section that is still blank. */
async function addPlan(document: vscode.TextDocument): Promise<boolean> {
  const edit = new vscode.WorkspaceEdit();
  const end = document.lineAt(document.lineCount - 1).range.end;
  const name = JSON.stringify(`${usualName(document.uri)}.md`);
  const blank = document
    .getText()
    .split(/\r?\n/)
    .findIndex((line) => /^plan:\s*(?:#.*)?$/.test(line));
  if (blank >= 0) {
    edit.insert(document.uri, document.lineAt(blank).range.end, `\n  card: ${name}`);
    return vscode.workspace.applyEdit(edit);
  }
  const gap = document.getText().endsWith('\n') ? '' : '\n';
  edit.insert(document.uri, end, `${gap}\nplan:\n  card: ${name}\n`);
  return vscode.workspace.applyEdit(edit);
}

/** The last evaluation if it still holds for the text, else a new one. */
async function evaluatedNow(
  document: vscode.TextDocument,
  comparisons: Comparisons,
  run: (document: vscode.TextDocument) => Promise<Evaluated | undefined>,
): Promise<Evaluated | undefined> {
  const last = comparisons.last(document.uri);
  if (last !== undefined && comparisons.outOfDate(document) === undefined) return last;
  if (document.isDirty && !(await document.save())) return undefined;
  return run(document);
}

/**
 * Writes the card and the conditions sheet of the next flight beside the comparison and shows them. What is there already is never written over: a
 * filled-in card is a record. Gives the address of the card that was written.
 */
export async function writeTestCard(
  given: unknown,
  comparisons: Comparisons,
  run: (document: vscode.TextDocument) => Promise<Evaluated | undefined>,
): Promise<vscode.Uri | undefined> {
  const document = await meant(given);
  if (document === undefined) return undefined;
  const evaluated = await evaluatedNow(document, comparisons, run);
  if (evaluated === undefined) return undefined;
  const { decision, spec } = evaluated.evaluation;
  if (spec === undefined) {
    void vscode.window.showWarningMessage(
      `${baseName(document.uri)} has errors or blanks that must be filled first: there is no test card yet.`,
    );
    return undefined;
  }
  if (decision?.plan === undefined) {
    void vscode.window
      .showInformationMessage('The comparison has no section "plan", which asks for a test card.', 'Add It')
      .then(async (picked) => {
        if (picked !== undefined && (await addPlan(document))) await writeTestCard(document.uri, comparisons, run);
      });
    return undefined;
  }
  const named = spec.decision?.plan?.card;
  const wanted =
    named === undefined
      ? vscode.Uri.joinPath(folderOf(document.uri), `${usualName(document.uri)}.md`)
      : resolveBeside(document.uri, named);
  const text = `${decision.plan.card}\n${decision.plan.sheet}`;
  return put(wanted, text, document.uri);
}

async function put(target: vscode.Uri, text: string, spec: vscode.Uri): Promise<vscode.Uri | undefined> {
  const shown = vscode.workspace.asRelativePath(target);
  if (!mayWriteAt(target)) {
    void vscode.window.showWarningMessage(
      `The test card would be written outside this folder, to ${target.path}, which is not done in Restricted Mode: trust the folder first, or choose a name inside it.`,
    );
    return undefined;
  }
  try {
    if (await writeNew(target, text)) {
      await showReport(target, spec);
      return target;
    }
  } catch (error) {
    void vscode.window.showErrorMessage(
      `${shown} could not be written: ${error instanceof Error ? error.message : String(error)}`,
    );
    return undefined;
  }
  void vscode.window
    .showInformationMessage(`${shown} is there already and is left as it is.`, 'Open It', 'Write Another')
    .then(async (picked) => {
      if (picked === 'Open It') await showReport(target, spec);
      if (picked !== 'Write Another') return;
      const [, base, ending] = /^(.*?)(\.[^.]*)?$/.exec(baseName(target)) ?? [];
      await put(await freeName(folderOf(target), base ?? 'test-card', ending ?? '.md'), text, spec);
    });
  return undefined;
}
