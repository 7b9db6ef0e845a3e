import type * as vscode from 'vscode';
import { registerComparisonCommands } from '../commands/comparison.ts';
import { registerExample } from '../commands/example.ts';
import { registerNewComparison } from '../commands/new-comparison.ts';
import { registerShare } from '../commands/share.ts';
import type { Parts } from '../extension.ts';
import { registerLanguage } from '../language/register.ts';
import { Comparisons, type Evaluated } from './comparisons.ts';
import { watchRecordingFolders } from './recording-folders.ts';
import type { ReportState } from './report-state.ts';
import { ComparisonStatus } from './status.ts';

/** What others may know of comparisons, tests first of all. */
export interface ComparisonsApi {
  last(spec: vscode.Uri): Evaluated | undefined;
  report(spec: vscode.Uri): ReportState | undefined;
  isRunning(spec: vscode.Uri): boolean;
  outOfDate(document: vscode.TextDocument): string | undefined;
  /** Forgets results in memory, as a restart does: what is on disk stays. */
  forgetMemory(): void;
}

/** Comparison specs: written with help, evaluated, reported. */
export function registerComparisons(parts: Parts): ComparisonsApi {
  const comparisons = new Comparisons(parts);
  parts.context.subscriptions.push(comparisons, new ComparisonStatus(parts, comparisons));
  const diagnostics = registerLanguage(parts, comparisons);
  registerComparisonCommands(parts, comparisons, diagnostics);
  registerNewComparison(parts);
  registerShare(parts);
  registerExample(parts);
  watchRecordingFolders(parts);
  return {
    last: (spec) => comparisons.last(spec),
    report: (spec) => comparisons.report(spec),
    isRunning: (spec) => comparisons.isRunning(spec),
    outOfDate: (document) => comparisons.outOfDate(document),
    forgetMemory: () => comparisons.cache.forgetMemory(),
  };
}
