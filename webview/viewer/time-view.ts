import { Store } from '../store.ts';

export type Span = readonly [number, number];

/** Narrowest span that can be zoomed into, seconds. */
const narrowestS = 2;

/** Cursor, span in view and marked span of one flight; seconds after the first row. Every chart follows it. */
export class TimeView {
  readonly cursor = new Store<number | undefined>(undefined);
  readonly range: Store<Span>;
  readonly selection = new Store<Span | undefined>(undefined);
  readonly #whole: Span;

  constructor(durationS: number) {
    this.#whole = [0, Math.max(1, durationS)];
    this.range = new Store<Span>(this.#whole);
  }

  get whole(): Span {
    return this.#whole;
  }

  get isZoomed(): boolean {
    const [from, to] = this.range.value;
    return from > this.#whole[0] || to < this.#whole[1];
  }

  /** Shows a span, kept within the flight. */
  show(from: number, to: number): void {
    const [first, last] = this.#whole;
    const width = Math.min(last - first, Math.max(narrowestS, to - from));
    const start = Math.min(Math.max(first, (from + to) / 2 - width / 2), last - width);
    const [oldFrom, oldTo] = this.range.value;
    if (start !== oldFrom || start + width !== oldTo) this.range.set([start, start + width]);
  }

  showAll(): void {
    this.show(...this.#whole);
  }

  /** Zooms by a factor about a time that stays where it is. */
  zoom(factor: number, about: number): void {
    const [from, to] = this.range.value;
    const width = Math.min(this.#whole[1], Math.max(narrowestS, (to - from) * factor));
    const share = (about - from) / (to - from);
    const start = about - share * width;
    this.show(start, start + width);
  }

  pan(share: number): void {
    const [from, to] = this.range.value;
    const by = (to - from) * share;
    this.show(from + by, to + by);
  }

  /** Moves the cursor, and the span in view with it when it would leave. */
  moveCursor(timeS: number): void {
    const t = Math.min(this.#whole[1], Math.max(this.#whole[0], timeS));
    const [from, to] = this.range.value;
    if (t < from) this.show(t, t + (to - from));
    else if (t > to) this.show(t - (to - from), t);
    this.cursor.set(t);
  }

  select(a: number, b: number): void {
    this.selection.set(a === b ? undefined : [Math.min(a, b), Math.max(a, b)]);
  }
}
