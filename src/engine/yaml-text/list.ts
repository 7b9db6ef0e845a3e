import { isMap, isScalar, isSeq, parseDocument, type YAMLMap } from 'yaml';
import { CannotEdit, lineBreak, lineEnd, lineStart, type TextEdit } from './text-edit.ts';

/** The list under a key at the top of a YAML text, written as lines that begin with a dash. */
export interface BlockList {
  /** Entries that are mappings. */
  readonly items: readonly YAMLMap[];
  /** Where the value of a node stands in the text. */
  rangeOf(node: unknown): readonly [number, number];
  /** The edit that adds an entry of these lines (without dash and indentation) at its end, making the list where there is none. */
  append(lines: readonly string[]): TextEdit;
}

function rangeOf(node: unknown): readonly [number, number] {
  const range = (node as { range?: readonly [number, number, number] | null }).range;
  if (range === undefined || range === null) throw new CannotEdit('An entry has no place in the text.');
  return [range[0], range[1]];
}

/**
 * Opens a list for changes that leave everything else as it was written. Throws {@link CannotEdit} where the text is no
 * YAML, or the list is written in brackets.
 */
export function openList(text: string, key: string): BlockList {
  const document = parseDocument(text);
  if (document.errors.length > 0) throw new CannotEdit('The text is not valid YAML: put that right first.');
  const newline = lineBreak(text);
  const entry = (lines: readonly string[], indent: string): string =>
    lines.map((line, index) => `${indent}${index === 0 ? '- ' : '  '}${line}${newline}`).join('');
  const insert = (at: number, added: string): TextEdit => ({
    start: at,
    end: at,
    text: (at > 0 && text[at - 1] !== '\n' ? newline : '') + added,
  });
  const root: unknown = document.contents;
  if (root !== null && (!isMap(root) || root.flow === true)) {
    throw new CannotEdit(`The text does not have "${key}:" at the beginning of a line.`);
  }
  const list: unknown = root === null ? undefined : root.get(key, true);
  if (list === undefined) {
    return {
      items: [],
      rangeOf,
      append: (lines) => insert(text.length, `${key}:${newline}${entry(lines, '  ')}`),
    };
  }
  if (isScalar(list) && list.value === null) {
    const pair = root?.items.find((one) => isScalar(one.key) && one.key.value === key);
    const at = lineEnd(text, isScalar(pair?.key) ? rangeOf(pair.key)[1] : 0);
    return { items: [], rangeOf, append: (lines) => insert(at, entry(lines, '  ')) };
  }
  if (!isSeq(list) || list.flow === true) {
    throw new CannotEdit(`"${key}" is not written as a list of lines beginning with "-".`);
  }
  return {
    items: list.items.filter((item): item is YAMLMap => isMap(item)),
    rangeOf,
    append(lines) {
      if (list.items.length === 0) throw new CannotEdit(`"${key}" is written in brackets.`);
      const [first] = rangeOf(list.items[0]);
      const [, last] = rangeOf(list.items[list.items.length - 1]);
      const dash = text.lastIndexOf('-', first);
      const indent = text.slice(lineStart(text, dash), dash);
      return insert(text[last - 1] === '\n' ? last : lineEnd(text, last), entry(lines, indent));
    },
  };
}
