import type { ProblemList } from '../problem-list.ts';
import { after, afterSpecial, blank, endOfName, endOfTag, localName, positionOf } from './markup.ts';
import { SkeletonText } from './skeleton-text.ts';

/**
 * Takes the samples of an XML recording while the file streams by. Elements are known by their local names. `text` and
 * positions are only valid during the call.
 */
export interface SampleSink {
  /** Elements with children that come by the thousand, e.g. `trkpt`. */
  readonly groups: ReadonlySet<string>;
  /** Elements with text alone that come by the thousand, e.g. `when`. */
  readonly leaves: ReadonlySet<string>;
  /** The next sample follows other elements: one more marker in the skeleton. */
  startRun(): void;
  startGroup(name: string, line: () => number): void;
  attribute(name: string, text: string, start: number, end: number): void;
  leaf(name: string, text: string, start: number, end: number): void;
  endGroup(name: string): void;
}

/** Stands in the skeleton for a run of samples; its attribute `n` counts them from 0. */
export const runMarker = 'lifted-samples';

/** Neither format nests anywhere near as deep. */
const deepest = 100;

/** One element's text or one tag; the longest real ones are the coordinates of a path. */
const longestToken = 32 * 1_048_576;

/** What remains of a file beside its samples; more is no recording. */
const longestSkeleton = 16 * 1_048_576;

const plainTag = /^[^\s/>"']+$/;

const mostPlainTags = 1000;

/**
 * Splits an XML recording into its samples, handed to a sink as they stream by, and a small skeleton of all the rest that
 * an ordinary parser reads at the end. Comments, CDATA sections and processing instructions are honoured wherever they
 * stand; a document type declaration is refused (neither GPX nor KML needs one, and entity bombs do). The skeleton is
 * well-formed also when the file is cut short or its tags do not match: that is reported with its line.
 */
export class SampleLift {
  readonly #sink: SampleSink;
  readonly #problems: ProblemList;
  readonly #open: string[] = [];
  readonly #skeleton = new SkeletonText();
  #text = '';
  #at = 0;
  /** Lines that end before `#counted`, a position in the present text. */
  #lines = 0;
  #counted = 0;
  /** The first line end at or after `#counted`, as far as looked; -1 if it must be looked for. */
  #lineEnd = -1;
  /** Next comment or CDATA section, and next instruction, at or after what was asked last; -1 if to be looked for. */
  #markup = -1;
  #instruction = -1;
  /** The end tag found last, and where: it also ends what starts between there and now, if an end tag is missing. */
  #endTag = '';
  #endTagAt = -1;
  /** Whether the content of the element ended last holds a comment, CDATA section or instruction. */
  #hasSpecial = false;
  /** Tags without attributes, as they stand, and their local names: a recording has a handful, by the thousand. */
  readonly #plainTags = new Map<string, string>();
  #groupStart = 0;
  readonly #groupLine = (): number => this.#lineAt(this.#groupStart);
  #inRun = false;
  #runs = 0;
  #refused = false;
  #ended = false;

  constructor(sink: SampleSink, problems: ProblemList) {
    this.#sink = sink;
    this.#problems = problems;
  }

  /** True once the file was refused: nothing more needs to be read. */
  get refused(): boolean {
    return this.#refused;
  }

  push(piece: string): void {
    if (this.#refused) return;
    this.#discardRead();
    this.#text += piece;
    this.#scan();
    if (this.#text.length - this.#at > longestToken)
      this.#refuse('xml-too-large', 'One element is larger than any recording has.');
    if (this.#skeleton.pack() > longestSkeleton && !this.#refused) {
      this.#refuse('xml-too-large', 'The file holds far more than a recording beside its samples.');
    }
  }

  /** Ends the file and gives the skeleton. */
  end(): string {
    this.#ended = true;
    if (!this.#refused) {
      this.#scan();
      const rest = this.#at < this.#text.length && this.#text.slice(this.#at).trim() !== '';
      if (rest || this.#open.length > 0) {
        const message = 'The file ends in the middle: what could be read was read.';
        this.#problems.warning('file-cut-short', message, { line: this.#lineAt(this.#text.length) });
      }
    }
    while (this.#open.length > 0) this.#skeleton.add(`</${this.#open.pop()}>`);
    return this.#skeleton.toString();
  }

  #refuse(code: string, message: string): void {
    this.#refused = true;
    this.#problems.error(code, message, { line: this.#lineAt(this.#at) });
  }

  /** Counts on from where it counted last; asked for an earlier position it counts back. */
  #lineAt(position: number): number {
    for (; this.#counted > position; this.#counted--) {
      if (this.#text.charCodeAt(this.#counted - 1) === 10) this.#lines--;
      this.#lineEnd = -1;
    }
    if (this.#lineEnd < this.#counted) this.#lineEnd = positionOf(this.#text, '\n', this.#counted);
    while (this.#lineEnd < position) {
      this.#lines++;
      this.#lineEnd = positionOf(this.#text, '\n', this.#lineEnd + 1);
    }
    this.#counted = position;
    return 1 + this.#lines;
  }

  #discardRead(): void {
    this.#lineAt(this.#at);
    this.#text = this.#text.slice(this.#at);
    this.#at = 0;
    this.#counted = 0;
    this.#lineEnd = -1;
    this.#markup = -1;
    this.#instruction = -1;
    this.#endTagAt = -1;
  }

  #keep(from: number, to: number): void {
    this.#inRun = false;
    this.#skeleton.add(this.#text.slice(from, to));
  }

  /** Reads tag by tag until the text ends in the middle of something. */
  #scan(): void {
    while (!this.#refused) {
      const text = this.#text;
      const start = text.indexOf('<', this.#at);
      if (start === -1) {
        if (this.#ended) this.#at = Math.max(this.#at, text.trimEnd().length);
        return;
      }
      if (!blank(text, this.#at, start)) this.#keep(this.#at, start);
      this.#at = start;
      const sign = text.charCodeAt(start + 1);
      if (Number.isNaN(sign)) return;
      const next =
        sign === 33
          ? this.#declaration(start)
          : sign === 63
            ? after(text, '?>', start)
            : sign === 47
              ? this.#close(start)
              : this.#element(start);
      if (next === -1) return;
      this.#at = next;
    }
  }

  #declaration(start: number): number {
    const text = this.#text;
    if (text.startsWith('<!--', start)) return after(text, '-->', start + 4);
    if (text.length - start < 9) return -1;
    if (text.startsWith('<![CDATA[', start)) {
      const end = after(text, ']]>', start + 9);
      if (end !== -1) this.#keep(start, end);
      return end;
    }
    this.#refuse(
      'xml-doctype',
      'The file declares a document type, which neither GPX nor KML needs and which can hide an attack: not read.',
    );
    return -1;
  }

  #close(start: number): number {
    const end = after(this.#text, '>', start);
    if (end === -1) return -1;
    const name = this.#text.slice(start + 2, end - 1).trim();
    const found = this.#open.lastIndexOf(name);
    if (found !== this.#open.length - 1) this.#mismatch(name, start);
    if (found !== -1) {
      while (this.#open.length > found) this.#skeleton.add(`</${this.#open.pop()}>`);
      this.#inRun = false;
    }
    return end;
  }

  #mismatch(name: string, at: number): void {
    const message = `The end tag "${name.slice(0, 40)}" does not match what is open.`;
    this.#problems.warning('xml-bad-structure', message, { line: this.#lineAt(at) });
  }

  #element(start: number): number {
    const text = this.#text;
    const nameEnd = endOfName(text, start + 1);
    const tagEnd = endOfTag(text, nameEnd);
    if (tagEnd === -1) return -1;
    const local = localName(text, start + 1, nameEnd);
    const empty = text.charCodeAt(tagEnd - 2) === 47;
    if (this.#sink.groups.has(local)) return this.#group(start, nameEnd, tagEnd, local, empty);
    if (this.#sink.leaves.has(local)) return this.#leaf(start, nameEnd, tagEnd, local, empty);
    this.#keep(start, tagEnd);
    if (!empty) {
      this.#open.push(text.slice(start + 1, nameEnd));
      if (this.#open.length > deepest)
        this.#refuse('xml-too-deep', `Elements are nested more than ${deepest} deep: not a recording.`);
    }
    return tagEnd;
  }

  #leaf(start: number, nameEnd: number, tagEnd: number, local: string, empty: boolean): number {
    if (empty) {
      this.#mark();
      this.#sink.leaf(local, '', 0, 0);
      return tagEnd;
    }
    const close = this.#closing(start, nameEnd, tagEnd);
    if (close === -1) return -1;
    this.#mark();
    const content = this.#plainContent(tagEnd, close);
    if (content === undefined) this.#sink.leaf(local, this.#text, tagEnd, close);
    else this.#sink.leaf(local, content, 0, content.length);
    return after(this.#text, '>', close);
  }

  #group(start: number, nameEnd: number, tagEnd: number, local: string, empty: boolean): number {
    const close = empty ? tagEnd : this.#closing(start, nameEnd, tagEnd);
    if (close === -1) return -1;
    this.#mark();
    this.#groupStart = start;
    this.#sink.startGroup(local, this.#groupLine);
    this.#attributes(nameEnd, tagEnd);
    if (empty) {
      this.#sink.endGroup(local);
      return tagEnd;
    }
    const content = this.#plainContent(tagEnd, close);
    const nested =
      content === undefined
        ? this.#children(this.#text, tagEnd, close, local)
        : this.#children(content, 0, content.length, local);
    this.#sink.endGroup(local);
    if (nested === -1 || content !== undefined) return after(this.#text, '>', close);
    this.#mismatch(local, nested);
    return nested;
  }

  /** Where the end tag of an element starts; -1 if it has not been read yet. */
  #closing(start: number, nameEnd: number, tagEnd: number): number {
    const text = this.#text;
    const tag = `</${text.slice(start + 1, nameEnd)}`;
    if (tag === this.#endTag && this.#endTagAt >= tagEnd) return this.#endTagAt;
    this.#hasSpecial = false;
    for (let from = tagEnd; ; ) {
      const close = text.indexOf(tag, from);
      if (close === -1) return -1;
      const special = this.#specialFrom(from);
      if (special > close) {
        if (after(text, '>', close) === -1) return -1;
        const behind = text.charCodeAt(close + tag.length);
        if (behind === 62 || behind <= 32) {
          this.#endTag = tag;
          this.#endTagAt = close;
          return close;
        }
        from = close + tag.length;
      } else {
        this.#hasSpecial = true;
        from = afterSpecial(text, special);
        if (from === -1) return -1;
      }
    }
  }

  #specialFrom(from: number): number {
    if (this.#markup < from) this.#markup = positionOf(this.#text, '<!', from);
    if (this.#instruction < from) this.#instruction = positionOf(this.#text, '<?', from);
    return Math.min(this.#markup, this.#instruction);
  }

  /** Content without comments and instructions and with CDATA as escaped text; `undefined` where nothing changes. */
  #plainContent(from: number, to: number): string | undefined {
    if (!this.#hasSpecial) return undefined;
    return this.#text
      .slice(from, to)
      .replace(/<!--[\s\S]*?-->|<\?[\s\S]*?\?>/g, '')
      .replace(/<!\[CDATA\[([\s\S]*?)\]\]>/g, (_, inside: string) =>
        inside.replaceAll('&', '&amp;').replaceAll('<', '&lt;'),
      );
  }

  #attributes(from: number, tagEnd: number): void {
    const text = this.#text;
    let at = from;
    for (;;) {
      while (at < tagEnd && text.charCodeAt(at) <= 32) at++;
      const equals = text.indexOf('=', at);
      if (equals === -1 || equals >= tagEnd) return;
      let open = equals + 1;
      while (open < tagEnd && text.charCodeAt(open) <= 32) open++;
      const quote = text[open];
      if (quote !== '"' && quote !== "'") return;
      const close = text.indexOf(quote, open + 1);
      if (close === -1 || close >= tagEnd) return;
      this.#sink.attribute(text.slice(at, equals).trimEnd(), text, open + 1, close);
      at = close + 1;
    }
  }

  /** Hands the leaves of a group to the sink. Gives where a group starts inside this one (its end is missing), or -1. */
  #children(text: string, from: number, to: number, group: string): number {
    for (let at = from; ; ) {
      const start = text.indexOf('<', at);
      if (start === -1 || start >= to) return -1;
      let tagEnd = after(text, '>', start);
      if (tagEnd === -1 || tagEnd > to) return -1;
      if (text.charCodeAt(start + 1) === 47) {
        at = tagEnd;
        continue;
      }
      const inside = text.slice(start + 1, tagEnd - 1);
      let local = this.#plainTags.get(inside);
      if (local === undefined) {
        tagEnd = endOfTag(text, start + 1);
        if (tagEnd === -1 || tagEnd > to) return -1;
        local = localName(text, start + 1, endOfName(text, start + 1));
        if (plainTag.test(inside) && this.#plainTags.size < mostPlainTags) this.#plainTags.set(inside, local);
      }
      if (local === group) return start;
      at = tagEnd;
      if (text.charCodeAt(tagEnd - 2) === 47) continue;
      const end = text.indexOf('<', tagEnd);
      const valueEnd = end === -1 || end > to ? to : end;
      if (valueEnd === to || text.charCodeAt(valueEnd + 1) === 47) this.#sink.leaf(local, text, tagEnd, valueEnd);
      at = valueEnd;
    }
  }

  #mark(): void {
    if (this.#inRun) return;
    this.#inRun = true;
    this.#sink.startRun();
    this.#skeleton.add(`<${runMarker} n="${this.#runs++}"/>`);
  }
}
