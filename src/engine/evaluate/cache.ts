/**
 * Where results that cost time are kept between evaluations. Keys are short and safe as file names; values are text. A
 * cache may forget at any time; it must not alter. `get` gives undefined for what it does not have.
 */
export interface ResultCache {
  get(key: string): Promise<string | undefined>;
  put(key: string, value: string): Promise<void>;
}

const marks: Readonly<Record<string, number>> = {
  '\u0000NaN': Number.NaN,
  '\u0000Infinity': Number.POSITIVE_INFINITY,
  '\u0000-Infinity': Number.NEGATIVE_INFINITY,
};

/** JSON that keeps NaN and infinities. Typed arrays become plain lists: do not put them in. */
export function encodeResult(value: unknown): string {
  return JSON.stringify(value, (_key, inner: unknown) =>
    typeof inner === 'number' && !Number.isFinite(inner) ? `\u0000${inner}` : inner,
  );
}

/** Undefined when the text is not what `encodeResult` wrote, e.g. cut short. */
export function decodeResult(text: string): unknown {
  try {
    return JSON.parse(text, (_key, inner: unknown) =>
      typeof inner === 'string' && Object.hasOwn(marks, inner) ? marks[inner] : inner,
    );
  } catch {
    return undefined;
  }
}
