/** Between these two comments, each on a line of its own, a report may be written into existing notes. */
export const beginMarker = '<!-- modproof:begin -->';
export const endMarker = '<!-- modproof:end -->';

export class CannotInsert extends Error {
  override readonly name = 'CannotInsert';
  /** Line of the notes, from 1, that stands in the way. */
  readonly line?: number;

  constructor(message: string, line?: number) {
    super(message);
    this.line = line;
  }
}

interface MarkerLine {
  readonly start: number;
  /** After the line's end. */
  readonly end: number;
  readonly line: number;
}

function markerLines(text: string, marker: string): MarkerLine[] {
  const found: MarkerLine[] = [];
  const pattern = /[^\r\n]*(?:\r\n|\n|\r|$)/g;
  let line = 0;
  for (let match = pattern.exec(text); match !== null && match.index < text.length; match = pattern.exec(text)) {
    line++;
    if (match[0].trim() === marker) found.push({ start: match.index, end: match.index + match[0].length, line });
  }
  return found;
}

/**
 * The notes with the report between the two markers. Everything outside them stays as it is, byte for byte, line ends
 * included; the report takes the line ends of the begin marker. Throws {@link CannotInsert} when a marker is missing,
 * stands twice, or the end comes first.
 */
export function insertBetweenMarkers(existing: string, report: string): string {
  const [begins, ends] = [markerLines(existing, beginMarker), markerLines(existing, endMarker)];
  for (const [marker, lines] of [
    [beginMarker, begins],
    [endMarker, ends],
  ] as const) {
    if (lines.length === 0) {
      throw new CannotInsert(
        `The line "${marker}" is missing: put both markers, each on a line of its own, where the report shall stand.`,
      );
    }
    if (lines.length > 1)
      throw new CannotInsert(`The line "${marker}" stands ${lines.length} times; once is expected.`, lines[1].line);
  }
  const [[begin], [end]] = [begins, ends];
  if (end.start < begin.end) throw new CannotInsert(`"${endMarker}" stands above "${beginMarker}".`, end.line);
  if (report.includes(beginMarker) || report.includes(endMarker))
    throw new CannotInsert('The report itself holds a marker.');
  const newline = /\r\n|\n|\r/.exec(existing.slice(begin.start, begin.end))?.[0] ?? '\n';
  const body = report.trim().replace(/\r\n|\n|\r/g, newline);
  return `${existing.slice(0, begin.end)}${newline}${body}${newline}${newline}${existing.slice(end.start)}`;
}
