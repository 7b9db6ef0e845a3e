import * as fc from 'fast-check';

/** A few changes to a file: bytes overwritten, pieces cut out or repeated, the end cut off. */
export interface Mutation {
  readonly kind: 'overwrite' | 'remove' | 'repeat' | 'cut';
  /** Fractions of the file, so that a mutation fits any length. */
  readonly at: number;
  readonly length: number;
  readonly bytes: Uint8Array;
}

const interesting = [0, 1, 2, 4, 8, 0x3f, 0x40, 0x7f, 0x80, 0xff];

export const mutations: fc.Arbitrary<Mutation[]> = fc.array(
  fc.record({
    kind: fc.constantFrom('overwrite', 'overwrite', 'overwrite', 'remove', 'repeat', 'cut'),
    at: fc.noBias(fc.integer({ min: 0, max: 999_999 })).map((millionths) => millionths / 1e6),
    length: fc.integer({ min: 1, max: 64 }),
    bytes: fc
      .uint8Array({ minLength: 1, maxLength: 8 })
      .chain((bytes) =>
        fc.constantFrom(bytes, ...interesting.map((value) => new Uint8Array(bytes.length).fill(value))),
      ),
  }),
  { minLength: 1, maxLength: 6 },
);

export function mutated(bytes: Uint8Array, changes: readonly Mutation[]): Uint8Array {
  let out = bytes.slice();
  for (const { kind, at, length, bytes: put } of changes) {
    const from = Math.floor(at * out.length);
    if (kind === 'overwrite') out.set(put.subarray(0, Math.max(0, out.length - from)), from);
    else if (kind === 'cut') out = out.slice(0, Math.max(1, from));
    else {
      const end = Math.min(out.length, from + length);
      const tail = kind === 'remove' ? out.subarray(end) : out.subarray(from);
      const head = kind === 'remove' ? out.subarray(0, from) : out.subarray(0, end);
      const joined = new Uint8Array(head.length + tail.length);
      joined.set(head);
      joined.set(tail, head.length);
      out = joined;
    }
    if (out.length === 0) return new Uint8Array(1);
  }
  return out;
}
