/** One line of a benchmark. */
export interface BenchRow {
  readonly name: string;
  /** Our figure, in the unit that the name states. */
  readonly ours: number;
  /** What it is held against; `undefined` where there is nothing (or the reference is not on this machine). */
  readonly reference: number | undefined;
  /** Reference over ours: above 1 we are better. */
  readonly ratio: number | undefined;
}
