import type { Place } from '../../../../../shared/problem.ts';
import type { TextEditAt } from '../../../../../src/engine/spec/editor/index.ts';

/** Position of "|" in a text, and the text without it. */
export function marked(text: string): { readonly text: string; readonly line: number; readonly column: number } {
  const before = text.slice(0, text.indexOf('|')).split('\n');
  return { text: text.replace('|', ''), line: before.length, column: before[before.length - 1].length + 1 };
}

function offset(text: string, line = 1, column = 1): number {
  const lines = text.split('\n');
  return lines.slice(0, line - 1).reduce((sum, one) => sum + one.length + 1, 0) + column - 1;
}

export function textAt(text: string, at: Place): string {
  return text.slice(offset(text, at.line, at.column), offset(text, at.endLine, at.endColumn));
}

export function applied(text: string, edits: readonly TextEditAt[]): string {
  const sorted = [...edits].sort((a, b) => offset(text, b.at.line, b.at.column) - offset(text, a.at.line, a.at.column));
  return sorted.reduce(
    (now, { at, text: put }) =>
      now.slice(0, offset(text, at.line, at.column)) + put + now.slice(offset(text, at.endLine, at.endColumn)),
    text,
  );
}
