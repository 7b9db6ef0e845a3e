import type { YAMLMap } from 'yaml';
import type { EventOverride } from '../../../shared/analysis.ts';
import { formatFilmTime, formatTime } from '../../../shared/format.ts';
import {
  type BlockList,
  CannotEdit,
  lineBreak,
  lineEnd,
  lineStart,
  openList,
  type TextEdit,
} from '../yaml-text/index.ts';
import { eventOfWord } from './parse.ts';

const key = 'corrections';

type Which = Pick<EventOverride, 'event' | 'number'>;

function yamlText(text: string): string {
  const plain = text.replace(/\s+/g, ' ').trim();
  return /^[A-Za-z][\w ,.()/+-]*$/.test(plain) && !/^(?:null|true|false|yes|no|on|off|y|n)$/i.test(plain)
    ? plain
    : JSON.stringify(plain);
}

function wordOf(event: EventOverride['event']): string {
  return Object.keys(eventOfWord).find((word) => eventOfWord[word] === event) ?? event;
}

/** As it was given: UTC, or the time into the film. */
function whenText({ timeS, intoFilmS, film }: EventOverride): string {
  if (intoFilmS === undefined) return formatTime(timeS);
  return film === undefined
    ? `film ${formatFilmTime(intoFilmS, 2)}`
    : yamlText(`film ${film} ${formatFilmTime(intoFilmS, 2)}`);
}

function hasReason(override: EventOverride): boolean {
  return override.why !== undefined && override.why.trim() !== '';
}

function entryLines(override: EventOverride): string[] {
  return [
    `${wordOf(override.event)}: ${whenText(override)}`,
    `number: ${override.number}`,
    ...(override.sigmaS === undefined ? [] : [`uncertainty: ${override.sigmaS} s`]),
    ...(hasReason(override) ? [`seen: ${yamlText(override.why ?? '')}`] : []),
  ];
}

function find(list: BlockList, which: Which): YAMLMap | undefined {
  const found = list.items.find(
    (item) => item.has(wordOf(which.event)) && Number(item.get('number') ?? 1) === which.number,
  );
  if (found?.flow === true) throw new CannotEdit('The entry is written in braces.');
  return found;
}

/**
 * Edits that put a correction into the text of an event file: the time (uncertainty, reason) of its entry is replaced, or
 * a new entry is added at the end of the list. Everything else, comments too, stays as it was written. Throws
 * {@link CannotEdit} for a file that has another form.
 */
export function setEvent(text: string, override: EventOverride, recording: string): TextEdit[] {
  const list = openList(text, key);
  const existing = find(list, override);
  if (existing !== undefined) return changeEntry(text, list, existing, override);
  const added = list.append(entryLines(override));
  if (text.trim() !== '') return [added];
  const head = `# Events of ${recording.replace(/[\r\n]/g, ' ')} corrected by hand; times in UTC. The recording itself is never changed.\n`;
  return [{ ...added, text: head + added.text }];
}

function changeEntry(text: string, list: BlockList, item: YAMLMap, override: EventOverride): TextEdit[] {
  const newline = lineBreak(text);
  const edits: TextEdit[] = [];
  const [start] = list.rangeOf(item);
  const indent = ' '.repeat(start - lineStart(text, start));
  const added: string[] = [];
  const put = (name: string, value: string | undefined): void => {
    const node: unknown = item.get(name, true);
    if (node !== undefined && value !== undefined) {
      const [from, to] = list.rangeOf(node);
      const block = text.slice(from, to).endsWith('\n');
      edits.push({ start: from, end: to, text: block ? value + newline : value });
    } else if (value !== undefined) added.push(`${indent}${name}: ${value}${newline}`);
  };
  const word = wordOf(override.event);
  put(word, whenText(override));
  put('uncertainty', override.sigmaS === undefined ? undefined : `${override.sigmaS} s`);
  put('seen', hasReason(override) ? yamlText(override.why ?? '') : undefined);
  if (added.length > 0) {
    const at = lineEnd(text, list.rangeOf(item.get(word, true))[1]);
    const before = at > 0 && text[at - 1] !== '\n' ? newline : '';
    edits.push({ start: at, end: at, text: before + added.join('') });
  }
  return edits.sort((a, b) => a.start - b.start);
}

/** Edits that take an entry out again; none when it is not there. */
export function removeEvent(text: string, which: Which): TextEdit[] {
  const list = openList(text, key);
  const existing = find(list, which);
  if (existing === undefined) return [];
  const [start, end] = list.rangeOf(existing);
  return [{ start: lineStart(text, start), end: text[end - 1] === '\n' ? end : lineEnd(text, end), text: '' }];
}
