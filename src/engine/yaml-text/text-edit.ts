/** Replace the characters from `start` to `end` (UTF-16 offsets) by `text`. */
export interface TextEdit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** The file is not of a form that can be changed without touching what a person wrote. */
export class CannotEdit extends Error {
  override readonly name = 'CannotEdit';
}

/** Applies edits that do not overlap. */
export function applyEdits(text: string, edits: readonly TextEdit[]): string {
  let result = text;
  for (const edit of [...edits].sort((a, b) => b.start - a.start)) {
    result = result.slice(0, edit.start) + edit.text + result.slice(edit.end);
  }
  return result;
}

export function lineStart(text: string, offset: number): number {
  return text.lastIndexOf('\n', offset - 1) + 1;
}

/** Just after the line break that ends the line, or the end of the text. */
export function lineEnd(text: string, offset: number): number {
  const found = text.indexOf('\n', offset);
  return found < 0 ? text.length : found + 1;
}

/** The line break that a text uses. */
export function lineBreak(text: string): '\n' | '\r\n' {
  return text.includes('\r\n') ? '\r\n' : '\n';
}
