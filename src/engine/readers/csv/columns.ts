import type { Unit } from '../../../../shared/units.ts';
import { readHeading } from '../columns/heading.ts';
import { type Meaning, meaningOf } from '../columns/meaning.ts';
import type { ProblemList } from '../problem-list.ts';
import type { CsvMapping } from '../reader.ts';
import { description } from './describe.ts';
import type { Layout } from './layout.ts';

/** A column of the table that is read. */
export interface ChosenColumn {
  readonly index: number;
  readonly heading: string;
  readonly meaning: Meaning;
  readonly unit?: Unit;
  readonly words: readonly string[];
}

interface Candidate extends ChosenColumn {
  /** Lower is better: a heading explained by the user, then the plainest. */
  readonly rank: number;
}

/** Of these all columns count: fuel stands in several tanks, and the best time is chosen by what it belongs to. */
const severalAllowed: ReadonlySet<Meaning> = new Set(['fuelQuantityM3', 'time', 'surroundingPressure']);

/** Picks the columns that a recording needs; what is not understood or not used is told in `contents` and problems. */
export function chooseColumns(
  layout: Layout,
  mapping: CsvMapping | undefined,
  problems: ProblemList,
  contents: string[],
): ChosenColumn[] {
  const at = { line: layout.headingLine };
  const explained = new Map(Object.entries(mapping?.columns ?? {}).map(([heading, text]) => [heading.trim(), text]));
  const candidates: Candidate[] = [];
  const unused: string[] = [];
  layout.headings.forEach((heading, index) => {
    const explanation = explained.get(heading);
    const parts = explanation === undefined ? readHeading(heading, layout.unitCells[index]) : readHeading(explanation);
    const understood = explanation?.trim() === 'ignore' ? undefined : meaningOf(parts);
    if (understood?.usable) {
      const rank = explanation === undefined ? understood.furtherWords : -1;
      candidates.push({ index, heading, meaning: understood.meaning, unit: understood.unit, words: parts.words, rank });
      return;
    }
    if (heading !== '') unused.push(heading);
    if (explanation !== undefined && explanation.trim() !== 'ignore') {
      problems.error(
        'csv-mapping-unclear',
        `"${explanation}" for the column "${heading}" is not understood: expected a quantity with its unit, like "altitude ft".`,
        at,
      );
    } else if (understood) {
      problems.warning(
        'csv-unit-missing',
        `The column "${heading}" has no unit and was not used: state it, as \`csv: { columns: { "${heading}": ${understated(understood.meaning)} } }\`.`,
        at,
      );
    }
  });
  for (const heading of explained.keys()) {
    if (!layout.headings.includes(heading)) {
      problems.error('csv-mapping-no-column', `The table has no column "${heading}".`, at);
    }
  }
  const chosen = candidates.filter(
    (candidate) => severalAllowed.has(candidate.meaning) || isBest(candidate, candidates),
  );
  unused.push(...candidates.filter((candidate) => !chosen.includes(candidate)).map((candidate) => candidate.heading));
  for (const column of chosen) contents.push(description(column));
  if (unused.length > 0) contents.push(`columns not used: ${unused.join(', ')}`);
  return chosen;
}

function isBest(candidate: Candidate, candidates: readonly Candidate[]): boolean {
  const same = candidates.filter((other) => other.meaning === candidate.meaning);
  return same.reduce((best, other) => (other.rank < best.rank ? other : best)) === candidate;
}

function understated(meaning: Meaning): string {
  if (meaning.startsWith('altitude') || meaning === 'barometricAltitude') return 'altitude ft';
  return meaning === 'verticalSpeedMps' ? 'vertical speed ft/min' : 'indicated airspeed kt';
}
