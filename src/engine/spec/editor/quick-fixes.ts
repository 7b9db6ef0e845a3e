import type { Place, Problem } from '../../../../shared/problem.ts';
import { parseQuantity } from '../../../../shared/quantity.ts';
import { suggestAt, usualFirst, yamlText } from '../assist.ts';
import { metaOf } from '../grammar/key-meta.ts';
import { languageVersion, specShape } from '../grammar/language.ts';
import { alternatives, keysOf, shapeAt } from '../grammar/walk.ts';
import { nearest } from '../nearest.ts';
import { type Path, readYaml, type YamlTree } from '../yaml-tree.ts';
import { walkTree } from './tree-walk.ts';

export interface TextEditAt {
  /** What is replaced; an empty place (`column` = `endColumn`) is an insertion. */
  readonly at: Place;
  readonly text: string;
}

export interface QuickFix {
  readonly title: string;
  readonly edits: readonly TextEditAt[];
  /** The one that is probably meant. */
  readonly preferred: boolean;
}

const mostChoices = 8;

function samePlace(a: Place | undefined, b: Place): boolean {
  return a?.line === b.line && a?.column === b.column;
}

/** Everything that is written, blanks included. */
function pathsOf(tree: YamlTree): Path[] {
  const paths: Path[] = [...tree.blanks];
  walkTree(tree, ({ path }) => paths.push(path));
  return paths;
}

function rawAt(text: string, at: Place): string {
  const line = text.split(/\r?\n/)[(at.line ?? 1) - 1] ?? '';
  const end = at.endLine === at.line && at.endColumn !== undefined ? at.endColumn - 1 : line.length;
  return line.slice((at.column ?? 1) - 1, end).trimEnd();
}

/** The place of one word on one line, as long as the text that stands there. */
function placeOfRaw(at: Place, raw: string): Place {
  const column = at.column ?? 1;
  return { line: at.line, column, endLine: at.line, endColumn: column + raw.length };
}

function replace(title: string, at: Place, raw: string, text: string, preferred: boolean): QuickFix {
  return { title, edits: [{ at: placeOfRaw(at, raw), text }], preferred };
}

function unknownKey(text: string, at: Place, tree: YamlTree): QuickFix[] {
  const path = pathsOf(tree).find(
    (candidate) => samePlace(tree.placeOfKey(candidate), at) && typeof candidate.at(-1) === 'string',
  );
  const parent = path && shapeAt(specShape, path.slice(0, -1));
  if (path === undefined || parent === undefined) return [];
  const key = String(path[path.length - 1]);
  const known = keysOf(parent);
  const wanted = key.toLowerCase().replace(/[_\s]+/g, '-');
  const near =
    known.find((entry) => entry.meta.alsoCalled?.includes(wanted))?.name ??
    nearest(
      key,
      known.map(({ name }) => name),
    );
  if (near === undefined || tree.has([...path.slice(0, -1), near])) return [];
  const raw = rawAt(text, tree.placeOfKey(path));
  return [replace(`Change to "${near}"`, at, raw === '' ? key : raw, near, true)];
}

/** "720 +- 10" and "720,5" and "12 gal": the number with each unit that may have been meant. */
function quantity(text: string, at: Place, tree: YamlTree): QuickFix[] {
  const path = pathsOf(tree).find((candidate) => samePlace(tree.placeOf(candidate), at));
  const shape = path && shapeAt(specShape, path);
  const metas = shape === undefined ? [] : [metaOf(shape), ...alternatives(shape).map((option) => metaOf(option))];
  const dimension = metas.find((meta) => meta?.dimension !== undefined)?.dimension;
  if (dimension === undefined) return [];
  const units = usualFirst(dimension, metas.find((meta) => meta?.example !== undefined)?.example);
  const raw = rawAt(text, at);
  const plain = raw.replace(/^(['"])(.*)\1$/, '$2').trim();
  const quote = plain === raw ? '' : raw[0];
  const offer = (choices: readonly string[]): QuickFix[] =>
    [...new Set(choices)]
      .filter((choice) => parseQuantity(choice, dimension).ok)
      .slice(0, mostChoices)
      .map((choice, index, all) =>
        replace(`Write "${choice}"`, at, raw, `${quote}${choice}${quote}`, index === 0 && all.length === 1),
      );
  const read = parseQuantity(plain, dimension);
  if (read.ok) return [];
  const pointed = plain.replace(/(\d),(\d{1,2})(?!\d)/, '$1.$2').replace(/(\d)[,' \u2019](\d{3})(?!\d)/g, '$1$2');
  if (read.fault === 'not-a-number' && pointed !== plain) {
    const withUnit = units.map((unit) => `${pointed} ${unit.symbol}`);
    return offer(parseQuantity(pointed, dimension).ok ? [pointed] : withUnit);
  }
  if (read.fault === 'no-unit') return offer(units.map((unit) => `${plain} ${unit.symbol}`));
  const number = /^[-+]?[\d.]+(?:\s*(?:±|\+\/-|\+-)\s*[\d.]+)?/.exec(plain)?.[0];
  if (number === undefined) return [];
  if (read.fault === 'ambiguous-unit' || read.fault === 'unknown-unit' || read.fault === 'wrong-dimension')
    return offer(units.map((unit) => `${number} ${unit.symbol}`));
  return [];
}

/** "850 kg at 350": a corner of the envelope with the units that are missing. */
function corner(text: string, at: Place): QuickFix[] {
  const raw = rawAt(text, at).replace(/[,\]\s]+$/, '');
  const match = /^([-+]?[\d.]+)\s*([A-Za-z]*)\s+at\s+([-+]?[\d.]+)\s*([A-Za-z]*)$/.exec(raw);
  if (match === null) return [];
  const [, mass, massUnit, arm, armUnit] = match;
  const masses = massUnit === '' ? ['kg', 'lb'] : [massUnit];
  const arms = armUnit === '' ? ['mm', 'in'] : [armUnit];
  return masses
    .flatMap((one) => arms.map((other) => `${mass} ${one} at ${arm} ${other}`))
    .filter((choice) =>
      choice.split(' at ').every((part, index) => parseQuantity(part, index === 0 ? 'mass' : 'length').ok),
    )
    .map((choice) => replace(`Write "${choice}"`, at, raw, choice, false));
}

/** The value that the message itself proposes. */
function meant(text: string, problem: Problem, at: Place): QuickFix[] {
  const proposed = /Did you mean "([^"]+)"\?$/.exec(problem.message)?.[1];
  const raw = rawAt(text, at).replace(/\s*#.*$/, '');
  if (proposed === undefined || raw === '') return [];
  return [replace(`Change to "${proposed}"`, at, raw, proposed, true)];
}

/** A word or a name that is not known here: those that are, the nearest first. */
function word(text: string, at: Place): QuickFix[] {
  const raw = rawAt(text, at);
  const plain = raw.replace(/^(['"])(.*)\1$/, '$2');
  const suggestions = suggestAt(text, at.line ?? 1, (at.column ?? 1) + 1).filter(
    ({ kind }) => kind === 'word' || kind === 'name',
  );
  const near = nearest(
    plain,
    suggestions.map(({ label }) => label),
  );
  const ordered = [...suggestions].sort((a, b) => Number(b.label === near) - Number(a.label === near));
  const few = suggestions.length <= mostChoices ? ordered : ordered.filter(({ label }) => label === near);
  return few.map(({ label, insert }) => replace(`Change to "${label}"`, at, raw, insert, label === near));
}

/** A blank whose answer is one of a few words or names. */
function blank(text: string, at: Place): QuickFix[] {
  const line = text.split(/\r?\n/)[(at.line ?? 1) - 1] ?? '';
  const colon = line.indexOf(':', (at.endColumn ?? at.column ?? 1) - 1);
  if (colon < 0) return [];
  const rest = line.slice(colon + 1);
  const behind = colon + 2;
  const suggestions = suggestAt(text, at.line ?? 1, behind + 1).filter(
    ({ kind }) => kind === 'word' || kind === 'name',
  );
  if (suggestions.length > mostChoices) return [];
  const gap = /^\s*/.exec(rest)?.[0] ?? '';
  return suggestions.map(({ label, insert }) => ({
    title: `Fill in "${label}"`,
    edits: [
      {
        at: { line: at.line, column: behind, endLine: at.line, endColumn: behind + gap.length },
        text: ` ${insert}${rest.trim() === '' ? '' : ' '}`,
      },
    ],
    preferred: false,
  }));
}

function missingKey(text: string, problem: Problem, at: Place, tree: YamlTree): QuickFix[] {
  const missing = /^Missing "([^"]+)"/.exec(problem.message)?.[1];
  // "Give "weight: …" or "load: …"": each of them.
  const proposed = [...problem.message.matchAll(/"([a-z-]+): …"/g)].map((match) => match[1]);
  const names = missing === undefined ? proposed : [missing];
  return names.flatMap((name) => addKey(name, text, at, tree));
}

function addKey(name: string, text: string, at: Place, tree: YamlTree): QuickFix[] {
  const parent = pathsOf(tree)
    .filter((path) => samePlace(tree.placeOfKey(path), at))
    .find((path) => {
      const shape = shapeAt(specShape, path);
      return shape !== undefined && keysOf(shape).some((entry) => entry.name === name);
    });
  const lines = text.split(/\r?\n/);
  if (parent === undefined) {
    if (!keysOf(specShape).some((entry) => entry.name === name)) return [];
    if (name === 'modproof') return [insertAbove(1, `modproof: ${languageVersion}`, 'Add "modproof: 1"')];
    return [insertBelow(lines.length, lines, `${name}:`, `Add "${name}"`)];
  }
  const first = pathsOf(tree).filter(
    (path) => path.length === parent.length + 1 && JSON.stringify(path.slice(0, -1)) === JSON.stringify(parent),
  );
  const places = first
    .map((path) => tree.placeOfKey(path))
    .sort((a, b) => (a.line ?? 0) - (b.line ?? 0) || (a.column ?? 0) - (b.column ?? 0));
  const child = places[0];
  if (child?.line === undefined || child.column === undefined) return [];
  const before = lines[child.line - 1].slice(0, child.column - 1);
  // Inside braces the key goes in front of the first one.
  if (/[{,]\s*$/.test(before)) {
    return [
      {
        title: `Add "${name}"`,
        edits: [
          {
            at: { line: child.line, column: child.column, endLine: child.line, endColumn: child.column },
            text: `${name}: , `,
          },
        ],
        preferred: false,
      },
    ];
  }
  const indent = ' '.repeat(child.column - 1);
  return [insertBelow(child.line, lines, `${indent}${name}:`, `Add "${name}"`)];
}

function insertAbove(line: number, written: string, title: string): QuickFix {
  return {
    title,
    edits: [{ at: { line, column: 1, endLine: line, endColumn: 1 }, text: `${written}\n` }],
    preferred: true,
  };
}

/** Below a line, so that the block that starts there is left whole. */
function insertBelow(line: number, lines: readonly string[], written: string, title: string): QuickFix {
  const column = (lines[line - 1] ?? '').length + 1;
  const lead = line === lines.length && column === 1 ? '' : '\n';
  return {
    title,
    edits: [{ at: { line, column, endLine: line, endColumn: column }, text: `${lead}${written}` }],
    preferred: false,
  };
}

/** No configuration is the baseline: each may be it. */
function baseline(text: string, tree: YamlTree): QuickFix[] {
  const configurations = (tree.value as { configurations?: unknown } | undefined)?.configurations;
  if (typeof configurations !== 'object' || configurations === null) return [];
  const lines = text.split(/\r?\n/);
  return Object.keys(configurations)
    .slice(0, mostChoices)
    .flatMap((name): QuickFix[] => {
      const children = pathsOf(tree).filter(
        (path) => path.length === 3 && path[0] === 'configurations' && path[1] === name,
      );
      const [place] = children
        .map((path) => tree.placeOfKey(path))
        .sort((a, b) => (a.line ?? 0) - (b.line ?? 0) || (a.column ?? 0) - (b.column ?? 0));
      if (place?.line === undefined || place.column === undefined) return [];
      const before = lines[place.line - 1].slice(0, place.column - 1);
      const separator = /[{,]\s*$/.test(before) ? ', ' : `\n${' '.repeat(place.column - 1)}`;
      const at = { line: place.line, column: place.column, endLine: place.line, endColumn: place.column };
      return [
        { title: `Make "${name}" the baseline`, edits: [{ at, text: `baseline: true${separator}` }], preferred: false },
      ];
    });
}

function lastName(path: string): string {
  return path.split('/').pop() ?? path;
}

/** Recordings that exist and may have been meant: the same name elsewhere or with another ending, or nearly the same name. */
function track(text: string, at: Place, existing: readonly string[]): QuickFix[] {
  const raw = rawAt(text, at).replace(/^["']|["']$/g, '');
  const stem = (path: string): string =>
    lastName(path)
      .replace(/\.[^.]*$/, '')
      .toLowerCase();
  const same = existing.filter((path) => stem(path) === stem(raw));
  const near = nearest(raw, existing) ?? nearest(lastName(raw), existing.map(lastName));
  const nearPath = existing.find((path) => path === near || lastName(path) === near);
  const choices = [...new Set([...same, ...(nearPath === undefined ? [] : [nearPath])])].slice(0, 3);
  const quoted = /["']/.test(rawAt(text, at)[0] ?? '');
  return choices.map((path, index) => {
    const whole = rawAt(text, at);
    return replace(`Change to "${path}"`, at, whole, quoted ? JSON.stringify(path) : yamlText(path), index === 0);
  });
}

function tabs(text: string, at: Place): QuickFix[] {
  const lines = text.split(/\r?\n/);
  const edits = lines.flatMap((line, index): TextEditAt[] => {
    const lead = /^[ \t]*\t[ \t]*/.exec(line)?.[0];
    if (lead === undefined) return [];
    return [
      {
        at: { line: index + 1, column: 1, endLine: index + 1, endColumn: lead.length + 1 },
        text: lead.replaceAll('\t', '  '),
      },
    ];
  });
  return edits.some((edit) => edit.at.line === at.line)
    ? [{ title: 'Indent with spaces', edits, preferred: true }]
    : [];
}

/** What may be done about a problem of a spec. `existing`: recordings that are there, as they would be written. */
export function quickFixes(text: string, problem: Problem, existing: readonly string[] = []): readonly QuickFix[] {
  const { at } = problem;
  if (at?.line === undefined || at.column === undefined) return [];
  if (problem.code === 'spec-yaml') return tabs(text, at);
  if (problem.code === 'track-not-found') return track(text, at, existing);
  const tree = readYaml(text, '');
  if (tree.value === undefined) return [];
  switch (problem.code) {
    case 'spec-unknown-key':
      return unknownKey(text, at, tree);
    case 'spec-impossible':
      return meant(text, problem, at);
    case 'spec-quantity':
      return /is no corner/.test(problem.message) ? corner(text, at) : quantity(text, at, tree);
    case 'spec-word':
    case 'spec-surface':
    case 'spec-unknown-name':
      return word(text, at);
    case 'spec-blank':
      return blank(text, at);
    case 'spec-missing-key':
      return missingKey(text, problem, at, tree);
    case 'spec-baseline':
      return baseline(text, tree);
    default:
      return [];
  }
}
