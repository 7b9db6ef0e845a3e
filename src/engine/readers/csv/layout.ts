import Papa from 'papaparse';
import { channelWords } from '../../track/channel-words.ts';
import { readHeading, unitOf } from '../columns/heading.ts';
import { meaningOf } from '../columns/meaning.ts';

/** How a table is laid out: everything that is needed to read its rows. */
export interface Layout {
  readonly delimiter: string;
  readonly decimalMark: '.' | ',';
  readonly headings: readonly string[];
  /** Cells of the row of units, aligned with `headings`; empty where there is none. */
  readonly unitCells: readonly string[];
  /** Line of the headings, from 1; rows begin after `lastHeadLine`. */
  readonly headingLine: number;
  readonly lastHeadLine: number;
  /** Tables whose rows begin with the kind of record: only rows of this kind belong to the headings. */
  readonly rowKind?: string;
}

const delimiters = [',', ';', '\t', '|'] as const;

/** Headings further down than this are not looked for. */
const longestPreamble = 200;

/** Parses whole lines into cells; quotes are honoured where they are balanced. */
export function parseRows(text: string, delimiter: string, quoted = true): { rows: string[][]; quotesOpen: boolean } {
  const { data, errors } = Papa.parse<string[]>(text.endsWith('\n') ? text.slice(0, -1) : text, {
    delimiter,
    newline: '\n',
    ...(quoted ? {} : { quoteChar: '\u0000' }),
  });
  return { rows: data, quotesOpen: errors.some((error) => error.code === 'MissingQuotes') };
}

/**
 * Finds the row of headings, the one that names a latitude and a longitude, and with it the delimiter. `named` are
 * headings that the user explained. `undefined` where no row names both. With `withoutPositions` a row that names a time
 * and two channels will do, where there is none with positions.
 */
export function findLayout(sample: string, named: ReadonlySet<string>, withoutPositions = false): Layout | undefined {
  const found = layoutWith(sample, (row) => namesPosition(row, named));
  return found ?? (withoutPositions ? layoutWith(sample, namesChannels) : undefined);
}

function layoutWith(sample: string, isHeadings: (row: readonly string[]) => boolean): Layout | undefined {
  const lines = sample.split('\n', longestPreamble);
  let best: Layout | undefined;
  for (const delimiter of delimiters) {
    const rows = lines.map((line) => parseRows(line, delimiter, !oddQuotes(line)).rows[0] ?? []);
    const at = rows.findIndex((row) => isHeadings(row));
    if (at === -1) continue;
    const layout = layoutAt(rows, at, delimiter);
    if (!best || layout.headings.length > best.headings.length) best = layout;
  }
  return best;
}

/** The row that looks most like headings, where none names a position: the first with the most cells, mostly words. */
export function likelyHeadings(sample: string): readonly string[] {
  const lines = sample.split('\n', longestPreamble).slice(0, 20);
  let best: readonly string[] = [];
  for (const delimiter of delimiters) {
    for (const line of lines) {
      const cells = parseRows(line, delimiter, !oddQuotes(line)).rows[0] ?? [];
      const words = cells.filter((cell) => /\p{L}/u.test(cell)).length;
      if (cells.length > Math.max(1, best.length) && cells.length <= 2000 && words > cells.length / 2) best = cells;
    }
  }
  return best;
}

function oddQuotes(line: string): boolean {
  return (line.match(/"/g)?.length ?? 0) % 2 === 1;
}

function namesPosition(row: readonly string[], named: ReadonlySet<string>): boolean {
  if (row.length < 2 || row.length > 2000) return false;
  const meanings = row.map((cell) => meaningOf(readHeading(cell))?.meaning);
  if (meanings.includes('latitude') && meanings.includes('longitude')) return true;
  return row.filter((cell) => named.has(cell.trim())).length >= 2;
}

function namesChannels(row: readonly string[]): boolean {
  if (row.length < 3 || row.length > 2000) return false;
  const meanings = row.flatMap((cell) => meaningOf(readHeading(cell))?.meaning ?? []);
  return meanings.includes('time') && meanings.filter((meaning) => Object.hasOwn(channelWords, meaning)).length >= 2;
}

function layoutAt(rows: readonly (readonly string[])[], at: number, delimiter: string): Layout {
  const row = rows[at];
  const tagged = /^\$COL$/i.test(row[0].trim());
  const headings = row.slice(tagged ? 2 : 0).map((cell, i) => (i === 0 ? cell.replace(/^\s*#\s*/, '') : cell).trim());
  const candidates = tagged ? [at + 1, at - 1] : [at + 1, at - 1, at - 2];
  const unitRow = candidates.find((line) => line >= 0 && isUnitRow(rows[line] ?? [], tagged, headings.length));
  const unitCells =
    unitRow === undefined ? [] : rows[unitRow].slice(tagged ? 2 : 0).map((cell) => cell.replace(/^\s*#/, '').trim());
  const lastHead = Math.max(at, unitRow ?? 0);
  const body = rows.slice(lastHead + 1);
  return {
    delimiter,
    decimalMark: delimiter !== ',' && usesDecimalComma(body) ? ',' : '.',
    headings,
    unitCells,
    headingLine: at + 1,
    lastHeadLine: lastHead + 1,
    ...(tagged ? { rowKind: row[1].trim() } : {}),
  };
}

/** Mostly units and no numbers, as wide as the headings. */
function isUnitRow(row: readonly string[], tagged: boolean, width: number): boolean {
  const cells = row.slice(tagged ? 2 : 0).map((cell) => cell.trim());
  if (tagged && !/^\$UNIT$/i.test((row[0] ?? '').trim())) return false;
  const filled = cells.filter((cell) => cell !== '');
  if (filled.length < 2 || Math.abs(cells.length - width) > 1) return false;
  if (filled.some((cell) => /^[-+]?\d+(?:[.,]\d+)?$/.test(cell))) return false;
  const units = filled.filter((cell) => unitOf(cell.replace(/^#/, '')).unit !== undefined).length;
  return units >= 2 && units >= filled.length / 4;
}

function usesDecimalComma(rows: readonly (readonly string[])[]): boolean {
  let commas = 0;
  let points = 0;
  for (const row of rows) {
    for (const cell of row) {
      if (/^\s*[-+]?\d+,\d+\s*$/.test(cell)) commas++;
      else if (/^\s*[-+]?\d+\.\d+\s*$/.test(cell)) points++;
    }
  }
  return commas > points;
}
