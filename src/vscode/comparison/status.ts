import * as vscode from 'vscode';
import { formatCount } from '../../../shared/format.ts';
import { answerTable } from '../../engine/report/index.ts';
import type { Parts } from '../extension.ts';
import { stateWords } from '../language/code-lens.ts';
import { displayUnits, onDisplayUnitsChanged } from '../settings.ts';
import type { Comparisons } from './comparisons.ts';
import { isSpec } from './spec-file.ts';

/** True while the comparison in the active editor has a report to open. */
const hasReport = 'modproof.hasReport';

/** One entry in the status bar: the answer of the comparison that is being worked on; more of it in the hover. */
export class ComparisonStatus implements vscode.Disposable {
  readonly #item = vscode.window.createStatusBarItem('modproof.comparison', vscode.StatusBarAlignment.Right, 110);
  readonly #comparisons: Comparisons;
  readonly #disposables: vscode.Disposable[];
  /** The comparison that was looked at last: it stays while its report is. */
  #spec: vscode.Uri | undefined;

  constructor({ context }: Parts, comparisons: Comparisons) {
    this.#comparisons = comparisons;
    this.#item.name = 'Modproof comparison';
    this.#disposables = [
      this.#item,
      vscode.window.onDidChangeActiveTextEditor(() => this.#show()),
      vscode.window.tabGroups.onDidChangeTabs(() => this.#show()),
      vscode.workspace.onDidChangeTextDocument(({ document }) => {
        if (document.uri.toString() === this.#spec?.toString()) this.#show();
      }),
      comparisons.onDidChange(() => this.#show()),
      onDisplayUnitsChanged(() => this.#show()),
    ];
    context.subscriptions.push(this);
    this.#show();
  }

  dispose(): void {
    vscode.Disposable.from(...this.#disposables).dispose();
  }

  #show(): void {
    const active = vscode.window.activeTextEditor?.document.uri;
    if (active !== undefined && isSpec(active)) this.#spec = active;
    else if (active !== undefined && !/\.(?:md|markdown|svg)$/i.test(active.path)) this.#spec = undefined;
    const spec = this.#spec;
    const document = vscode.workspace.textDocuments.find((one) => one.uri.toString() === spec?.toString());
    const state = spec === undefined ? undefined : this.#comparisons.report(spec);
    const openable = state?.kind === 'current' || state?.kind === 'out-of-date';
    void vscode.commands.executeCommand('setContext', hasReport, openable);
    if (spec === undefined || document === undefined) {
      this.#item.hide();
      return;
    }
    if (this.#comparisons.isRunning(spec)) {
      this.#item.text = '$(loading~spin) Evaluating';
      this.#item.tooltip = 'Stop the evaluation';
      this.#item.command = { command: 'modproof.stopEvaluation', title: 'Stop', arguments: [spec] };
      this.#item.show();
      return;
    }
    const words = stateWords(document, this.#comparisons);
    const stale = words?.stale;
    this.#item.text = `${stale === undefined ? '$(graph-line)' : '$(warning)'} ${words?.text ?? 'Not evaluated'}`;
    this.#item.accessibilityInformation = {
      label: `Comparison: ${words?.text ?? 'not evaluated'}${stale === undefined ? '' : `, out of date: ${stale}`}`,
    };
    this.#item.tooltip = this.#tooltip(spec, stale);
    const command = openable && stale === undefined ? 'modproof.openReport' : 'modproof.evaluateComparison';
    this.#item.command = { command, title: '', arguments: [spec] };
    this.#item.show();
  }

  #tooltip(spec: vscode.Uri, stale: string | undefined): vscode.MarkdownString {
    const last = this.#comparisons.last(spec);
    const text = new vscode.MarkdownString('', true);
    if (last?.evaluation.spec === undefined) {
      text.appendMarkdown(
        stale === undefined
          ? 'Click to evaluate this comparison.'
          : `The report is out of date: ${stale}. Click to evaluate.`,
      );
      return text;
    }
    const { evaluation } = last;
    const read = evaluation.flights.filter(({ analysis }) => analysis !== undefined).length;
    text.appendText(evaluation.spec?.title ?? '');
    text.appendMarkdown(`\n\n${answerTable(evaluation, displayUnits())}\n\n`);
    text.appendMarkdown(
      `${read} of ${formatCount(evaluation.flights.length, 'recording')} read, in ${(last.tookMs / 1000).toFixed(1)} s. `,
    );
    text.appendMarkdown(
      stale === undefined
        ? 'Not approved performance data: the flight manual rules.'
        : `**Out of date:** ${stale}. Click to evaluate.`,
    );
    return text;
  }
}
