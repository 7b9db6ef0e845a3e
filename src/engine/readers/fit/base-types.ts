/** A base type of FIT: its width, how a value is read, and the value that stands for "not measured". */
export interface BaseType {
  readonly bytes: number;
  readonly read: (view: DataView, at: number, littleEndian: boolean) => number;
  /** NaN for types without one; floats are not measured when NaN themselves. */
  readonly invalid: number;
}

const readUint8 = (view: DataView, at: number): number => view.getUint8(at);
const readUint16 = (view: DataView, at: number, little: boolean): number => view.getUint16(at, little);
const readUint32 = (view: DataView, at: number, little: boolean): number => view.getUint32(at, little);
const readUint64 = (view: DataView, at: number, little: boolean): number => Number(view.getBigUint64(at, little));

/**
 * Base types by their number in a definition message (FIT protocol, "Base types"; the table is the same in every public
 * decoder). Text (7) is not here: no text is read. The invalid values of 64 bits are what they round to as a double.
 */
export const baseTypes: ReadonlyMap<number, BaseType> = new Map([
  [0x00, { bytes: 1, read: readUint8, invalid: 0xff }],
  [0x01, { bytes: 1, read: (view, at) => view.getInt8(at), invalid: 0x7f }],
  [0x02, { bytes: 1, read: readUint8, invalid: 0xff }],
  [0x83, { bytes: 2, read: (view, at, little) => view.getInt16(at, little), invalid: 0x7fff }],
  [0x84, { bytes: 2, read: readUint16, invalid: 0xffff }],
  [0x85, { bytes: 4, read: (view, at, little) => view.getInt32(at, little), invalid: 0x7fffffff }],
  [0x86, { bytes: 4, read: readUint32, invalid: 0xffffffff }],
  [0x88, { bytes: 4, read: (view, at, little) => view.getFloat32(at, little), invalid: Number.NaN }],
  [0x89, { bytes: 8, read: (view, at, little) => view.getFloat64(at, little), invalid: Number.NaN }],
  [0x0a, { bytes: 1, read: readUint8, invalid: 0 }],
  [0x8b, { bytes: 2, read: readUint16, invalid: 0 }],
  [0x8c, { bytes: 4, read: readUint32, invalid: 0 }],
  [0x0d, { bytes: 1, read: readUint8, invalid: Number.NaN }],
  [0x8e, { bytes: 8, read: (view, at, little) => Number(view.getBigInt64(at, little)), invalid: 2 ** 63 }],
  [0x8f, { bytes: 8, read: readUint64, invalid: 2 ** 64 }],
  [0x90, { bytes: 8, read: readUint64, invalid: 0 }],
]);
