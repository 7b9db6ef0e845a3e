import { isMap, isScalar, isSeq, parseDocument, type YAMLMap, type YAMLSeq } from 'yaml';
import type { EventOverride } from '../../../shared/analysis.ts';
import { formatTime } from '../../../shared/format.ts';

/** Replace the characters from `start` to `end` (UTF-16 offsets) by `text`. */
export interface TextEdit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** The file is not of a form that can be changed without touching what a person wrote. */
export class CannotEdit extends Error {
  override readonly name = 'CannotEdit';
}

type Which = Pick<EventOverride, 'event' | 'number'>;

function yamlText(text: string): string {
  const plain = text.replace(/\s+/g, ' ').trim();
  return /^[A-Za-z][\w ,.()/+-]*$/.test(plain) && !/^(?:null|true|false|yes|no|on|off|y|n)$/i.test(plain)
    ? plain
    : JSON.stringify(plain);
}

function entryLines(override: EventOverride): string[] {
  return [
    `event: ${override.event}`,
    `number: ${override.number}`,
    `time: ${formatTime(override.timeS)}`,
    ...(override.sigmaS === undefined ? [] : [`sigma: ${override.sigmaS} s`]),
    ...(override.why === undefined || override.why.trim() === '' ? [] : [`because: ${yamlText(override.why)}`]),
  ];
}

function entryText(override: EventOverride, indent: string, newline: string): string {
  return entryLines(override)
    .map((line, index) => `${indent}${index === 0 ? '- ' : '  '}${line}${newline}`)
    .join('');
}

function lineStart(text: string, offset: number): number {
  return text.lastIndexOf('\n', offset - 1) + 1;
}

function lineEnd(text: string, offset: number): number {
  const found = text.indexOf('\n', offset);
  return found < 0 ? text.length : found + 1;
}

interface Parsed {
  readonly list?: YAMLSeq;
  /** End of the `events:` key's line when it has no list yet. */
  readonly emptyListAt?: number;
  readonly items: readonly YAMLMap[];
}

function parse(text: string): Parsed {
  const document = parseDocument(text);
  if (document.errors.length > 0) throw new CannotEdit('The event file is not valid YAML: put that right first.');
  const root: unknown = document.contents;
  if (root === null) return { items: [] };
  if (!isMap(root) || root.flow === true)
    throw new CannotEdit('The event file does not begin with "events:" on a line.');
  const list: unknown = root.get('events', true);
  if (list === undefined) return { items: [] };
  if (isScalar(list) && list.value === null) {
    const pair = root.items.find(({ key }) => isScalar(key) && key.value === 'events');
    const at = isScalar(pair?.key) ? (pair.key.range?.[1] ?? 0) : 0;
    return { items: [], emptyListAt: lineEnd(text, at) };
  }
  if (!isSeq(list) || list.flow === true) {
    throw new CannotEdit('The events are not written as a list of lines beginning with "-".');
  }
  const items = list.items.filter((item): item is YAMLMap => isMap(item));
  if (items.some((item) => item.flow === true)) throw new CannotEdit('An entry is written in braces.');
  return { list, items };
}

function find(items: readonly YAMLMap[], which: Which): YAMLMap | undefined {
  return items.find((item) => item.get('event') === which.event && Number(item.get('number') ?? 1) === which.number);
}

function rangeOf(node: unknown): readonly [number, number] {
  const range = (node as { range?: readonly [number, number, number] | null }).range;
  if (range === undefined || range === null) throw new CannotEdit('An entry has no place in the text.');
  return [range[0], range[1]];
}

/**
 * Edits that put a correction into the text of an event file: the time (sigma, reason) of its entry is replaced, or a new
 * entry is added at the end of the list. Everything else, comments too, stays as it was written. Throws
 * {@link CannotEdit} for a file that has another form.
 */
export function setEvent(text: string, override: EventOverride, recording: string): TextEdit[] {
  const newline = text.includes('\r\n') ? '\r\n' : '\n';
  const { list, items, emptyListAt } = parse(text);
  const existing = find(items, override);
  if (existing !== undefined) return changeEntry(text, existing, override, newline);
  if (list !== undefined && list.items.length > 0) {
    const last = rangeOf(list.items[list.items.length - 1]);
    const first = rangeOf(list.items[0]);
    const dash = text.lastIndexOf('-', first[0]);
    const indent = text.slice(lineStart(text, dash), dash);
    const glue = last[1] > 0 && text[last[1] - 1] !== '\n' ? lineEnd(text, last[1]) : last[1];
    const before = glue > 0 && text[glue - 1] !== '\n' ? newline : '';
    return [{ start: glue, end: glue, text: before + entryText(override, indent, newline) }];
  }
  if (emptyListAt !== undefined) {
    const before = text[emptyListAt - 1] === '\n' ? '' : newline;
    return [{ start: emptyListAt, end: emptyListAt, text: before + entryText(override, '  ', newline) }];
  }
  const head =
    text.trim() === ''
      ? `# Events of ${recording.replace(/[\r\n]/g, ' ')} corrected by hand; times in UTC. The recording itself is never changed.${newline}`
      : '';
  const before = text !== '' && !text.endsWith('\n') ? newline : '';
  return [
    {
      start: text.length,
      end: text.length,
      text: `${before}${head}events:${newline}${entryText(override, '  ', newline)}`,
    },
  ];
}

function changeEntry(text: string, item: YAMLMap, override: EventOverride, newline: string): TextEdit[] {
  const edits: TextEdit[] = [];
  const [start] = rangeOf(item);
  const indent = ' '.repeat(start - lineStart(text, start));
  let afterTime: number | undefined;
  const added: string[] = [];
  const put = (key: string, value: string | undefined): void => {
    const node: unknown = item.get(key, true);
    if (node !== undefined && value !== undefined) {
      const [from, to] = rangeOf(node);
      const block = text.slice(from, to).endsWith('\n');
      edits.push({ start: from, end: to, text: block ? value + newline : value });
    } else if (value !== undefined) added.push(`${indent}${key}: ${value}${newline}`);
  };
  const time: unknown = item.get('time', true);
  if (time !== undefined) afterTime = lineEnd(text, rangeOf(time)[1]);
  put('time', formatTime(override.timeS));
  put('sigma', override.sigmaS === undefined ? undefined : `${override.sigmaS} s`);
  put('because', override.why === undefined || override.why.trim() === '' ? undefined : yamlText(override.why));
  if (added.length > 0) {
    const at = afterTime ?? lineEnd(text, rangeOf(item)[1] - 1);
    const before = at > 0 && text[at - 1] !== '\n' ? newline : '';
    edits.push({ start: at, end: at, text: before + added.join('') });
  }
  return edits.sort((a, b) => a.start - b.start);
}

/** Edits that take an entry out again; none when it is not there. */
export function removeEvent(text: string, which: Which): TextEdit[] {
  const { items } = parse(text);
  const existing = find(items, which);
  if (existing === undefined) return [];
  const [start, end] = rangeOf(existing);
  return [{ start: lineStart(text, start), end: text[end - 1] === '\n' ? end : lineEnd(text, end), text: '' }];
}

/** Applies edits that do not overlap. */
export function applyEdits(text: string, edits: readonly TextEdit[]): string {
  let result = text;
  for (const edit of [...edits].sort((a, b) => b.start - a.start)) {
    result = result.slice(0, edit.start) + edit.text + result.slice(edit.end);
  }
  return result;
}
