import * as vscode from 'vscode';
import { escapeMarkdown } from '../../../shared/markdown.ts';
import { flightFindings } from '../../engine/report/index.ts';
import { explainAt } from '../../engine/spec/index.ts';
import type { Comparisons } from '../comparison/comparisons.ts';
import { displayUnits } from '../settings.ts';
import { flightsByEntry } from './flight-places.ts';
import { placeOf, rangeOf } from './places.ts';
import { yamlToolKnowsSchema } from './yaml-tool.ts';

const mostFlights = 12;

/** What a key means; on a track, what the engine found in that flight. */
export class SpecHover implements vscode.HoverProvider {
  readonly #comparisons: Comparisons;

  constructor(comparisons: Comparisons) {
    this.#comparisons = comparisons;
  }

  provideHover(document: vscode.TextDocument, position: vscode.Position): vscode.Hover | undefined {
    const found = this.#flightAt(document, position);
    if (found !== undefined) return found;
    if (yamlToolKnowsSchema()) return undefined;
    const { line, column } = placeOf(position);
    const explained = explainAt(document.getText(), line, column);
    if (explained === undefined) return undefined;
    const { name, meta, required, units } = explained;
    const lines = [`**${escapeMarkdown(name)}**${required ? ' (must be written)' : ''}: ${meta.doc}`];
    const words = Object.entries(meta.words ?? {});
    if (words.length > 0 && words.length <= 20)
      lines.push(
        words.map(([word, doc]) => `- \`${word}\`${word === doc ? '' : `: ${escapeMarkdown(doc)}`}`).join('\n'),
      );
    if (units !== undefined) lines.push(`Written as ${escapeMarkdown(units)}.`);
    if (meta.example !== undefined) lines.push(`\`\`\`yaml\n${name}: ${meta.example}\n\`\`\``);
    return new vscode.Hover(new vscode.MarkdownString(lines.join('\n\n')));
  }

  #flightAt(document: vscode.TextDocument, position: vscode.Position): vscode.Hover | undefined {
    const last = this.#comparisons.last(document.uri);
    if (last === undefined) return undefined;
    const entry = flightsByEntry(document, last).find(({ entry }) => rangeOf(entry.at).contains(position));
    if (entry === undefined || entry.flights.length === 0) return undefined;
    const units = displayUnits();
    const texts = entry.flights.slice(0, mostFlights).map((flight) => flightFindings(flight, last.evaluation, units));
    const outOfDate = this.#comparisons.outOfDate(document);
    if (outOfDate !== undefined) texts.push(`*As of the last evaluation: ${outOfDate}.*`);
    return new vscode.Hover(new vscode.MarkdownString(texts.join('\n\n---\n\n')), rangeOf(entry.entry.at));
  }
}
