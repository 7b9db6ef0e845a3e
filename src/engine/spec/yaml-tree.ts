import { isAlias, isMap, isScalar, isSeq, LineCounter, type Node, parseDocument, Scalar } from 'yaml';
import type { Place, Problem } from '../../../shared/problem.ts';
import { refuseYaml } from './yaml-guard.ts';

/** A step into a spec: key of a mapping or index of a list. */
export type Path = readonly (string | number)[];

/** A spec as plain text values, with the place of everything in it. */
export interface YamlTree {
  /** Mappings, lists and strings only; blanks are left out. Absent when the text is no YAML. */
  readonly value?: unknown;
  readonly problems: readonly Problem[];
  /** Keys that are written with nothing after them. */
  readonly blanks: readonly Path[];
  /** Place of the value at a path, or of the nearest thing above it that is in the file. */
  placeOf(path: Path): Place;
  /** Place of the key at a path; of the value where it has none. */
  placeOfKey(path: Path): Place;
  has(path: Path): boolean;
}

interface Span {
  readonly key?: readonly [number, number];
  readonly value: readonly [number, number];
}

/** More nodes than this come only from aliases of aliases. */
const mostNodes = 200_000;
const mostYamlErrors = 20;
/** Names that would not be ordinary properties of an object. */
const forbiddenNames = new Set(['__proto__', 'constructor', 'prototype']);

function joined(path: Path): string {
  return JSON.stringify(path);
}

const plainer: Readonly<Record<string, string>> = {
  TAB_AS_INDENT: 'A tab stands where YAML wants spaces: indent with spaces.',
  BAD_INDENT: 'The indentation does not fit the lines above: keys of one block start in the same column.',
  MULTIPLE_DOCS: 'A second document starts here ("---"): a spec is one document.',
  MISSING_CHAR: 'Something is missing here: a colon after the key, a closing quote or a closing bracket.',
  RESOURCE_EXHAUSTION: 'The nesting is too deep.',
};

/** Reads YAML as text values only (no numbers, dates or booleans are made), with places. Never throws. */
export function readYaml(text: string, file: string): YamlTree {
  const lines = new LineCounter();
  const spans = new Map<string, Span>();
  const problems: Problem[] = [];
  const blanks: Path[] = [];

  const place = (span: readonly [number, number]): Place => {
    const from = lines.linePos(Math.min(span[0], text.length));
    // A block is marked by its first line: the rest would be noise.
    const lineEnd = text.slice(span[0], span[1]).search(/[ \t]*\r?\n/);
    const to = lines.linePos(Math.min(lineEnd > 0 ? span[0] + lineEnd : Math.max(span[1], span[0]), text.length));
    return {
      file,
      line: Math.max(1, from.line),
      column: Math.max(1, from.col),
      endLine: Math.max(1, to.line),
      endColumn: Math.max(1, to.col),
    };
  };
  const start: readonly [number, number] = [0, Math.max(0, text.search(/\r?\n|$/))];
  const spanOf = (path: Path): Span => {
    for (let length = path.length; length > 0; length--) {
      const span = spans.get(joined(path.slice(0, length)));
      if (span !== undefined) return span;
    }
    return { value: start };
  };
  const keySpanOf = (path: Path): readonly [number, number] => {
    const span = spanOf(path);
    return span.key ?? span.value;
  };
  const tree = {
    problems,
    blanks,
    placeOf: (path: Path): Place => place(spanOf(path).value),
    placeOfKey: (path: Path): Place => place(keySpanOf(path)),
    has: (path: Path): boolean => spans.has(joined(path)),
  };

  const refusal = refuseYaml(text);
  if (refusal !== undefined) {
    lines.addNewLine(0);
    for (let at = text.indexOf('\n'); at >= 0 && at < refusal.offset; at = text.indexOf('\n', at + 1))
      lines.addNewLine(at + 1);
    problems.push({
      code: 'spec-too-large',
      severity: 'error',
      message: refusal.message,
      at: place([refusal.offset, refusal.offset + 1]),
    });
    return tree;
  }

  let contents: Node | null;
  try {
    const document = parseDocument(text, {
      schema: 'failsafe',
      lineCounter: lines,
      prettyErrors: false,
      uniqueKeys: false,
      logLevel: 'error',
    });
    // Behind a tab everything is at the wrong depth: what else is said there only hides the cause.
    const tabs = document.errors.filter((error) => error.code === 'TAB_AS_INDENT');
    for (const error of (tabs.length > 0 ? tabs : document.errors).slice(0, mostYamlErrors)) {
      problems.push({
        code: 'spec-yaml',
        severity: 'error',
        message: plainer[error.code] ?? `This is no YAML: ${error.message}.`,
        at: place([error.pos[0], error.pos[1]]),
      });
    }
    contents = document.contents;
  } catch (error) {
    const reason = error instanceof RangeError ? 'the nesting is too deep' : String(error);
    problems.push({ code: 'spec-yaml', severity: 'error', message: `This is no YAML: ${reason}.`, at: place(start) });
    return tree;
  }
  if (problems.length > 0) return tree;

  const anchors = new Map<string, Node>();
  let nodes = 0;
  let tooMany = false;

  const blank = (node: unknown): boolean => {
    if (node === null || node === undefined) return true;
    return isScalar(node) && node.type === Scalar.PLAIN && /^(?:|~|null)$/i.test(String(node.value));
  };

  const plain = (node: unknown, path: Path, open: ReadonlySet<Node>): unknown => {
    if (++nodes > mostNodes) {
      tooMany = true;
      return undefined;
    }
    if (isAlias(node)) {
      const target = anchors.get(node.source);
      if (target === undefined || open.has(target)) {
        problems.push({
          code: 'spec-yaml',
          severity: 'error',
          message: `"*${node.source}" stands for nothing above it.`,
          at: place(spanOf(path).value),
        });
        return undefined;
      }
      return plain(target, path, open);
    }
    if ((isScalar(node) || isMap(node) || isSeq(node)) && node.anchor) anchors.set(node.anchor, node);
    if (isScalar(node)) return String(node.value);
    if (isSeq(node)) {
      const inside = new Set(open).add(node);
      return node.items.flatMap((item, index) => {
        const at = [...path, index];
        const range = (item as Node | null)?.range;
        spans.set(joined(at), { value: range ? [range[0], range[1]] : spanOf(path).value });
        if (blank(item)) {
          blanks.push(at);
          return [''];
        }
        return [plain(item, at, inside)];
      });
    }
    if (!isMap(node)) return undefined;
    const inside = new Set(open).add(node);
    const result: Record<string, unknown> = {};
    for (const pair of node.items) {
      const keyRange = (pair.key as Node | null)?.range;
      const keySpan: readonly [number, number] = keyRange ? [keyRange[0], keyRange[1]] : spanOf(path).value;
      if (!isScalar(pair.key)) {
        problems.push({
          code: 'spec-yaml',
          severity: 'error',
          message: 'A key must be one word or name.',
          at: place(keySpan),
        });
        continue;
      }
      const name = String(pair.key.value);
      if (forbiddenNames.has(name)) {
        problems.push({
          code: 'spec-name',
          severity: 'error',
          message: `"${name}" cannot be used as a name.`,
          at: place(keySpan),
        });
        continue;
      }
      const at = [...path, name];
      if (spans.has(joined(at))) {
        problems.push({
          code: 'spec-duplicate-key',
          severity: 'error',
          message: `"${name}" is written twice in this block; the first is in line ${tree.placeOfKey(at).line}.`,
          at: place(keySpan),
        });
        continue;
      }
      const range = (pair.value as Node | null)?.range;
      spans.set(joined(at), { key: keySpan, value: range && range[1] > range[0] ? [range[0], range[1]] : keySpan });
      if (blank(pair.value)) {
        blanks.push(at);
        continue;
      }
      result[name] = plain(pair.value, at, inside);
    }
    return result;
  };

  if (blank(contents)) {
    problems.push({
      code: 'spec-yaml',
      severity: 'error',
      message: 'The file is empty: a spec starts with "modproof: 1".',
      at: place(start),
    });
    return tree;
  }
  let value: unknown;
  try {
    value = plain(contents, [], new Set());
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    tooMany = true;
  }
  if (tooMany) {
    problems.push({
      code: 'spec-too-large',
      severity: 'error',
      message: 'The aliases of this file expand to more than a spec can hold.',
      at: place(start),
    });
    return tree;
  }
  return { ...tree, value };
}
