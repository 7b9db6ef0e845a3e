/** A value that parts of the page look at and change together: the cursor, the span in view. */
export class Store<T> {
  readonly #listeners = new Set<(value: T) => void>();
  #value: T;

  constructor(value: T) {
    this.#value = value;
  }

  get value(): T {
    return this.#value;
  }

  set(value: T): void {
    if (Object.is(value, this.#value)) return;
    this.#value = value;
    for (const listener of this.#listeners) listener(value);
  }

  /** Calls at each change until `signal` fires. */
  onChange(listener: (value: T) => void, signal: AbortSignal): void {
    this.#listeners.add(listener);
    signal.addEventListener('abort', () => this.#listeners.delete(listener), { once: true });
  }

  /** Calls now and at each change. */
  follow(listener: (value: T) => void, signal: AbortSignal): void {
    this.onChange(listener, signal);
    listener(this.#value);
  }
}

/** Runs `work` once in the next frame however often it is asked for. */
export function oncePerFrame(work: () => void, signal: AbortSignal): () => void {
  let asked = 0;
  signal.addEventListener('abort', () => cancelAnimationFrame(asked), { once: true });
  return () => {
    if (asked !== 0 || signal.aborted) return;
    asked = requestAnimationFrame(() => {
      asked = 0;
      work();
    });
  };
}
