import * as vscode from 'vscode';
import { formatCount } from '../../../shared/format.ts';
import type { Problem, Severity } from '../../../shared/problem.ts';
import { locate } from '../../engine/spec/index.ts';
import type { Comparisons } from '../comparison/comparisons.ts';
import { isSpec, parsedSpec } from '../comparison/spec-file.ts';
import type { Parts } from '../extension.ts';
import { baseName } from '../paths.ts';
import { resolveBeside } from '../world-vscode.ts';
import { flightsByEntry } from './flight-places.ts';
import { rangeOf } from './places.ts';
import { missingTracks } from './track-check.ts';

export const diagnosticSource = 'Modproof';

/** A pause in typing. */
const pauseMs = 250;
/** More problems of one recording than this are counted. */
const mostOfOneFlight = 5;

const severities: Readonly<Record<Severity, vscode.DiagnosticSeverity>> = {
  error: vscode.DiagnosticSeverity.Error,
  warning: vscode.DiagnosticSeverity.Warning,
  info: vscode.DiagnosticSeverity.Information,
};

/** Told as one types, from the file itself. */
const toldBefore = new Set(['track-not-found', 'track-pattern-empty']);

function diagnostic(problem: Problem, range: vscode.Range): vscode.Diagnostic {
  const count = problem.count !== undefined && problem.count > 1 ? ` (${problem.count} times)` : '';
  const made = new vscode.Diagnostic(range, `${problem.message}${count}`, severities[problem.severity]);
  made.source = diagnosticSource;
  made.code = problem.code;
  if (problem.code === 'spec-unused') made.tags = [vscode.DiagnosticTag.Unnecessary];
  return made;
}

/** Problems of specs that are open, as one types; those of the last evaluation, on the lines of their flights. */
export class SpecDiagnostics implements vscode.Disposable {
  readonly #collection = vscode.languages.createDiagnosticCollection('modproof');
  readonly #timers = new Map<string, ReturnType<typeof setTimeout>>();
  readonly #missing = new Map<string, { readonly version: number; readonly problems: readonly Problem[] }>();
  readonly #parts: Parts;
  readonly #comparisons: Comparisons;
  readonly #disposables: vscode.Disposable[];

  constructor(parts: Parts, comparisons: Comparisons) {
    this.#parts = parts;
    this.#comparisons = comparisons;
    const ofOpen = (uri: vscode.Uri): void => {
      const document = vscode.workspace.textDocuments.find((one) => one.uri.toString() === uri.toString());
      if (document !== undefined) this.#show(document);
    };
    this.#disposables = [
      this.#collection,
      vscode.workspace.onDidOpenTextDocument((document) => this.#soon(document, 0)),
      vscode.workspace.onDidChangeTextDocument(({ document, contentChanges }) => {
        if (contentChanges.length > 0) this.#soon(document, pauseMs);
      }),
      vscode.workspace.onDidCloseTextDocument((document) => this.#forget(document.uri)),
      comparisons.onDidChange(ofOpen),
      comparisons.onDidChangeFiles(() => this.#all()),
    ];
    this.#all();
  }

  /** Looks at a document at once. */
  async refresh(document: vscode.TextDocument): Promise<readonly vscode.Diagnostic[]> {
    clearTimeout(this.#timers.get(document.uri.toString()));
    await this.#look(document);
    return this.#collection.get(document.uri) ?? [];
  }

  dispose(): void {
    for (const timer of this.#timers.values()) clearTimeout(timer);
    vscode.Disposable.from(...this.#disposables).dispose();
  }

  #all(): void {
    for (const document of vscode.workspace.textDocuments) this.#soon(document, 0);
  }

  #soon(document: vscode.TextDocument, delayMs: number): void {
    if (!isSpec(document.uri)) return;
    const key = document.uri.toString();
    clearTimeout(this.#timers.get(key));
    const look = (): void => {
      this.#look(document).catch((error: unknown) => this.#parts.log.error(`${document.uri.path}: ${String(error)}`));
    };
    this.#timers.set(key, setTimeout(look, delayMs));
  }

  async #look(document: vscode.TextDocument): Promise<void> {
    const { version } = document;
    this.#show(document);
    const problems = await missingTracks(document, this.#parts.platform);
    if (document.isClosed || document.version !== version) return;
    this.#missing.set(document.uri.toString(), { version, problems });
    this.#show(document);
  }

  #show(document: vscode.TextDocument): void {
    if (document.isClosed || !isSpec(document.uri)) return;
    const missing = this.#missing.get(document.uri.toString());
    const now = [...parsedSpec(document).problems, ...(missing?.version === document.version ? missing.problems : [])];
    this.#collection.set(document.uri, [
      ...now.map((problem) => diagnostic(problem, this.#rangeIn(document, problem))),
      ...this.#ofEvaluation(document),
    ]);
  }

  /** A place without its end marks the line. */
  #rangeIn(document: vscode.TextDocument, { at }: Problem): vscode.Range {
    if (at?.line === undefined || at.line > document.lineCount) return new vscode.Range(0, 0, 0, 0);
    const range = rangeOf(at);
    return range.isEmpty ? document.lineAt(at.line - 1).range : document.validateRange(range);
  }

  #ofEvaluation(document: vscode.TextDocument): vscode.Diagnostic[] {
    const last = this.#comparisons.last(document.uri);
    if (last === undefined) return [];
    const own = new Set(last.evaluation.parsed.problems);
    const made: vscode.Diagnostic[] = [];
    const told = new Set<Problem>();
    for (const { entry, flights } of flightsByEntry(document, last)) {
      const range = rangeOf(entry.at);
      for (const { file, problems } of flights) {
        for (const problem of problems) told.add(problem);
        const serious = problems.filter(({ severity, code }) => severity !== 'info' && !toldBefore.has(code));
        for (const problem of serious.slice(0, mostOfOneFlight)) {
          const name = flights.length > 1 ? `${file}: ` : '';
          const shown = diagnostic({ ...problem, message: `${name}${problem.message}` }, range);
          const where =
            problem.at?.file === undefined || problem.at.file === baseName(document.uri) ? undefined : problem.at;
          if (where?.line !== undefined) {
            const uri = resolveBeside(document.uri, where.file ?? file);
            shown.relatedInformation = [
              new vscode.DiagnosticRelatedInformation(
                new vscode.Location(uri, rangeOf(where)),
                'Here in the recording',
              ),
            ];
          }
          made.push(shown);
        }
        if (serious.length > mostOfOneFlight) {
          const message = `${formatCount(serious.length - mostOfOneFlight, 'more problem')} in "${file}": open it as a flight to see them.`;
          made.push(diagnostic({ code: 'track-more', severity: 'warning', message }, range));
        }
      }
    }
    // What an evaluation says of the comparison as a whole holds for the text that it was made of.
    if (last.text === document.getText()) {
      for (const problem of last.evaluation.problems) {
        if (own.has(problem) || told.has(problem) || problem.severity === 'info' || toldBefore.has(problem.code))
          continue;
        const inSpec = problem.at?.file === undefined || problem.at.file === baseName(document.uri);
        if (inSpec) made.push(diagnostic(problem, this.#rangeIn(document, problem)));
      }
    }
    for (const { key, message } of last.reports.refused) {
      const place = locate(document.getText(), ['report', key]);
      if (place === undefined) continue;
      made.push(diagnostic({ code: 'report-refused', severity: 'error', message }, rangeOf(place)));
    }
    return made;
  }

  #forget(uri: vscode.Uri): void {
    const key = uri.toString();
    clearTimeout(this.#timers.get(key));
    this.#timers.delete(key);
    this.#missing.delete(key);
    this.#collection.delete(uri);
  }
}
