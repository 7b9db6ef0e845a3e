/** Text gathered piece by piece, kept as bytes: pieces of a string would keep the whole text of the file alive. */
export class SkeletonText {
  readonly #encoder = new TextEncoder();
  readonly #packed: Uint8Array[] = [];
  #parts: string[] = [];
  #bytes = 0;

  add(text: string): void {
    this.#parts.push(text);
  }

  /** Lets go of the strings added so far; gives the bytes gathered. */
  pack(): number {
    if (this.#parts.length > 0) {
      const bytes = this.#encoder.encode(this.#parts.join(''));
      this.#packed.push(bytes);
      this.#bytes += bytes.length;
      this.#parts = [];
    }
    return this.#bytes;
  }

  toString(): string {
    this.pack();
    const decoder = new TextDecoder();
    return this.#packed.map((bytes) => decoder.decode(bytes)).join('');
  }
}
