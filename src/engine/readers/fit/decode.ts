import type { BaseType } from './base-types.ts';
import { baseTypes } from './base-types.ts';

/** One data message. Values that the recorder marked as not measured are absent. */
export interface FitMessage {
  /** What the message is about (20 is a record of an activity). */
  readonly globalNumber: number;
  /** Seconds from the FIT epoch, from the message itself or from a compressed header; NaN when there is none. */
  readonly timestamp: number;
  readonly field: (number: number) => number | undefined;
  /** Several values of one field; empty when not measured. */
  readonly values: (number: number) => readonly number[];
  readonly byte: number;
}

/** Where and why reading stopped before the end. */
export interface FitStop {
  readonly byte: number;
  readonly reason: string;
}

interface FieldPlace {
  readonly number: number;
  readonly offset: number;
  readonly type: BaseType;
  readonly count: number;
}

interface Definition {
  readonly globalNumber: number;
  readonly littleEndian: boolean;
  readonly fields: ReadonlyMap<number, FieldPlace>;
  /** Size of the data with developer fields, which are passed over. */
  readonly bytes: number;
}

/** Number of the field that holds the time in every message. */
const timestampField = 253;

/**
 * The data messages between two offsets (FIT protocol, "Record format"): definition messages in either byte order,
 * developer fields passed over, compressed timestamps. Answers where it had to stop early.
 */
export function decodeFit(
  bytes: Uint8Array,
  from: number,
  to: number,
  take: (message: FitMessage) => void,
): FitStop | undefined {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const definitions = new Map<number, Definition>();
  let lastTimestamp = Number.NaN;
  let at = from;
  while (at < to) {
    const header = bytes[at];
    const compressed = (header & 0x80) !== 0;
    if (!compressed && header & 0x40) {
      const defined = readDefinition(view, at, to, (header & 0x20) !== 0);
      if (typeof defined === 'string') return { byte: at, reason: defined };
      definitions.set(header & 0x0f, defined.definition);
      at = defined.endByte;
      continue;
    }
    const definition = definitions.get(compressed ? (header >> 5) & 0x3 : header & 0x0f);
    if (!definition) return { byte: at, reason: 'a message without definition' };
    if (at + 1 + definition.bytes > to) return { byte: at, reason: 'the last message is cut short' };
    const values = valuesOf(view, at + 1, definition);
    const stated = values(timestampField)[0];
    if (stated !== undefined) lastTimestamp = stated;
    else if (compressed) lastTimestamp = advanced(lastTimestamp, header & 0x1f);
    take({
      globalNumber: definition.globalNumber,
      timestamp: stated ?? (compressed ? lastTimestamp : Number.NaN),
      field: (number) => values(number)[0],
      values,
      byte: at,
    });
    at += 1 + definition.bytes;
  }
  return undefined;
}

/** A compressed header states the last five bits of the time; they only ever go on from the last time stated. */
function advanced(lastTimestamp: number, lowBits: number): number {
  const low = lastTimestamp % 32;
  return lastTimestamp - low + lowBits + (lowBits < low ? 32 : 0);
}

function readDefinition(
  view: DataView,
  at: number,
  to: number,
  withDeveloperFields: boolean,
): { definition: Definition; endByte: number } | string {
  const cut = 'a definition is cut short';
  if (at + 6 > to) return cut;
  const littleEndian = view.getUint8(at + 2) === 0;
  const count = view.getUint8(at + 5);
  let next = at + 6;
  if (next + 3 * count > to) return cut;
  const fields = new Map<number, FieldPlace>();
  let offset = 0;
  for (let i = 0; i < count; i++, next += 3) {
    const bytes = view.getUint8(next + 1);
    const type = baseTypes.get(view.getUint8(next + 2));
    const number = view.getUint8(next);
    // A size that the type does not divide is passed over, as the protocol asks.
    if (type && bytes >= type.bytes && bytes % type.bytes === 0) {
      fields.set(number, { number, offset, type, count: bytes / type.bytes });
    }
    offset += bytes;
  }
  if (withDeveloperFields) {
    if (next + 1 > to) return cut;
    const developers = view.getUint8(next++);
    if (next + 3 * developers > to) return cut;
    for (let i = 0; i < developers; i++, next += 3) offset += view.getUint8(next + 1);
  }
  const globalNumber = view.getUint16(at + 3, littleEndian);
  return { definition: { globalNumber, littleEndian, fields, bytes: offset }, endByte: next };
}

function valuesOf(view: DataView, dataByte: number, definition: Definition): (number: number) => readonly number[] {
  return (number) => {
    const place = definition.fields.get(number);
    if (!place) return [];
    const { type, count, offset } = place;
    const values: number[] = [];
    for (let k = 0; k < count; k++) {
      const value = type.read(view, dataByte + offset + k * type.bytes, definition.littleEndian);
      if (value !== type.invalid && !Number.isNaN(value)) values.push(value);
    }
    return values;
  };
}
