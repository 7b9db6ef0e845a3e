import { isMap, isScalar, isSeq, parseDocument } from 'yaml';
import { yamlText } from '../spec/index.ts';
import { CannotEdit, lineBreak, openList, type TextEdit } from '../yaml-text/index.ts';

/** A recording to be named, with the files in which it goes on. */
export interface RecordingToName {
  readonly file: string;
  readonly continuedIn?: readonly string[];
}

export type FurtherKey = 'continued-in' | 'also-recorded-by';

function rangeOf(node: unknown): readonly [number, number] {
  const range = (node as { range?: readonly [number, number, number] | null }).range;
  if (range === undefined || range === null) throw new CannotEdit('An entry has no place in the text.');
  return [range[0], range[1]];
}

/** "engine.csv", or a block in braces where it has parts. */
function entryText({ file, continuedIn = [] }: RecordingToName): string {
  const parts = continuedIn.map((part) => yamlText(part)).join(', ');
  return continuedIn.length === 0 ? yamlText(file) : `{ track: ${yamlText(file)}, continued-in: [${parts}] }`;
}

/** Names in a list end at a comma or a bracket, which `yamlText` quotes. */
function nameOf(item: unknown): string | undefined {
  if (isScalar(item)) return String(item.value);
  return isMap(item) ? String(item.get('track')) : undefined;
}

/**
 * The edits that name one more recording of a flight in the text of its event file. What stands there stays as it was
 * written; nothing comes back when the file is named under that key already. Throws {@link CannotEdit} for a form that
 * cannot be added to.
 */
export function addFurther(text: string, key: FurtherKey, named: RecordingToName, recording: string): TextEdit[] {
  const { file } = named;
  const entry = entryText(named);
  const document = parseDocument(text);
  if (document.errors.length > 0) throw new CannotEdit('The text is not valid YAML: put that right first.');
  const newline = lineBreak(text);
  const root: unknown = document.contents;
  if (root !== null && (!isMap(root) || root.flow === true))
    throw new CannotEdit(`The text does not have "${key}:" at the beginning of a line.`);
  const value: unknown = root === null ? undefined : root.get(key, true);
  if (value === undefined || (isScalar(value) && value.value === null)) {
    const head =
      text.trim() === ''
        ? `# What is known of ${recording.replace(/[\r\n]/g, ' ')} beside what it holds itself; it is never changed.${newline}`
        : '';
    if (value === undefined) {
      const before = text !== '' && !text.endsWith('\n') ? newline : '';
      return [{ start: text.length, end: text.length, text: `${head}${before}${key}: ${entry}${newline}` }];
    }
    const pair = root === null ? undefined : root.items.find((one) => isScalar(one.key) && one.key.value === key);
    const at = text.indexOf(':', rangeOf(pair?.key)[1]) + 1;
    return [{ start: at, end: at, text: ` ${entry}` }];
  }
  if (isScalar(value)) {
    if (String(value.value) === file) return [];
    const [start, end] = rangeOf(value);
    const written = text.slice(start, end).trimEnd();
    if (written.includes('\n')) throw new CannotEdit(`"${key}" is written over several lines.`);
    return [
      { start, end: start, text: '[' },
      { start: start + written.length, end: start + written.length, text: `, ${entry}]` },
    ];
  }
  if (!isSeq(value)) throw new CannotEdit(`"${key}" is a block of keys: make it a list to name one more.`);
  if (value.items.some((item) => nameOf(item) === file)) return [];
  if (value.flow !== true) return [openList(text, key).append([entry])];
  if (value.items.length === 0) throw new CannotEdit(`"${key}" is an empty list.`);
  const at = rangeOf(value.items[value.items.length - 1])[1];
  return [{ start: at, end: at, text: `, ${entry}` }];
}
