/** Signs of XML as bytes of UTF-8. */
export const sign = { lessThan: 60, greaterThan: 62, slash: 47, exclamation: 33, question: 63, equals: 61 } as const;

const encoder = new TextEncoder();

/** Starts and ends of markup that is no tag. */
export const marks = {
  comment: encoder.encode('<!--'),
  commentEnd: encoder.encode('-->'),
  cdata: encoder.encode('<![CDATA['),
  cdataEnd: encoder.encode(']]>'),
  instructionEnd: encoder.encode('?>'),
} as const;

export function startsWith(bytes: Uint8Array, what: Uint8Array, at: number): boolean {
  for (let i = 0; i < what.length; i++) if (bytes[at + i] !== what[i]) return false;
  return true;
}

/** Where a byte stands next; -1 where it does not. A loop, as `indexOf` costs more than the few bytes to the next tag. */
export function find(bytes: Uint8Array, byte: number, from: number): number {
  for (let at = from; at < bytes.length; at++) if (bytes[at] === byte) return at;
  return -1;
}

/** Position after a byte; -1 where it does not stand any more. */
export function afterByte(bytes: Uint8Array, byte: number, from: number): number {
  return find(bytes, byte, from) + 1 || -1;
}

/** Position after a sequence; -1 where it does not stand any more. */
export function after(bytes: Uint8Array, what: Uint8Array, from: number): number {
  for (let at = bytes.indexOf(what[0], from); at !== -1; at = bytes.indexOf(what[0], at + 1)) {
    if (startsWith(bytes, what, at)) return at + what.length;
  }
  return -1;
}

export function blank(bytes: Uint8Array, from: number, to: number): boolean {
  for (let at = from; at < to; at++) if (bytes[at] > 32) return false;
  return true;
}

/** After the `>` of a tag, quotes respected; -1 if it has not been read yet. */
export function endOfTag(bytes: Uint8Array, from: number): number {
  let quote = 0;
  for (let at = from; at < bytes.length; at++) {
    const byte = bytes[at];
    if (quote !== 0) {
      if (byte === quote) quote = 0;
    } else if (byte === sign.greaterThan) return at + 1;
    else if (byte === 34 || byte === 39) quote = byte;
  }
  return -1;
}
