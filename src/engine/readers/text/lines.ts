import type { ByteSource, Work } from '../../world.ts';
import type { ProblemList } from '../problem-list.ts';
import { textPieces } from './text-pieces.ts';

/** A recording's line has tens to some thousand characters; a longer one is no line, and is not kept in memory. */
const longestLine = 1_048_576;

/**
 * Calls `onLine` with every line of a text file and its number from 1, without its line end (LF, CR LF or CR). A line
 * of more than 1 Mi characters is skipped with the problem `line-too-long`. The last line counts even without an end.
 */
export async function eachLine(
  source: ByteSource,
  work: Work,
  problems: ProblemList,
  onLine: (line: string, lineNumber: number) => void,
): Promise<void> {
  let lineNumber = 0;
  let carry = '';
  let skipping = false;
  let heldReturn = false;
  const take = (line: string): void => {
    lineNumber++;
    if (skipping || line.length > longestLine) {
      problems.warning('line-too-long', `A line has more than ${longestLine} characters and was skipped.`, {
        line: lineNumber,
      });
      skipping = false;
    } else onLine(line, lineNumber);
  };
  for await (const piece of textPieces(source, work, problems)) {
    let text: string = heldReturn ? `\r${piece}` : piece;
    heldReturn = text.endsWith('\r');
    if (heldReturn) text = text.slice(0, -1);
    if (text.includes('\r')) text = text.replace(/\r\n?/g, '\n');
    let start = 0;
    for (let end = text.indexOf('\n'); end !== -1; end = text.indexOf('\n', start)) {
      take(carry + text.slice(start, end));
      carry = '';
      start = end + 1;
    }
    if (carry.length + text.length - start > longestLine) {
      skipping = true;
      carry = '';
    } else carry += text.slice(start);
  }
  if (carry !== '' || skipping) take(carry);
}
