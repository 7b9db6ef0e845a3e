/** Node's assertions are not there in a web worker: the few that the suites need, for both hosts. */
export class Failed extends Error {}

function show(value: unknown): string {
  return typeof value === 'string' ? JSON.stringify(value) : (JSON.stringify(value) ?? String(value));
}

export function ok(value: unknown, message = `expected something, found ${show(value)}`): asserts value {
  if (value === undefined || value === null || value === false || value === '' || value === 0)
    throw new Failed(message);
}

export function equal<T>(found: T, expected: T, message = ''): void {
  if (!Object.is(found, expected))
    throw new Failed(`${message} expected ${show(expected)}, found ${show(found)}`.trim());
}

/** Compares plain data: what JSON can hold. */
export function deepEqual(found: unknown, expected: unknown, message = ''): void {
  const [a, b] = [show(found), show(expected)];
  if (a !== b) throw new Failed(`${message} expected ${b}, found ${a}`.trim());
}

export function match(text: string, pattern: RegExp): void {
  if (!pattern.test(text)) throw new Failed(`expected ${pattern}, found ${show(text)}`);
}

export function near(found: number, expected: number, tolerance: number): void {
  if (!(Math.abs(found - expected) <= tolerance))
    throw new Failed(`expected ${expected} ± ${tolerance}, found ${found}`);
}

/** Waits until `probe` gives something; throws with what it said last when that takes longer than `patienceMs`. */
export async function eventually<T>(
  probe: () => T | undefined | Promise<T | undefined>,
  what: string,
  patienceMs = 15_000,
): Promise<T> {
  const deadline = Date.now() + patienceMs;
  for (;;) {
    const value = await probe();
    if (value !== undefined && value !== false) return value;
    if (Date.now() > deadline) throw new Failed(`waited ${patienceMs / 1000} s for: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}
