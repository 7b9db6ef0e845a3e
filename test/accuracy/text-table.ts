/** A plain table for the terminal: first column left, the rest right. */
export function textTable(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const widths = head.map((cell, i) => Math.max(cell.length, ...rows.map((row) => (row[i] ?? '').length)));
  const line = (cells: readonly string[]): string =>
    cells
      .map((cell, i) => (i === 0 ? cell.padEnd(widths[i]) : cell.padStart(widths[i])))
      .join('  ')
      .trimEnd();
  return [line(head), line(widths.map((width) => '-'.repeat(width))), ...rows.map(line)].join('\n');
}

export function fixed(value: number, decimals: number): string {
  return Number.isFinite(value) ? value.toFixed(decimals) : '-';
}

export function percent(share: number, decimals = 1): string {
  return Number.isFinite(share) ? `${(100 * share).toFixed(decimals)} %` : '-';
}
