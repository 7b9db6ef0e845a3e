import type { Place } from '../../../shared/problem.ts';
import { describeDimension, parseQuantity } from '../../../shared/quantity.ts';
import { type Dimension, type Unit, unitsOf } from '../../../shared/units.ts';
import { type KeyMeta, metaOf } from './grammar/key-meta.ts';
import { specShape } from './grammar/language.ts';
import { alternatives, keysOf, shapeAt } from './grammar/walk.ts';
import { type Path, readYaml } from './yaml-tree.ts';

/** What the editor asks about a spec while it is being written: it need not be complete, nor valid YAML yet. */

/** Place of the value at a path; with `on: 'key'` of its key; undefined when it is not in the file. */
export function locate(text: string, path: Path, on: 'key' | 'value' = 'value'): Place | undefined {
  const tree = readYaml(text, '');
  if (!tree.has(path)) return undefined;
  const { file: _, ...place } = on === 'key' ? tree.placeOfKey(path) : tree.placeOf(path);
  return place;
}

/** Where a position is in the language. Lines and columns are counted from 1. */
export interface Position {
  /** Of the block that holds the line; an index is always 0 for lack of counting. */
  readonly block: Path;
  /** Key on this line, when its colon is written. */
  readonly key?: string;
  /** True right of the colon. */
  readonly inValue: boolean;
  /** Columns of the word that stands at the position. */
  readonly from: number;
  readonly to: number;
  readonly word: string;
}

interface Line {
  /** Column (from 0) of the first character of the content, after "- ". */
  readonly indent: number;
  /** Column of the dash, where the line starts an entry. */
  readonly dash?: number;
  readonly key?: string;
}

const keyPattern = /^((?:"(?:[^"\\]|\\.)*"|'[^']*'|[^\s#:'"[{][^#:]*?))\s*:(?=\s|$)/;

function readLine(text: string): Line | undefined {
  const start = text.search(/\S/);
  if (start < 0 || text[start] === '#') return undefined;
  const dash = /^-(?:\s+|$)/.exec(text.slice(start));
  const indent = dash === null ? start : start + Math.max(2, dash[0].length);
  const key = keyPattern.exec(text.slice(indent))?.[1].replace(/^(['"])(.*)\1$/, '$2');
  return { indent, ...(dash === null ? {} : { dash: start }), ...(key === undefined ? {} : { key }) };
}

/** The blocks around a line, from its indentation and the lines above. */
function blockAround(lines: readonly string[], index: number, indent: number, dash: number | undefined): Path {
  const path: (string | number)[] = [];
  let limit = indent;
  if (dash !== undefined) {
    path.unshift(0);
    limit = dash;
  }
  let inEntry = dash !== undefined;
  for (let at = index - 1; at >= 0 && (limit > 0 || inEntry); at--) {
    const line = readLine(lines[at]);
    if (line === undefined) continue;
    if (line.dash !== undefined && line.indent <= limit && line.dash < limit && !inEntry) {
      if (line.indent < limit && line.key !== undefined) path.unshift(line.key);
      path.unshift(0);
      limit = line.dash;
      inEntry = true;
    } else if (
      line.key !== undefined &&
      line.dash === undefined &&
      (line.indent < limit || (inEntry && line.indent <= limit))
    ) {
      path.unshift(line.key);
      limit = line.indent;
      inEntry = false;
    }
  }
  return path;
}

/** What is open inside the line: the keys that lead into the innermost `{`, and where its current entry starts. */
function bracesAround(
  before: string,
  indent: number,
  lineKey: string | undefined,
): { readonly path: Path; readonly start: number; readonly open: number } | undefined {
  interface Open {
    readonly sign: string;
    /** Key that it is the value of, or an index in a list. */
    readonly step: string | number | undefined;
    readonly open: number;
    segment: number;
  }
  const stack: Open[] = [];
  for (let at = indent; at < before.length; at++) {
    const sign = before[at];
    const top = stack.at(-1);
    if (sign === '"' || sign === "'") {
      const end = before.indexOf(sign, at + 1);
      if (end < 0) break;
      at = end;
    } else if (sign === '#' && /\s/.test(before[at - 1] ?? ' ')) break;
    else if (sign === '{' || sign === '[') {
      const key = top === undefined ? lineKey : keyPattern.exec(before.slice(top.segment).trimStart())?.[1];
      const step = top?.sign === '[' ? 0 : key?.replace(/^(['"])(.*)\1$/, '$2');
      stack.push({ sign, step, open: at, segment: at + 1 });
    } else if (sign === '}' || sign === ']') stack.pop();
    else if (sign === ',' && top !== undefined) top.segment = at + 1;
  }
  const inner = stack.map(({ sign }) => sign).lastIndexOf('{');
  if (inner < 0) return undefined;
  const { segment, open } = stack[inner];
  return { path: stack.slice(0, inner + 1).flatMap(({ step }) => step ?? []), start: segment, open };
}

/** Reads the position from indentation; block style, and what is open in `{ }` and `[ ]` on the line. */
export function positionAt(text: string, line: number, column: number): Position {
  const lines = text.split(/\r?\n/);
  const own = lines[line - 1] ?? '';
  const before = own.slice(0, column - 1);
  const read = readLine(own) ?? { indent: before.length };
  let block = blockAround(lines, line - 1, read.indent, read.dash);
  let key = read.key;
  let start = read.indent;
  const braces = bracesAround(before, read.indent, key);
  if (braces !== undefined) {
    block = [...block, ...braces.path];
    start = braces.start + own.slice(braces.start).search(/\S|$/);
    key = keyPattern.exec(own.slice(start))?.[1].replace(/^(['"])(.*)\1$/, '$2');
  }
  const colon = key === undefined ? -1 : own.indexOf(':', start + key.length);
  const inValue = colon >= 0 && column - 1 > colon;
  const from = inValue ? colon + 1 + own.slice(colon + 1).search(/\S|$/) : start;
  const rest = own.slice(from);
  const end = inValue ? rest.search(/\s*(?:#.*)?$|\s*[,}\]]/) : rest.search(/:|\s|$/);
  const to = Math.max(from + Math.max(0, end), inValue ? from : Math.min(column - 1, own.length));
  return {
    block,
    ...(key === undefined ? {} : { key }),
    inValue,
    from: from + 1,
    to: to + 1,
    word: own.slice(from, to),
  };
}

export interface Explanation {
  readonly name: string;
  readonly meta: KeyMeta;
  readonly required: boolean;
  /** "a temperature: degC, degF, K". */
  readonly units?: string;
}

/** What the key on a line means. */
export function explainAt(text: string, line: number, column: number): Explanation | undefined {
  const position = positionAt(text, line, column);
  if (position.key === undefined) return undefined;
  const block = shapeAt(specShape, position.block);
  const known = block && keysOf(block).find((entry) => entry.name === position.key);
  if (known === undefined) return undefined;
  return {
    name: known.name,
    meta: known.meta,
    required: known.required,
    ...(known.meta.dimension === undefined ? {} : { units: describeDimension(known.meta.dimension) }),
  };
}

export interface Suggestion {
  readonly label: string;
  readonly insert: string;
  readonly doc: string;
  readonly kind: 'key' | 'word' | 'name' | 'unit';
  /** Columns, from 1, that the insertion replaces. */
  readonly from: number;
  readonly to: number;
}

function namesIn(value: unknown, names: NonNullable<KeyMeta['names']>): string[] {
  const root = (value ?? {}) as Record<string, Record<string, unknown> | unknown[] | undefined>;
  const keys = (mapping: unknown): string[] =>
    typeof mapping === 'object' && mapping !== null && !Array.isArray(mapping) ? Object.keys(mapping) : [];
  switch (names) {
    case 'configurations':
    case 'airfields':
    case 'days':
      return keys(root[names]);
    case 'runways': {
      const fields = keys(root.airfields).map(
        (name) => (root.airfields as Record<string, { runways?: unknown }>)[name],
      );
      return [...new Set(fields.flatMap((field) => keys(field?.runways)))];
    }
    case 'tracks':
      return (Array.isArray(root.flights) ? root.flights : []).flatMap((flight: unknown) => {
        const track = (flight as { track?: unknown } | null)?.track;
        return typeof track === 'string' ? [track] : [];
      });
    case 'metrics':
      return [];
    default:
      return [];
  }
}

/** The places for people, baggage and fuel that are defined under `loading`. */
function stationNames(value: unknown): string[] {
  const { loading } = (value ?? {}) as { readonly loading?: { readonly stations?: unknown } };
  const stations = loading?.stations;
  return typeof stations === 'object' && stations !== null && !Array.isArray(stations) ? Object.keys(stations) : [];
}

/** A name as YAML wants it: quoted where it would not stand by itself. */
export function yamlText(text: string): string {
  const plain = /^[A-Za-z\u00c0-\u024f_./][^#:{}[\],&*!|>'"%@`\n\t]*$/.test(text) && text === text.trim();
  // "2026-05-03.gpx" can be nothing but text to any reader of YAML.
  if (/^\d[\w./-]*\.[A-Za-z]{3,4}$/.test(text)) return text;
  return plain && !/^(?:true|false|yes|no|null|on|off|~)$/i.test(text) ? text : JSON.stringify(text);
}

/** What may be written at a position: keys that are not there yet, words, names that are defined in the file, units. */
export function suggestAt(text: string, line: number, column: number): readonly Suggestion[] {
  const position = positionAt(text, line, column);
  const { from, to } = position;
  const block = shapeAt(specShape, position.block);
  if (block === undefined) return [];
  if (position.inValue) {
    const known = keysOf(block).find((entry) => entry.name === position.key);
    const shape = known?.shape ?? shapeAt(specShape, [...position.block, position.key ?? '']);
    return shape === undefined ? [] : valueSuggestions(shape, text, line, position);
  }
  const own = text.split(/\r?\n/)[line - 1] ?? '';
  const braces = bracesAround(own.slice(0, column - 1), 0, undefined);
  const present = braces === undefined ? presentKeys(text, line, position) : keysInBraces(own, braces.open);
  const keys = keysOf(block)
    .filter((entry) => entry.name === position.word || !present.has(entry.name))
    .map((entry): Suggestion => {
      const colon = position.key === undefined ? ': ' : '';
      return { label: entry.name, insert: `${entry.name}${colon}`, doc: entry.meta.doc, kind: 'key', from, to };
    });
  const stations = metaOf(block)?.keyNames === undefined ? [] : stationNames(valueWithoutLine(text, line));
  const named = stations
    .filter((name) => name === position.word || !present.has(name))
    .map((name): Suggestion => {
      const colon = position.key === undefined ? ': ' : '';
      return { label: name, insert: `${yamlText(name)}${colon}`, doc: 'A station.', kind: 'name', from, to };
    });
  return [...keys, ...named, ...(position.key === undefined ? valueSuggestions(block, text, line, position) : [])];
}

function valueSuggestions(
  shape: Parameters<typeof keysOf>[0],
  text: string,
  line: number,
  position: Position,
): Suggestion[] {
  const { from, to } = position;
  const found: Suggestion[] = [];
  const metas = [metaOf(shape), ...alternatives(shape).map((option) => metaOf(option))].filter(
    (meta) => meta !== undefined,
  );
  const words = new Map(metas.flatMap((meta) => Object.entries(meta.words ?? {})));
  for (const [word, doc] of words) found.push({ label: word, insert: word, doc, kind: 'word', from, to });
  const names = metas.find((meta) => meta.names !== undefined)?.names;
  if (names !== undefined) {
    for (const name of namesIn(valueWithoutLine(text, line), names)) {
      found.push({ label: name, insert: yamlText(name), doc: metas[0]?.doc ?? '', kind: 'name', from, to });
    }
  }
  const dimension = metas.find((meta) => meta.dimension !== undefined)?.dimension;
  const number = /^[-+]?[\d.]+/.exec(position.word)?.[0];
  if (dimension !== undefined && number !== undefined) {
    const example = metas.find((meta) => meta.example !== undefined)?.example;
    for (const unit of usualFirst(dimension, example)) {
      const written = `${number} ${unit.symbol}`;
      found.push({ label: written, insert: written, doc: metas[0]?.doc ?? '', kind: 'unit', from, to });
    }
  }
  return found;
}

/** Units of a dimension, the one in which the key's example is written first: a rate of climb is not told in mph. */
export function usualFirst(dimension: Dimension, example: string | undefined): readonly Unit[] {
  const read = example === undefined ? undefined : parseQuantity(example.replace(/^"(.*)"$/, '$1'), dimension);
  const usual = read?.ok === true ? read.quantity.unit : undefined;
  const units = unitsOf(dimension);
  return usual === undefined ? units : [usual, ...units.filter((unit) => unit !== usual)];
}

/** What the file says when the line that is being written does not spoil it. */
function valueWithoutLine(text: string, line: number): unknown {
  const whole = readYaml(text, '');
  if (whole.value !== undefined) return whole.value;
  const lines = text.split(/\r?\n/);
  lines[line - 1] = '';
  return readYaml(lines.join('\n'), '').value;
}

/** Keys that stand in the braces that open at a column (from 0) of a line. */
function keysInBraces(line: string, open: number): ReadonlySet<string> {
  const present = new Set<string>();
  let depth = 0;
  for (let at = open; at < line.length; at++) {
    const sign = line[at];
    if (sign === '{' || sign === '[') depth++;
    else if (sign === '}' || sign === ']') depth--;
    if (depth === 0) break;
    if (depth !== 1 || (sign !== '{' && sign !== ',')) continue;
    const key = keyPattern.exec(line.slice(at + 1).trimStart())?.[1];
    if (key !== undefined) present.add(key.replace(/^(['"])(.*)\1$/, '$2'));
  }
  return present;
}

/** Keys that stand in the block around a line, above and below. */
function presentKeys(text: string, line: number, position: Position): ReadonlySet<string> {
  const lines = text.split(/\r?\n/);
  const own = readLine(lines[line - 1] ?? '');
  const indent = own?.indent ?? position.from - 1;
  const present = new Set<string>();
  const look = (step: 1 | -1): void => {
    for (let at = line - 1 + step; at >= 0 && at < lines.length; at += step) {
      const other = readLine(lines[at]);
      if (other === undefined) continue;
      if (other.indent < indent || (step === 1 && other.dash !== undefined && other.indent <= indent)) return;
      if (other.indent === indent && other.key !== undefined) present.add(other.key);
      if (step === -1 && other.dash !== undefined && other.indent <= indent) return;
    }
  };
  if (own?.dash === undefined) look(-1);
  look(1);
  return present;
}
