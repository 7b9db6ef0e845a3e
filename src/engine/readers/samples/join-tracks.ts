import type { ProblemList } from '../problem-list.ts';
import type { SampleTable } from './sample-table.ts';

/** Rows `from` up to, not including, `to`. */
export interface Part {
  readonly from: number;
  readonly to: number;
}

interface Span {
  readonly parts: readonly Part[];
  readonly startS: number;
  readonly endS: number;
}

/**
 * Makes one recording of the tracks of a file, each a list of segments: joined in the order of time when they do not
 * overlap, otherwise only the longest in time is kept. Between segments and tracks reception is taken as interrupted.
 */
export function joinTracks(table: SampleTable, tracks: readonly (readonly Part[])[], problems: ProblemList): void {
  const spans = tracks.map((parts) => spanOf(table, parts)).filter((span) => span.endS >= span.startS);
  spans.sort((a, b) => a.startS - b.startS);
  const overlap = spans.some((span, i) => i > 0 && span.startS < spans[i - 1].endS);
  if (overlap) {
    const longest = spans.reduce((best, span) => (span.endS - span.startS > best.endS - best.startS ? span : best));
    for (const span of spans) if (span !== longest) for (const part of span.parts) table.leaveOut(part.from, part.to);
    problems.warning(
      'tracks-overlap',
      `The file holds ${spans.length} tracks that overlap in time; only the longest was read.`,
    );
  } else if (spans.length > 1) {
    problems.info('tracks-joined', `The file holds ${spans.length} tracks; they were joined in the order of time.`);
  }
  for (const parts of tracks) for (const part of parts) table.breakBefore(part.from);
}

function spanOf(table: SampleTable, parts: readonly Part[]): Span {
  let startS = Number.POSITIVE_INFINITY;
  let endS = Number.NEGATIVE_INFINITY;
  for (const part of parts) {
    for (let row = part.from; row < part.to; row++) {
      const timeS = table.timeS.get(row);
      if (timeS < startS) startS = timeS;
      if (timeS > endS) endS = timeS;
    }
  }
  return { parts, startS, endS };
}
