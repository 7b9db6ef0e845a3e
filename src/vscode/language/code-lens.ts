import * as vscode from 'vscode';
import type { Place } from '../../../shared/problem.ts';
import {
  type DecisionSectionName,
  decisionSectionNames,
  entryLine,
  flightLine,
  headline,
  sectionLine,
} from '../../engine/report/index.ts';
import { sectionPlaces } from '../../engine/spec/editor/index.ts';
import type { Comparisons } from '../comparison/comparisons.ts';
import { displayUnits } from '../settings.ts';
import { resolveBeside } from '../world-vscode.ts';
import { flightsByEntry } from './flight-places.ts';
import { rangeOf } from './places.ts';

const mostOfPattern = 40;

/** Above a spec: evaluate, open its report, whether that still holds. Above each flight: what was found in it. Above each section around the flights: its answer. */
export class SpecLenses implements vscode.CodeLensProvider {
  readonly #comparisons: Comparisons;
  readonly onDidChangeCodeLenses: vscode.Event<void>;

  constructor(comparisons: Comparisons, onDidChange: vscode.Event<unknown>) {
    this.#comparisons = comparisons;
    this.onDidChangeCodeLenses = (listener, self, disposables) =>
      onDidChange(() => listener.call(self), undefined, disposables);
  }

  provideCodeLenses(document: vscode.TextDocument): vscode.CodeLens[] {
    return [...this.#above(document), ...this.#flights(document), ...this.#sections(document)];
  }

  #above(document: vscode.TextDocument): vscode.CodeLens[] {
    const { uri } = document;
    const top = new vscode.Range(0, 0, 0, 0);
    const lens = (title: string, command: string, tooltip: string): vscode.CodeLens =>
      new vscode.CodeLens(top, { title, command, tooltip, arguments: [uri] });
    if (this.#comparisons.isRunning(uri))
      return [lens('$(loading~spin) Evaluating... click to stop', 'modproof.stopEvaluation', 'Stop the evaluation')];
    const evaluate = 'Read the flights, compare them and write the report';
    const lenses = [lens('$(play) Evaluate', 'modproof.evaluateComparison', evaluate)];
    const state = this.#comparisons.report(uri);
    if (state?.kind === 'current' || state?.kind === 'out-of-date')
      lenses.push(lens('$(open-preview) Open Report', 'modproof.openReport', 'Show the report beside the comparison'));
    const words = stateWords(document, this.#comparisons);
    if (words?.stale !== undefined)
      lenses.push(lens(`$(warning) Out of date: ${words.stale}`, 'modproof.evaluateComparison', evaluate));
    else if (words !== undefined)
      lenses.push(new vscode.CodeLens(top, { title: `$(check) ${words.text}`, command: '' }));
    return lenses;
  }

  #flights(document: vscode.TextDocument): vscode.CodeLens[] {
    const last = this.#comparisons.last(document.uri);
    if (last === undefined) return [];
    const units = displayUnits();
    return flightsByEntry(document, last).flatMap(({ entry, flights }) => {
      const [only] = flights;
      if (only === undefined) return [];
      const range = rangeOf(entry.at);
      const line = (flight: typeof only): string => flightLine(flight, last.evaluation, units);
      if (flights.length === 1) {
        return [
          new vscode.CodeLens(range, {
            title: line(only),
            command: 'modproof.openAsFlight',
            tooltip: 'Open the flight',
            arguments: [resolveBeside(document.uri, only.file)],
          }),
        ];
      }
      const left = flights.filter((flight) => line(flight).startsWith('Left out'));
      const title = `${flights.length} recordings${left.length === 0 ? '' : `, ${left.length} left out`}`;
      const tooltip = flights
        .slice(0, mostOfPattern)
        .map((flight) => `${flight.file}: ${line(flight)}`)
        .join('\n');
      return [new vscode.CodeLens(range, { title, command: '', tooltip })];
    });
  }

  /** Above each section around the flights, and each of its entries: what the last evaluation said, or the way to it. */
  #sections(document: vscode.TextDocument): vscode.CodeLens[] {
    const { uri } = document;
    const places = sectionPlaces(document.getText(), decisionSectionNames);
    if (places.length === 0) return [];
    const decided = this.#comparisons.last(uri)?.evaluation.decision;
    const stale = this.#comparisons.outOfDate(document) === undefined ? '' : ' (before the last change)';
    const units = displayUnits();
    const lens = (at: Place, title: string, command: string, tooltip?: string): vscode.CodeLens => {
      const { line = 1 } = at;
      const range = document.lineAt(Math.min(line, document.lineCount) - 1).range;
      return new vscode.CodeLens(range, {
        title,
        command,
        ...(tooltip === undefined ? {} : { tooltip }),
        arguments: [uri],
      });
    };
    return places.flatMap(({ section, at, entries }): vscode.CodeLens[] => {
      const name = section as DecisionSectionName;
      const line = decided && sectionLine(name, decided, units);
      const answer =
        line === undefined
          ? lens(at, '$(play) Evaluate', 'modproof.evaluateComparison', 'Work this section out and write the report')
          : lens(at, `${line}${stale}`, 'modproof.openReport', 'Show the report');
      const card =
        name === 'plan'
          ? [lens(at, '$(checklist) Write Test Card', 'modproof.writeTestCard', 'Write the card of the next flight')]
          : [];
      const each = entries.flatMap((entry): vscode.CodeLens[] => {
        // One that stands on the line of its section would put two answers above it.
        const told = decided && entryLine(name, entry.name, entry.occurrence, decided, units);
        return told === undefined || entry.at.line === at.line
          ? []
          : [lens(entry.at, `${told}${stale}`, 'modproof.openReport', 'Show the report')];
      });
      return [answer, ...card, ...each];
    });
  }
}

/** The state of a comparison in a few words, the same above the spec and in the status bar. */
export function stateWords(
  document: vscode.TextDocument,
  comparisons: Comparisons,
): { readonly text: string; readonly stale?: string } | undefined {
  const last = comparisons.last(document.uri);
  const state = comparisons.report(document.uri);
  const stale = comparisons.outOfDate(document) ?? (state?.kind === 'out-of-date' ? state.reason : undefined);
  const answer = last === undefined ? undefined : headline(last.evaluation, displayUnits());
  const text =
    answer ?? (last !== undefined ? 'No answer yet' : state?.kind === 'current' ? 'Report up to date' : undefined);
  if (text === undefined && stale === undefined) return undefined;
  return { text: text ?? 'Report out of date', ...(stale === undefined ? {} : { stale }) };
}
