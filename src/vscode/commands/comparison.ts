import * as vscode from 'vscode';
import { formatCount, formatList } from '../../../shared/format.ts';
import type { Problem } from '../../../shared/problem.ts';
import type { Comparisons, Evaluated } from '../comparison/comparisons.ts';
import { reportTargets } from '../comparison/put-report.ts';
import { meant } from '../comparison/find-spec.ts';
import { showReport } from '../comparison/show-report.ts';
import { isSpec, parsedSpec, specMeant } from '../comparison/spec-file.ts';
import type { Parts } from '../extension.ts';
import type { SpecDiagnostics } from '../language/diagnostics.ts';
import { baseName, folderOf } from '../paths.ts';
import { evaluatesOnSave } from '../settings.ts';
import { exists, freeName } from '../write-file.ts';
import { writeTestCard } from './test-card.ts';

async function showProblems(): Promise<void> {
  await vscode.commands.executeCommand('workbench.actions.view.problems');
}

/** Puts a report file into a spec that names none. */
async function nameReport(document: vscode.TextDocument): Promise<boolean> {
  const base = baseName(document.uri).replace(/\.modproof\.ya?ml$/i, '');
  const name = baseName(await freeName(folderOf(document.uri), base, '.md'));
  const text = document.getText();
  const lines = text.split(/\r?\n/);
  const section = lines.findIndex((line) => /^report:\s*(?:#.*)?$/.test(line));
  const blank =
    section < 0 ? -1 : lines.findIndex((line, index) => index > section && /^\s+file:\s*(?:#.*)?$/.test(line));
  const edit = new vscode.WorkspaceEdit();
  if (blank >= 0) {
    const colon = lines[blank].indexOf(':') + 1;
    edit.insert(document.uri, new vscode.Position(blank, colon), ` ${JSON.stringify(name)}`);
  } else if (section >= 0)
    edit.insert(document.uri, new vscode.Position(section + 1, 0), `  file: ${JSON.stringify(name)}\n`);
  else if (lines.some((line) => line.startsWith('report:'))) return false;
  else {
    const end = document.lineAt(document.lineCount - 1).range.end;
    edit.insert(document.uri, end, `${text.endsWith('\n') ? '' : '\n'}\nreport:\n  file: ${JSON.stringify(name)}\n`);
  }
  return vscode.workspace.applyEdit(edit);
}

class ComparisonCommands {
  readonly #comparisons: Comparisons;
  readonly #diagnostics: SpecDiagnostics;
  readonly #parts: Parts;

  constructor(parts: Parts, comparisons: Comparisons, diagnostics: SpecDiagnostics) {
    this.#parts = parts;
    this.#comparisons = comparisons;
    this.#diagnostics = diagnostics;
  }

  /** Gives the number of recordings that could be read, or undefined when it was stopped or there is nothing to evaluate. */
  async evaluate(given?: unknown): Promise<number | undefined> {
    const document = await meant(given);
    if (document === undefined) return undefined;
    if (document.isDirty && evaluatesOnSave()) {
      // Saving evaluates; it would be done twice.
      await document.save();
    } else if (document.isDirty && !(await document.save())) return undefined;
    const evaluated = await this.run(document, vscode.ProgressLocation.Notification);
    if (evaluated === undefined) return undefined;
    await this.#tell(document, evaluated);
    return evaluated.evaluation.flights.filter(({ analysis }) => analysis !== undefined).length;
  }

  async run(document: vscode.TextDocument, location: vscode.ProgressLocation): Promise<Evaluated | undefined> {
    const stop = new AbortController();
    const name = baseName(document.uri);
    try {
      return await vscode.window.withProgress(
        { location, title: `Evaluating ${name}`, cancellable: true },
        (progress, token) => {
          token.onCancellationRequested(() => stop.abort(new Error('cancelled')));
          let shown = 0;
          return this.#comparisons.evaluate(document, {
            signal: stop.signal,
            onProgress: (fraction) => {
              const percent = Math.floor(fraction * 100);
              if (percent <= shown) return;
              progress.report({ increment: percent - shown });
              shown = percent;
            },
          });
        },
      );
    } catch (error) {
      // Stopped by the person, or by a second evaluation: nothing to say.
      if (error instanceof Error && ['cancelled', 'closed'].includes(error.message)) return undefined;
      this.#parts.log.error(error instanceof Error ? error : String(error));
      void vscode.window.showErrorMessage(
        `${name} could not be evaluated: ${error instanceof Error ? error.message : String(error)}`,
      );
      return undefined;
    }
  }

  async #tell(document: vscode.TextDocument, { evaluation, reports }: Evaluated): Promise<void> {
    const [report] = reports.written;
    if (report !== undefined) await showReport(report, document.uri);
    for (const { message, target } of reports.refused) this.#tellRefused(message, target);
    const { spec } = evaluation;
    if (spec === undefined || evaluation.result === undefined) {
      this.#tellIncomplete(document, evaluation.parsed.problems);
      return;
    }
    if (spec.report.file !== undefined || spec.report.insertInto !== undefined) return;
    void vscode.window
      .showInformationMessage('Evaluated. The comparison names no file for its report.', 'Write a Report')
      .then(async (picked) => {
        if (picked !== undefined && (await nameReport(document))) await this.evaluate(document.uri);
      });
  }

  /** A spec that could not be evaluated: what is wrong with it, or which blanks have to be filled first. */
  #tellIncomplete(document: vscode.TextDocument, problems: readonly Problem[]): void {
    const errors = problems.filter(({ severity }) => severity === 'error');
    const needed = problems.filter(({ severity, code }) => code === 'spec-blank' && severity === 'warning');
    const names = [...new Set(needed.map(({ message }) => /"[^"]+"/.exec(message)?.[0] ?? ''))];
    const name = baseName(document.uri);
    const message =
      errors.length > 0
        ? `${name} has ${formatCount(errors.length, 'error')}: it was not evaluated.`
        : `${name} can be evaluated when ${formatList(names.slice(0, 4))} ${names.length === 1 ? 'is' : 'are'} filled in. The other blanks may stay.`;
    const [first] = [...errors, ...needed];
    void vscode.window.showWarningMessage(message, 'Go There', 'Show Problems').then(async (picked) => {
      if (picked === 'Show Problems') await showProblems();
      if (picked !== 'Go There' || first?.at?.line === undefined) return;
      const { range } = document.lineAt(Math.min(first.at.line, document.lineCount) - 1);
      await vscode.window.showTextDocument(document, { selection: new vscode.Range(range.end, range.end) });
    });
  }

  #tellRefused(message: string, target: vscode.Uri): void {
    void exists(target).then((there) =>
      vscode.window
        .showWarningMessage(message, ...(there ? ['Open That File'] : []))
        .then((picked) => (picked === undefined ? undefined : vscode.window.showTextDocument(target))),
    );
  }

  /** Gives the address of the report that was shown. */
  async openReport(given?: unknown): Promise<vscode.Uri | undefined> {
    const document = await meant(given);
    if (document === undefined) return undefined;
    const last = this.#comparisons.last(document.uri);
    const { spec } = parsedSpec(document);
    const targets = spec === undefined ? (last?.reports.written ?? []) : reportTargets(document.uri, spec.report);
    for (const target of targets) {
      if (!(await exists(target))) continue;
      await showReport(target, document.uri);
      return target;
    }
    void vscode.window
      .showInformationMessage('There is no report of this comparison yet.', 'Evaluate')
      .then((picked) => (picked === undefined ? undefined : this.evaluate(document.uri)));
    return undefined;
  }

  /** Looks at the spec and its tracks without reading them. Gives the number of errors. */
  async check(given?: unknown): Promise<number | undefined> {
    const document = await meant(given);
    if (document === undefined) return undefined;
    const found = await this.#diagnostics.refresh(document);
    const count = (severity: vscode.DiagnosticSeverity): number =>
      found.filter((one) => one.severity === severity).length;
    const errors = count(vscode.DiagnosticSeverity.Error);
    const warnings = count(vscode.DiagnosticSeverity.Warning);
    const blanks = found.filter(({ code }) => code === 'spec-blank').length;
    await vscode.window.showTextDocument(document, { preserveFocus: true });
    if (errors + warnings + blanks > 0) await showProblems();
    const words = [
      formatCount(errors, 'error'),
      ...(warnings === 0 ? [] : [formatCount(warnings, 'warning')]),
      ...(blanks === 0 ? [] : [formatCount(blanks, 'blank')]),
    ].join(', ');
    vscode.window.setStatusBarMessage(
      `${baseName(document.uri)}: ${errors + warnings + blanks === 0 ? 'complete and without errors' : words}`,
      8000,
    );
    return errors;
  }
}

/** Evaluate, Check, Open Report and Write Test Card: on the comparison given, else that in the active editor, else one to choose. */
export function registerComparisonCommands(parts: Parts, comparisons: Comparisons, diagnostics: SpecDiagnostics): void {
  const commands = new ComparisonCommands(parts, comparisons, diagnostics);
  parts.context.subscriptions.push(
    vscode.commands.registerCommand('modproof.evaluateComparison', (given?: unknown) => commands.evaluate(given)),
    vscode.commands.registerCommand('modproof.stopEvaluation', (given?: unknown) => {
      const uri = specMeant(given);
      if (uri !== undefined) comparisons.cancel(uri);
    }),
    vscode.commands.registerCommand('modproof.openReport', (given?: unknown) => commands.openReport(given)),
    vscode.commands.registerCommand('modproof.writeTestCard', (given?: unknown) =>
      writeTestCard(given, comparisons, (document) => commands.run(document, vscode.ProgressLocation.Notification)),
    ),
    vscode.commands.registerCommand('modproof.checkComparison', (given?: unknown) => commands.check(given)),
    vscode.workspace.onDidSaveTextDocument((document) => {
      if (isSpec(document.uri) && evaluatesOnSave()) void commands.run(document, vscode.ProgressLocation.Window);
    }),
  );
}
