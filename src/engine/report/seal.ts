import { sha256OfText } from '../evaluate/index.ts';

/**
 * The last line of a report that was written as a file of its own: a hash of all above it. It lets a later run replace its
 * own work and nothing else: once a person has changed the file, the hash no longer fits.
 */
const sealPattern = /\n<!-- modproof:report ([0-9a-f]{64}) -->\s*$/;

/** Line ends and trailing blanks are changed by editors and version control, not by people. */
function normal(text: string): string {
  return text
    .replace(/\r\n|\r/g, '\n')
    .replace(/[ \t]+$/gm, '')
    .trim();
}

export async function sealReport(markdown: string): Promise<string> {
  return `${markdown.trimEnd()}\n\n<!-- modproof:report ${await sha256OfText(normal(markdown))} -->\n`;
}

/** True for a report that stands as it was written. */
export async function isUntouchedReport(text: string): Promise<boolean> {
  const match = sealPattern.exec(text.replace(/\r\n|\r/g, '\n'));
  if (match === null) return false;
  const above = text.replace(/\r\n|\r/g, '\n').slice(0, match.index);
  return (await sha256OfText(normal(above))) === match[1];
}
