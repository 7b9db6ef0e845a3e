/** A name of an element or attribute, known once and found again by its bytes. */
export interface XmlName {
  readonly qualified: string;
  /** Without prefix. */
  readonly local: string;
  readonly bytes: Uint8Array;
  readonly hash: number;
}

const buckets = 256;

/** A recording has a few dozen names; beyond this they are not kept. */
const mostNames = 1000;

/** Finds names by their bytes, so that half a million tags of the same name make one string. */
export class NameTable {
  readonly #buckets: XmlName[][] = Array.from({ length: buckets }, () => []);
  readonly #decoder = new TextDecoder();
  #names = 0;
  /** Where the name read last ends. */
  end = 0;

  /** The name that starts here and ends before a blank, `>`, `/` or `=`; its end is left in `end`. */
  read(bytes: Uint8Array, start: number): XmlName {
    let hash = 0;
    let at = start;
    for (; at < bytes.length; at++) {
      const byte = bytes[at];
      if (byte <= 32 || byte === 62 || byte === 47 || byte === 61) break;
      hash = (hash * 31 + byte) | 0;
    }
    this.end = at;
    const bucket = this.#buckets[hash & (buckets - 1)];
    for (const name of bucket) if (name.hash === hash && isAt(bytes, start, at, name.bytes)) return name;
    return this.#add(bytes.slice(start, at), hash, bucket);
  }

  #add(bytes: Uint8Array, hash: number, bucket: XmlName[]): XmlName {
    const qualified = this.#decoder.decode(bytes);
    const name = { qualified, local: qualified.slice(qualified.indexOf(':') + 1), bytes, hash };
    if (this.#names < mostNames) {
      this.#names++;
      bucket.push(name);
    }
    return name;
  }
}

function isAt(bytes: Uint8Array, start: number, end: number, what: Uint8Array): boolean {
  if (end - start !== what.length) return false;
  for (let i = 0; i < what.length; i++) if (bytes[start + i] !== what[i]) return false;
  return true;
}
