/**
 * Key-length-value items of GPMF: a key of four characters, a type, the size of one structure, the number of structures,
 * then the data, big-endian, padded to four bytes (GPMF introduction, "GPMF KLV format").
 */
export interface KlvItem {
  readonly key: string;
  /** Character that names the type of the values; 0 for a nest of further items. */
  readonly type: number;
  readonly structBytes: number;
  readonly structs: number;
  /** Where the data lies in the payload. */
  readonly from: number;
  readonly to: number;
}

/** Type of an item that holds items. */
export const nestType = 0;

/** Type of an item whose structures are described by the last `TYPE` before it. */
export const complexType = 0x3f;

/** Deeper nests than this are damage: device, stream and one more are in use. */
const deepestNest = 8;

/**
 * The items that lie directly between two offsets. An item that would reach beyond the end is damage: it is told to
 * `onDamage` with its offset and ends the walk, as nothing behind it can be found.
 */
export function* klvItems(
  view: DataView,
  from: number,
  to: number,
  onDamage: (byte: number) => void,
): Generator<KlvItem> {
  let at = from;
  while (at + 8 <= to) {
    const keyNumber = view.getUint32(at);
    if (keyNumber === 0) {
      // Four zero bytes are padding.
      at += 4;
      continue;
    }
    const structBytes = view.getUint8(at + 5);
    const structs = view.getUint16(at + 6);
    const dataFrom = at + 8;
    const dataTo = dataFrom + structBytes * structs;
    if (dataTo > to) {
      onDamage(at);
      return;
    }
    yield {
      key: String.fromCharCode(keyNumber >>> 24, (keyNumber >>> 16) & 0xff, (keyNumber >>> 8) & 0xff, keyNumber & 0xff),
      type: view.getUint8(at + 4),
      structBytes,
      structs,
      from: dataFrom,
      to: dataTo,
    };
    at = dataFrom + Math.ceil((structBytes * structs) / 4) * 4;
  }
}

/** Calls `visit` for each item of a payload with the nests it lies in, outermost first; `enter` says whether to go into a nest. */
export function walkKlv(
  view: DataView,
  visit: (item: KlvItem, nests: readonly KlvItem[]) => void,
  onDamage: (byte: number) => void,
): void {
  const walk = (from: number, to: number, nests: readonly KlvItem[]): void => {
    for (const item of klvItems(view, from, to, onDamage)) {
      visit(item, nests);
      if (item.type !== nestType) continue;
      if (nests.length >= deepestNest) onDamage(item.from);
      else walk(item.from, item.to, [...nests, item]);
    }
  };
  walk(0, view.byteLength, []);
}

/** The text of an item of type `c`, `F` or `U`, Latin-1, without padding. */
export function textOf(view: DataView, item: KlvItem): string {
  let text = '';
  for (let at = item.from; at < item.to; at++) {
    const code = view.getUint8(at);
    if (code === 0) break;
    text += String.fromCharCode(code);
  }
  return text.trim();
}
