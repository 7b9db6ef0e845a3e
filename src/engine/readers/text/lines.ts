import type { ByteSource, Work } from '../../world.ts';
import type { ProblemList } from '../problem-list.ts';
import { textPieces } from './text-pieces.ts';

/** A recording's line has tens to some thousand characters; a longer one is no line, and is not kept in memory. */
const longestLine = 1_048_576;

/** Whole lines, each ended by LF. */
export interface LineBlock {
  readonly text: string;
  /** Number of the first line, from 1. */
  readonly firstLine: number;
}

/**
 * The lines of a text file in blocks of about 1 MiB; line ends CR LF and CR become LF, the last line gets one. A line of
 * more than 1 Mi characters is left out, with the problem `line-too-long`.
 */
export async function* lineBlocks(source: ByteSource, work: Work, problems: ProblemList): AsyncGenerator<LineBlock> {
  let nextLine = 1;
  let carry = '';
  let skipping = false;
  let heldReturn = false;
  const tooLong = (): void => {
    const message = `A line has more than ${longestLine} characters and was skipped.`;
    problems.warning('line-too-long', message, { line: nextLine });
    nextLine++;
  };
  for await (const piece of textPieces(source, work, problems)) {
    let text: string = heldReturn ? `\r${piece}` : piece;
    heldReturn = text.endsWith('\r');
    if (heldReturn) text = text.slice(0, -1);
    if (text.includes('\r')) text = text.replace(/\r\n?/g, '\n');
    if (skipping) {
      const end = text.indexOf('\n');
      if (end === -1) continue;
      text = text.slice(end + 1);
      skipping = false;
    }
    const last = text.lastIndexOf('\n');
    if (last !== -1) {
      const block = carry + text.slice(0, last + 1);
      carry = '';
      yield { text: block, firstLine: nextLine };
      nextLine += countLineEnds(block);
    }
    carry += text.slice(last + 1);
    if (carry.length > longestLine) {
      carry = '';
      skipping = true;
      tooLong();
    }
  }
  if (carry !== '') yield { text: `${carry}\n`, firstLine: nextLine };
}

function countLineEnds(text: string): number {
  let count = 0;
  for (let at = text.indexOf('\n'); at !== -1; at = text.indexOf('\n', at + 1)) count++;
  return count;
}

/** Calls `onLine` with every line of a text file, without its end, and its number from 1. See {@link lineBlocks}. */
export async function eachLine(
  source: ByteSource,
  work: Work,
  problems: ProblemList,
  onLine: (line: string, lineNumber: number) => void,
): Promise<void> {
  for await (const { text, firstLine } of lineBlocks(source, work, problems)) {
    let line = firstLine;
    for (let start = 0, end = text.indexOf('\n'); end !== -1; start = end + 1, end = text.indexOf('\n', start)) {
      onLine(text.slice(start, end), line++);
    }
  }
}
