import type { ProblemList } from '../problem-list.ts';
import { after, afterByte, blank, endOfTag, find, marks, sign, startsWith } from './markup.ts';
import { NameTable, type XmlName } from './names.ts';
import { SkeletonText } from './skeleton-text.ts';

/**
 * Takes the samples of an XML recording while the file streams by, as UTF-8 bytes that are only valid during the call.
 * Elements and attributes are known by their local names.
 */
export interface SampleSink {
  /** Elements with children that come by the thousand, e.g. `trkpt`. */
  readonly groups: ReadonlySet<string>;
  /** Elements with text alone that come by the thousand, outside groups, e.g. `when`. */
  readonly leaves: ReadonlySet<string>;
  /** Set by the lift: the line of the sample that is being handed out, for problems. */
  line: () => number;
  /** The next sample follows other elements: one more marker in the skeleton. */
  startRun(): void;
  /** What a group hands out counts when it ends: a group that is cut by the end of a piece starts again. */
  startGroup(name: string): void;
  attribute(name: string, bytes: Uint8Array, start: number, end: number): void;
  /** An element with text alone, in a group at any depth, or one of `leaves`. */
  leaf(name: string, bytes: Uint8Array, start: number, end: number): void;
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

/** Markup whose end has not been read yet. */
const incomplete = -1;

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
  readonly #names = new NameTable();
  #bytes: Uint8Array = new Uint8Array(0);
  #at = 0;
  /** Lines that end before `#counted`, a position in the present bytes. */
  #lines = 0;
  #counted = 0;
  #inRun = false;
  #runs = 0;
  #refused = false;

  constructor(sink: SampleSink, problems: ProblemList) {
    this.#sink = sink;
    this.#problems = problems;
    sink.line = () => this.#lineAt(this.#at);
  }

  /** True once the file was refused: nothing more needs to be read. */
  get refused(): boolean {
    return this.#refused;
  }

  push(piece: Uint8Array): void {
    if (this.#refused) return;
    this.#append(piece);
    this.#scan();
    if (this.#bytes.length - this.#at > longestToken) {
      this.#refuse('xml-too-large', 'One element is larger than any recording has.');
    } else if (this.#skeleton.bytes > longestSkeleton) {
      this.#refuse('xml-too-large', 'The file holds far more than a recording beside its samples.');
    }
  }

  /** Ends the file and gives the skeleton. */
  end(): string {
    if (!this.#refused) {
      this.#scan();
      if (!blank(this.#bytes, this.#at, this.#bytes.length) || this.#open.length > 0) {
        const message = 'The file ends in the middle: what could be read was read.';
        this.#problems.warning('file-cut-short', message, { line: this.#lineAt(this.#bytes.length) });
      }
    }
    while (this.#open.length > 0) this.#skeleton.add(`</${this.#open.pop()}>`);
    return this.#skeleton.toString();
  }

  #append(piece: Uint8Array): void {
    this.#lineAt(this.#at);
    const rest = this.#bytes.subarray(this.#at);
    this.#at = 0;
    this.#counted = 0;
    if (rest.length === 0) {
      this.#bytes = piece;
      return;
    }
    const joined = new Uint8Array(rest.length + piece.length);
    joined.set(rest);
    joined.set(piece, rest.length);
    this.#bytes = joined;
  }

  #refuse(code: string, message: string): void {
    if (this.#refused) return;
    this.#refused = true;
    this.#problems.error(code, message, { line: this.#lineAt(this.#at) });
  }

  /** Counts on from where it counted last; asked for an earlier position it counts back. */
  #lineAt(position: number): number {
    const lines = countLines(
      this.#bytes.subarray(Math.min(position, this.#counted), Math.max(position, this.#counted)),
    );
    this.#lines += position < this.#counted ? -lines : lines;
    this.#counted = position;
    return 1 + this.#lines;
  }

  #keep(from: number, to: number): void {
    this.#inRun = false;
    this.#skeleton.add(this.#bytes.slice(from, to));
  }

  /** Reads tag by tag until the bytes end in the middle of something. */
  #scan(): void {
    while (!this.#refused) {
      const start = find(this.#bytes, sign.lessThan, this.#at);
      if (start === -1) return;
      if (!blank(this.#bytes, this.#at, start)) this.#keep(this.#at, start);
      this.#at = start;
      const next = this.#markupAt(start);
      if (next === incomplete) return;
      this.#at = next;
    }
  }

  /** Takes the tag, comment or other markup that starts here; where it ends, or `incomplete`. */
  #markupAt(start: number): number {
    switch (this.#bytes[start + 1]) {
      case undefined:
        return incomplete;
      case sign.exclamation:
        return this.#declaration(start, true);
      case sign.question:
        return after(this.#bytes, marks.instructionEnd, start);
      case sign.slash:
        return this.#close(start);
      default:
        return this.#element(start);
    }
  }

  /** A comment, or a CDATA section that is text of the skeleton; anything else is refused. */
  #declaration(start: number, keep: boolean): number {
    const bytes = this.#bytes;
    if (startsWith(bytes, marks.comment, start)) return after(bytes, marks.commentEnd, start + 4);
    if (bytes.length - start < marks.cdata.length) return incomplete;
    if (startsWith(bytes, marks.cdata, start)) {
      const end = after(bytes, marks.cdataEnd, start + marks.cdata.length);
      if (end !== incomplete && keep) this.#keep(start, end);
      return end;
    }
    this.#refuse(
      'xml-doctype',
      'The file declares a document type, which neither GPX nor KML needs and which can hide an attack: not read.',
    );
    return incomplete;
  }

  #close(start: number): number {
    const end = afterByte(this.#bytes, sign.greaterThan, start);
    if (end === incomplete) return incomplete;
    const { qualified } = this.#names.read(this.#bytes, start + 2);
    const found = this.#open.lastIndexOf(qualified);
    if (found !== this.#open.length - 1 || found === -1) this.#mismatch(qualified, start);
    if (found !== -1) {
      while (this.#open.length > found) this.#skeleton.add(`</${this.#open.pop()}>`);
      this.#inRun = false;
    }
    return end;
  }

  #mismatch(name: string, at: number): void {
    const message = `The end tag of "${name.slice(0, 40)}" is missing or does not match what is open.`;
    this.#problems.warning('xml-bad-structure', message, { line: this.#lineAt(at) });
  }

  #element(start: number): number {
    const name = this.#names.read(this.#bytes, start + 1);
    const nameEnd = this.#names.end;
    const tagEnd = endOfTag(this.#bytes, nameEnd);
    if (tagEnd === incomplete) return incomplete;
    const empty = this.#bytes[tagEnd - 2] === sign.slash;
    if (this.#sink.groups.has(name.local)) return this.#group(name, nameEnd, tagEnd, empty);
    if (this.#sink.leaves.has(name.local)) return this.#leaf(name, tagEnd, empty);
    this.#keep(start, tagEnd);
    if (!empty) {
      this.#open.push(name.qualified);
      if (this.#open.length > deepest) {
        this.#refuse('xml-too-deep', `Elements are nested more than ${deepest} deep: not a recording.`);
      }
    }
    return tagEnd;
  }

  #leaf(name: XmlName, tagEnd: number, empty: boolean): number {
    if (empty) {
      this.#mark();
      this.#sink.leaf(name.local, this.#bytes, tagEnd, tagEnd);
      return tagEnd;
    }
    const end = this.#text(name, tagEnd, true);
    return end === incomplete || this.#bytes[end + 1] !== sign.slash
      ? end
      : afterByte(this.#bytes, sign.greaterThan, end);
  }

  #group(name: XmlName, nameEnd: number, tagEnd: number, empty: boolean): number {
    this.#sink.startGroup(name.local);
    this.#attributes(nameEnd, tagEnd);
    const end = empty ? tagEnd : this.#children(name, tagEnd);
    if (end === incomplete) return incomplete;
    this.#mark();
    this.#sink.endGroup(name.local);
    return end;
  }

  #attributes(from: number, tagEnd: number): void {
    const bytes = this.#bytes;
    for (let at = from; ; ) {
      while (at < tagEnd && bytes[at] <= 32) at++;
      const name = this.#names.read(bytes, at);
      let open = this.#names.end;
      while (open < tagEnd && (bytes[open] <= 32 || bytes[open] === sign.equals)) open++;
      const quote = bytes[open];
      if (open >= tagEnd || (quote !== 34 && quote !== 39)) return;
      const close = find(bytes, quote, open + 1);
      this.#sink.attribute(name.local, bytes, open + 1, close);
      at = close + 1;
    }
  }

  /** Hands the leaves of a group to the sink, up to its end tag or to where that is missing. */
  #children(group: XmlName, from: number): number {
    const bytes = this.#bytes;
    for (let at = from; ; ) {
      const start = find(bytes, sign.lessThan, at);
      if (start === -1 || start + 1 === bytes.length) return incomplete;
      const kind = bytes[start + 1];
      if (kind === sign.slash) {
        const name = this.#names.read(bytes, start + 2);
        at = afterByte(bytes, sign.greaterThan, this.#names.end);
        if (at === incomplete || name === group) return at;
        if (name.qualified !== this.#open.at(-1)) continue;
        this.#mismatch(group.qualified, start);
        return start;
      }
      if (kind === sign.exclamation || kind === sign.question) {
        at = kind === sign.question ? after(bytes, marks.instructionEnd, start) : this.#declaration(start, false);
        if (at === incomplete) return incomplete;
        continue;
      }
      const name = this.#names.read(bytes, start + 1);
      if (name === group) {
        this.#mismatch(group.qualified, start);
        return start;
      }
      const tagEnd = endOfTag(bytes, this.#names.end);
      if (tagEnd === incomplete) return incomplete;
      at = bytes[tagEnd - 2] === sign.slash ? tagEnd : this.#text(name, tagEnd, false);
      if (at === incomplete) return incomplete;
    }
  }

  /** Hands out the text that starts here if an end tag follows it; gives where the next tag starts. */
  #text(name: XmlName, from: number, marked: boolean): number {
    const bytes = this.#bytes;
    const end = find(bytes, sign.lessThan, from);
    if (end === -1 || end + 1 === bytes.length) return incomplete;
    const kind = bytes[end + 1];
    if (kind === sign.exclamation || kind === sign.question) return this.#mixedText(name, from, marked);
    return kind === sign.slash ? this.#handOut(name, bytes, from, end, end, marked) : end;
  }

  /** Text with comments, instructions and CDATA sections in it. */
  #mixedText(name: XmlName, from: number, marked: boolean): number {
    const bytes = this.#bytes;
    const parts: Uint8Array[] = [];
    for (let at = from; ; ) {
      const start = find(bytes, sign.lessThan, at);
      if (start === -1 || start + 1 === bytes.length) return incomplete;
      parts.push(bytes.subarray(at, start));
      const kind = bytes[start + 1];
      if (kind !== sign.exclamation && kind !== sign.question) {
        if (kind !== sign.slash) return start;
        const text = joined(parts);
        return this.#handOut(name, text, 0, text.length, start, marked);
      }
      at = kind === sign.question ? after(bytes, marks.instructionEnd, start) : this.#declaration(start, false);
      if (at === incomplete) return incomplete;
      if (startsWith(bytes, marks.cdata, start))
        parts.push(bytes.subarray(start + marks.cdata.length, at - marks.cdataEnd.length));
    }
  }

  /** A leaf outside groups counts at once, so its end tag must have been read. */
  #handOut(name: XmlName, bytes: Uint8Array, from: number, to: number, endTag: number, marked: boolean): number {
    if (marked) {
      if (afterByte(this.#bytes, sign.greaterThan, endTag) === incomplete) return incomplete;
      this.#mark();
    }
    this.#sink.leaf(name.local, bytes, from, to);
    return endTag;
  }

  #mark(): void {
    if (this.#inRun) return;
    this.#inRun = true;
    this.#sink.startRun();
    this.#skeleton.add(`<${runMarker} n="${this.#runs++}"/>`);
  }
}

function countLines(bytes: Uint8Array): number {
  let lines = 0;
  for (let at = 0; at < bytes.length; at++) if (bytes[at] === 10) lines++;
  return lines;
}

function joined(parts: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
