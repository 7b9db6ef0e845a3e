import type { Place, Problem, Severity } from '../../../shared/problem.ts';

interface Entry {
  readonly severity: Severity;
  readonly message: string;
  readonly at: Place;
  count: number;
}

/** So many different codes are kept; a file cannot make the list longer than the readers have codes. */
const mostCodes = 100;

/**
 * Collects the problems of one file. The same code is kept once, with the message and place of its first occurrence and
 * the number of times it occurred.
 */
export class ProblemList {
  /** As the user named it. */
  readonly file: string;
  readonly #entries = new Map<string, Entry>();

  constructor(file: string) {
    this.file = file;
  }

  error(code: string, message: string, at?: Omit<Place, 'file'>): void {
    this.#add('error', code, message, at, 1);
  }

  warning(code: string, message: string, at?: Omit<Place, 'file'>, count = 1): void {
    this.#add('warning', code, message, at, count);
  }

  info(code: string, message: string, at?: Omit<Place, 'file'>, count = 1): void {
    this.#add('info', code, message, at, count);
  }

  has(code: string): boolean {
    return this.#entries.has(code);
  }

  count(code: string): number {
    return this.#entries.get(code)?.count ?? 0;
  }

  get hasErrors(): boolean {
    return [...this.#entries.values()].some((entry) => entry.severity === 'error');
  }

  /** In the order of their first occurrence. */
  toArray(): Problem[] {
    return [...this.#entries].map(([code, { severity, message, at, count }]) => ({
      code,
      severity,
      message,
      at,
      ...(count > 1 ? { count } : {}),
    }));
  }

  #add(severity: Severity, code: string, message: string, at: Omit<Place, 'file'> | undefined, count: number): void {
    const known = this.#entries.get(code);
    if (known) known.count += count;
    else if (this.#entries.size < mostCodes) {
      this.#entries.set(code, { severity, message, at: { file: this.file, ...at }, count });
    }
  }
}
