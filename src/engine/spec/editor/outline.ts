import type { Place } from '../../../../shared/problem.ts';
import { type Path, readYaml, type YamlTree } from '../yaml-tree.ts';
import { bare } from './tree-walk.ts';

export interface OutlineItem {
  readonly name: string;
  readonly detail: string;
  readonly kind: 'section' | 'configuration' | 'airfield' | 'runway' | 'day' | 'flight' | 'question' | 'entry';
  /** Of its key or, in a list, of its first line. */
  readonly at: Place;
  /** Last line that belongs to it. */
  readonly endLine: number;
  readonly children: readonly OutlineItem[];
}

type Mapping = Readonly<Record<string, unknown>>;

function isMapping(value: unknown): value is Mapping {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function textOf(value: unknown): string {
  return typeof value === 'string' ? value : '';
}

const kindOfEntry: Readonly<Record<string, OutlineItem['kind']>> = {
  configurations: 'configuration',
  airfields: 'airfield',
  days: 'day',
  flights: 'flight',
  questions: 'question',
};

/** What an entry of a list is about, and what to say beside it. */
function describeEntry(
  section: string,
  value: unknown,
  index: number,
): { readonly name: string; readonly detail: string } {
  if (!isMapping(value)) return { name: textOf(value) || `${index + 1}`, detail: '' };
  if (section === 'flights')
    return { name: textOf(value.track) || '(no track yet)', detail: textOf(value.configuration) };
  if (section === 'exclude')
    return {
      name: textOf(value.track),
      detail: [textOf(value.metric), textOf(value.because)].filter(Boolean).join(': '),
    };
  const [first] = Object.entries(value);
  if (first === undefined) return { name: `${index + 1}`, detail: '' };
  const name =
    first[0] === 'metric' || first[0] === 'name' ? textOf(first[1]) : `${first[0]} ${textOf(first[1])}`.trim();
  return { name, detail: value.primary === 'true' ? 'primary' : '' };
}

function describeNamed(section: string, value: unknown): string {
  if (!isMapping(value)) return textOf(value);
  if (section === 'configurations')
    return [value.baseline === 'true' ? 'baseline' : '', textOf(value.description)].filter(Boolean).join(': ');
  return textOf(value.description) || textOf(value.heading) || textOf(value.name);
}

/** Sections and what is in them, in the order of the file; empty while the text is no YAML. */
export function outlineOf(text: string): readonly OutlineItem[] {
  const tree = readYaml(text, '');
  if (!isMapping(tree.value)) return [];
  const lines = text.split(/\r?\n/);
  const sections = Object.keys(tree.value);
  for (const blank of tree.blanks) if (blank.length === 1) sections.push(String(blank[0]));
  return finish(
    sections.map((section) => sectionItem(section, tree)),
    lines.length,
    lines,
  );
}

function sectionItem(section: string, tree: YamlTree): OutlineItem {
  const value = (tree.value as Mapping)[section];
  const detail = isMapping(value) && section === 'aircraft' ? textOf(value.name) : textOf(value);
  return {
    name: section,
    detail,
    kind: 'section',
    at: bare(tree.placeOfKey([section])),
    endLine: 0,
    children: inside(section, value, tree),
  };
}

function inside(section: string, value: unknown, tree: YamlTree): OutlineItem[] {
  const kind = kindOfEntry[section] ?? 'entry';
  if (Array.isArray(value)) {
    return value.map((entry: unknown, index): OutlineItem => {
      const at = bare(tree.placeOf([section, index]));
      return { ...describeEntry(section, entry, index), kind, at, endLine: 0, children: [] };
    });
  }
  if (!isMapping(value)) return [];
  const named = ['configurations', 'airfields', 'days', 'candidates', 'missions'].includes(section);
  if (!named) return [];
  const names = [
    ...Object.keys(value),
    ...tree.blanks.filter((path) => path.length === 2 && path[0] === section).map((path) => String(path[1])),
  ];
  return names.map((name): OutlineItem => {
    const path: Path = [section, name];
    const runways = section === 'airfields' && isMapping(value[name]) ? value[name].runways : undefined;
    const children = isMapping(runways)
      ? Object.keys(runways).map(
          (runway): OutlineItem => ({
            name: runway,
            detail: describeNamed('runways', runways[runway]),
            kind: 'runway',
            at: bare(tree.placeOfKey([...path, 'runways', runway])),
            endLine: 0,
            children: [],
          }),
        )
      : [];
    return {
      name,
      detail: describeNamed(section, value[name]),
      kind,
      at: bare(tree.placeOfKey(path)),
      endLine: 0,
      children,
    };
  });
}

/** An item reaches to the next one, without the blank lines and comments between. */
function finish(items: readonly OutlineItem[], lastLine: number, lines: readonly string[]): OutlineItem[] {
  const sorted = [...items].sort(
    (a, b) => (a.at.line ?? 0) - (b.at.line ?? 0) || (a.at.column ?? 0) - (b.at.column ?? 0),
  );
  return sorted.map((item, index) => {
    const start = item.at.line ?? 1;
    const next = sorted.slice(index + 1).find((other) => (other.at.line ?? 1) > start);
    let endLine = Math.max(start, next === undefined ? lastLine : (next.at.line ?? 1) - 1);
    while (endLine > start && /^\s*(?:#.*)?$/.test(lines[endLine - 1] ?? '')) endLine--;
    return { ...item, endLine, children: finish(item.children, endLine, lines) };
  });
}

export interface Fold {
  /** From 1, both included. */
  readonly startLine: number;
  readonly endLine: number;
  readonly kind: 'block' | 'comment';
}

/** Foldable blocks by indentation, entries of lists and runs of comments; needs no valid YAML. */
export function foldsOf(text: string): readonly Fold[] {
  const lines = text.split(/\r?\n/);
  const folds: Fold[] = [];
  const open: { readonly line: number; readonly indent: number; readonly dash: boolean }[] = [];
  let last = 0;
  const close = (indent: number, dash: boolean): void => {
    while (open.length > 0) {
      const top = open[open.length - 1];
      // An entry of a list may stand in the column of the key that it belongs to.
      const within = top.indent < indent || (top.indent === indent && dash && !top.dash);
      if (within) return;
      open.pop();
      if (last > top.line) folds.push({ startLine: top.line, endLine: last, kind: 'block' });
    }
  };
  let comment = 0;
  lines.forEach((text, index) => {
    const line = index + 1;
    if (/^\s*#/.test(text)) {
      if (comment === 0) comment = line;
      return;
    }
    if (comment > 0 && line - 1 > comment) folds.push({ startLine: comment, endLine: line - 1, kind: 'comment' });
    comment = 0;
    const indent = text.search(/\S/);
    if (indent < 0) return;
    const dash = /^\s*-(?:\s|$)/.test(text);
    close(indent, dash);
    open.push({ line, indent, dash });
    last = line;
  });
  close(-1, false);
  return folds.sort((a, b) => a.startLine - b.startLine);
}
