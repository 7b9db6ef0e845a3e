export type Align = 'left' | 'right';

/** Width on a terminal: wide characters are rare in names of flights, so code points are counted. */
function width(text: string): number {
  return Array.from(text).length;
}

/** Columns padded to their widest cell, two blanks between; no trailing blanks. */
export function textTable(
  head: readonly string[],
  rows: readonly (readonly string[])[],
  align: readonly Align[] = [],
): string {
  const all = [head, ...rows];
  const widths = head.map((_, column) => Math.max(...all.map((row) => width(row[column] ?? ''))));
  const line = (row: readonly string[]): string =>
    head
      .map((_, column) => {
        const cell = row[column] ?? '';
        const blanks = ' '.repeat(widths[column] - width(cell));
        return align[column] === 'right' ? blanks + cell : cell + blanks;
      })
      .join('  ')
      .trimEnd();
  const rule = widths.map((count) => '-'.repeat(count)).join('  ');
  return `${[line(head), rule, ...rows.map(line)].join('\n')}\n`;
}

/** Every line moved to the right. */
export function indented(text: string, by: string): string {
  return text.replace(/^(?=.)/gm, by);
}
