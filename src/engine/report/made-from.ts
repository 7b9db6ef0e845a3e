/** What a report says it was made from, in its provenance. */
export interface MadeFrom {
  readonly engineVersion: string;
  readonly specSha256: string;
  /** In the order of the report. */
  readonly recordings: readonly { readonly sha256: string; readonly correctionsSha256?: string }[];
}

const opening = /Made by Modproof (\S+) from .*?\(SHA-256 `([0-9a-f]{64})`\)/g;
const row = /^\|.*\| *`([0-9a-f]{64})`(?: \(of parts of the file\))?(?:, corrections `([0-9a-f]{64})`)? *\|\s*$/;

/** Reads the provenance of a report, by itself or inside notes; the last one, where notes hold several. */
export function madeFrom(markdown: string): MadeFrom | undefined {
  const last = [...markdown.matchAll(opening)].pop();
  if (last === undefined) return undefined;
  const recordings: { readonly sha256: string; readonly correctionsSha256?: string }[] = [];
  for (const line of markdown.slice(last.index).split(/\r\n|\n|\r/)) {
    const found = row.exec(line);
    if (found !== null)
      recordings.push({ sha256: found[1], ...(found[2] === undefined ? {} : { correctionsSha256: found[2] }) });
    else if (recordings.length > 0) break;
  }
  return { engineVersion: last[1], specSha256: last[2], recordings };
}

/** Why a report no longer tells what its comparison would tell now, as a short sentence; undefined when it does. */
export function outOfDate(report: MadeFrom, now: MadeFrom): string | undefined {
  if (report.specSha256 !== now.specSha256) return 'the comparison was changed since';
  const sorted = ({ recordings }: MadeFrom): string =>
    recordings
      .map(({ sha256, correctionsSha256 }) => `${sha256} ${correctionsSha256 ?? ''}`)
      .sort()
      .join('\n');
  if (sorted(report) !== sorted(now)) return 'a recording or its corrections changed since';
  if (report.engineVersion !== now.engineVersion) return `it was made by version ${report.engineVersion}`;
  return undefined;
}
