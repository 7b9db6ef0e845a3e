/** Trouble in an input is data: collected, shown with its place, and never thrown. */
export type Severity = 'error' | 'warning' | 'info';

export interface Place {
  /** File the problem is in, as the user named it. */
  readonly file?: string;
  /** 1-based. */
  readonly line?: number;
  /** 1-based, in UTF-16 units. */
  readonly column?: number;
  /** 1-based end, exclusive column; for editors. */
  readonly endLine?: number;
  readonly endColumn?: number;
  /** 0-based offset in the file, for binary formats. */
  readonly byte?: number;
}

export interface Problem {
  /** Stable, kebab-case, listed in `src/engine/problem-codes.md`; e.g. `igc-bad-line`. */
  readonly code: string;
  readonly severity: Severity;
  /** What was found, what was expected, what to do: a plain sentence. */
  readonly message: string;
  readonly at?: Place;
  /** How many times the same problem occurred (the place is that of the first). */
  readonly count?: number;
}
