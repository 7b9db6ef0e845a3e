/** Edits between two words: insert, delete, replace, swap neighbours (optimal string alignment). */
function distance(a: string, b: string): number {
  const rows: number[][] = [Array.from({ length: b.length + 1 }, (_, j) => j)];
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      let best = Math.min(rows[i - 1][j] + 1, row[j - 1] + 1, rows[i - 1][j - 1] + Number(a[i - 1] !== b[j - 1]));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        best = Math.min(best, rows[i - 2][j - 2] + 1);
      row.push(best);
    }
    rows.push(row);
  }
  return rows[a.length][b.length];
}

function folded(word: string): string {
  return word
    .toLowerCase()
    .replace(/[_\s]+/g, '-')
    .replace(/([a-z])([A-Z])/g, '$1-$2');
}

const longestWord = 60;

/** The known word that was probably meant, or undefined when none is near (more than a third of it would have to change). */
export function nearest(written: string, known: readonly string[]): string | undefined {
  if (written.length > longestWord) return undefined;
  const wanted = folded(written.replace(/([a-z])([A-Z])/g, '$1-$2'));
  let best: string | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const candidate of known) {
    const edits = distance(wanted, folded(candidate));
    if (edits < least) [best, least] = [candidate, edits];
  }
  if (best === undefined) return undefined;
  if (least <= Math.max(1, Math.floor(Math.max(wanted.length, best.length) / 3))) return best;
  return known.find((candidate) => wanted.length >= 4 && folded(candidate).split('-').includes(wanted));
}
