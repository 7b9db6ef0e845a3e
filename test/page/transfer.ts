/** Data with typed arrays as JSON, to be given to a page by a test: `NaN` and all. */
type Box = { readonly $array: 'Float32Array' | 'Float64Array'; readonly base64: string };

function isBox(value: unknown): value is Box {
  return typeof value === 'object' && value !== null && '$array' in value;
}

export function pack(value: unknown): string {
  return JSON.stringify(value, (_key, one: unknown) => {
    if (!(one instanceof Float32Array || one instanceof Float64Array)) return one;
    const bytes = Buffer.from(one.buffer, one.byteOffset, one.byteLength);
    return {
      $array: one instanceof Float32Array ? 'Float32Array' : 'Float64Array',
      base64: bytes.toString('base64'),
    } satisfies Box;
  });
}

export function unpack(text: string): unknown {
  return JSON.parse(text, (_key, one: unknown) => {
    if (!isBox(one)) return one;
    const bytes = Uint8Array.from(atob(one.base64), (letter) => letter.charCodeAt(0));
    return one.$array === 'Float32Array' ? new Float32Array(bytes.buffer) : new Float64Array(bytes.buffer);
  });
}
