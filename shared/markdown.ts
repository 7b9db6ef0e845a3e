/**
 * Text from outside (titles, notes, file names) made safe to stand in Markdown: what a person wrote must not become
 * markup, a link or HTML. One line per cell, so that one long text does not change other rows in a diff.
 */

/**
 * Backslash-escapes all that CommonMark or the common extensions could read as markup, and no more, so that the source
 * stays readable. Line breaks become spaces.
 */
export function escapeMarkdown(text: string): string {
  return (
    text
      .replace(
        /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff]/g,
        '',
      )
      .replace(/\s+/g, ' ')
      .trim()
      .replace(/[\\`*_{}[\]<>|~$]/g, '\\$&')
      // Entities, mentions and issue numbers, emoji and web addresses: only where they would be taken for one.
      .replace(/&(?=#?\w+;)|[@#](?=\w)|:(?=\/\/|[\w+-]+:)|(?<=\bwww)\./gi, '\\$&')
      .replace(/^([-=+#])/, '\\$1')
      .replace(/^(\d+)([.)])(?=\s|$)/, '$1\\$2')
  );
}

/** As {@link escapeMarkdown}, lighter: for our own sentences with figures in them, where only a stray bar would break a table. */
export function escapeBars(text: string): string {
  return text.replace(/\s+/g, ' ').trim().replace(/\|/g, '\\|');
}

/** A code span around any text, with as many backticks as it needs. */
export function codeSpan(text: string): string {
  const clean = text.replace(/\s+/g, ' ');
  const longest = Math.max(0, ...[...clean.matchAll(/`+/g)].map((match) => match[0].length));
  const fence = '`'.repeat(longest + 1);
  const pad = clean.startsWith('`') || clean.endsWith('`') ? ' ' : '';
  return `${fence}${pad}${clean}${pad}${fence}`;
}

/** A relative path as the target of a link or picture. */
export function linkTarget(path: string): string {
  return path
    .replace(/\\/g, '/')
    .split('/')
    .map((part) =>
      encodeURIComponent(part).replace(/[()'*!]/g, (c) => `%${c.charCodeAt(0).toString(16).toUpperCase()}`),
    )
    .join('/');
}

export type Align = 'left' | 'right';

function line(cells: readonly string[]): string {
  return `| ${cells.join(' | ')} |`;
}

/** A table with one space of padding; cells are taken as Markdown, escape them first. An empty cell is allowed. */
export function markdownTable(
  head: readonly string[],
  rows: readonly (readonly string[])[],
  align: readonly Align[] = [],
): string {
  const rule = head.map((_, index) => (align[index] === 'right' ? '---:' : '---'));
  return `${[line(head), line(rule), ...rows.map(line)].join('\n')}\n`;
}
