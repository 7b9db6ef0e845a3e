import type { ByteSource } from '../../world.ts';

/** One box of the ISO base media file format (ISO/IEC 14496-12, 4.2): where it lies and where its content begins. */
export interface Box {
  /** Four characters, Latin-1. */
  readonly type: string;
  /** Offset of the box in the file. */
  readonly startByte: number;
  /** Offset of its content, behind size, type and 64-bit size. */
  readonly contentByte: number;
  /** Offset behind the box as it declares itself; may lie beyond the end of the file. */
  readonly endByte: number;
  /** True when the box says that it reaches to the end of the file (size 0). */
  readonly open: boolean;
}

/** What stopped a walk over boxes early. */
export interface BadBox {
  readonly atByte: number;
  readonly declaredBytes: number;
}

/**
 * A window after a jump is small, because a film in fragments has thousands of headers megabytes apart; it grows while
 * reading goes on where it ended.
 */
const smallestWindowBytes = 1024;
const largestWindowBytes = 16_384;

/**
 * Ranged reads through one small window, so that walking neighbouring headers costs one read. Answers views that are
 * valid until the next call, shorter than asked only at the end of the file.
 */
export class WindowedReader {
  private window: Uint8Array = new Uint8Array(0);
  private windowByte = 0;
  private nextBytes = smallestWindowBytes;
  private readonly source: ByteSource;

  constructor(source: ByteSource) {
    this.source = source;
  }

  get sizeBytes(): number {
    return this.source.sizeBytes;
  }

  async view(offset: number, length: number): Promise<DataView> {
    const wanted = Math.max(0, Math.min(length, this.source.sizeBytes - offset));
    const within = offset >= this.windowByte && offset + wanted <= this.windowByte + this.window.length;
    if (!within) {
      const goesOn = offset >= this.windowByte && offset <= this.windowByte + this.window.length;
      this.nextBytes = goesOn ? Math.min(largestWindowBytes, 2 * this.nextBytes) : smallestWindowBytes;
      this.window = await this.source.read(offset, Math.max(wanted, Math.min(this.nextBytes, this.sizeBytes - offset)));
      this.windowByte = offset;
    }
    const from = offset - this.windowByte;
    const held = Math.max(0, Math.min(wanted, this.window.length - from));
    return new DataView(this.window.buffer, this.window.byteOffset + from, held);
  }
}

/** Four characters at an offset, Latin-1. */
export function fourCharacters(view: DataView, offset: number): string {
  return String.fromCharCode(
    view.getUint8(offset),
    view.getUint8(offset + 1),
    view.getUint8(offset + 2),
    view.getUint8(offset + 3),
  );
}

/**
 * The boxes that lie between two offsets, in order. A size smaller than its own header ends the walk and is told to
 * `onBad`; every step goes forward by 8 bytes at least, so that it always ends.
 */
export async function* boxesBetween(
  reader: WindowedReader,
  fromByte: number,
  toByte: number,
  onBad?: (bad: BadBox) => void,
): AsyncGenerator<Box> {
  let at = fromByte;
  while (at + 8 <= toByte) {
    const head = await reader.view(at, Math.min(16, toByte - at));
    if (head.byteLength < 8) return;
    let size = head.getUint32(0);
    const type = fourCharacters(head, 4);
    let headerBytes = 8;
    const open = size === 0;
    if (open) size = toByte - at;
    if (size === 1) {
      if (head.byteLength < 16) return;
      size = Number(head.getBigUint64(8));
      headerBytes = 16;
    }
    if (size < headerBytes) {
      onBad?.({ atByte: at, declaredBytes: size });
      return;
    }
    yield { type, startByte: at, contentByte: at + headerBytes, endByte: at + size, open };
    at += size;
  }
}

/** The first box of a type directly inside another, whose content starts `skipBytes` later (for full boxes). */
export async function childBox(
  reader: WindowedReader,
  parent: Box,
  type: string,
  skipBytes = 0,
): Promise<Box | undefined> {
  const end = Math.min(parent.endByte, reader.sizeBytes);
  for await (const box of boxesBetween(reader, parent.contentByte + skipBytes, end)) if (box.type === type) return box;
  return undefined;
}
