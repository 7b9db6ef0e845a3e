/** What remains of a file beside its samples, gathered as bytes of UTF-8. */
export class SkeletonText {
  readonly #encoder = new TextEncoder();
  readonly #parts: Uint8Array[] = [];
  #bytes = 0;

  get bytes(): number {
    return this.#bytes;
  }

  /** Bytes are kept as they are: hand over a copy. */
  add(part: string | Uint8Array): void {
    const bytes = typeof part === 'string' ? this.#encoder.encode(part) : part;
    this.#parts.push(bytes);
    this.#bytes += bytes.length;
  }

  toString(): string {
    const decoder = new TextDecoder();
    return this.#parts.map((bytes) => decoder.decode(bytes, { stream: true })).join('') + decoder.decode();
  }
}
