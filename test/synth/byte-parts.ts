/** Bytes put together from numbers, Latin-1 text and other bytes. */
export function joined(...parts: readonly (Uint8Array | readonly number[] | string)[]): Uint8Array {
  const arrays = parts.map((part) =>
    typeof part === 'string' ? Uint8Array.from(part, (letter) => letter.charCodeAt(0)) : Uint8Array.from(part),
  );
  const out = new Uint8Array(arrays.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const array of arrays) {
    out.set(array, at);
    at += array.length;
  }
  return out;
}

type Kind = 'Int8' | 'Uint8' | 'Int16' | 'Uint16' | 'Int32' | 'Uint32' | 'Float32' | 'Float64';

const widths: Readonly<Record<Kind, number>> = {
  Int8: 1,
  Uint8: 1,
  Int16: 2,
  Uint16: 2,
  Int32: 4,
  Uint32: 4,
  Float32: 4,
  Float64: 8,
};

/** Numbers of one kind behind each other, big-endian unless told otherwise. */
export function numbers(kind: Kind, values: readonly number[], littleEndian = false): Uint8Array {
  const bytes = new Uint8Array(values.length * widths[kind]);
  const view = new DataView(bytes.buffer);
  for (const [i, value] of values.entries()) {
    if (widths[kind] === 1) view.setUint8(i, value & 0xff);
    else view[`set${kind as 'Int32'}`](i * widths[kind], value, littleEndian);
  }
  return bytes;
}

/** Unsigned 64-bit numbers, big-endian. */
export function numbers64(values: readonly number[]): Uint8Array {
  const bytes = new Uint8Array(values.length * 8);
  const view = new DataView(bytes.buffer);
  for (const [i, value] of values.entries()) view.setBigUint64(i * 8, BigInt(value));
  return bytes;
}

/** The bytes of a hexadecimal text; white space is passed over. */
export function fromHex(text: string): Uint8Array {
  const digits = text.replace(/\s+/g, '');
  return Uint8Array.from({ length: digits.length / 2 }, (_, i) => Number.parseInt(digits.slice(2 * i, 2 * i + 2), 16));
}
