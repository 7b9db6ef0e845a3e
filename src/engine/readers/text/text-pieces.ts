import type { ByteSource, Work } from '../../world.ts';
import type { ProblemList } from '../problem-list.ts';

/** Read at a time: large enough that per-piece costs vanish, small enough that a cancel is felt at once. */
const pieceBytes = 1_048_576;

/** After so many pieces the event loop gets a turn, so that an editor stays alive and a cancel arrives. */
const piecesPerTurn = 4;

/**
 * The text of a file in pieces of about 1 MiB. A byte order mark decides its encoding, then the look of the bytes (UTF-16
 * without a mark), then an XML declaration, then whether it is valid UTF-8 (otherwise Windows-1252, the superset of
 * ISO-8859-1 that web standards read for it: WHATWG Encoding Standard). Rejects only on abort or a failing source.
 */
export async function* textPieces(source: ByteSource, work: Work, problems: ProblemList): AsyncGenerator<string> {
  let decoder: TextDecoder | undefined;
  for await (const bytes of bytePieces(source, work, problems)) {
    decoder ??= new TextDecoder(encodingFor(bytes, problems));
    yield decoder.decode(bytes, { stream: true });
  }
  const rest = decoder?.decode();
  if (rest) yield rest;
}

/** The same as bytes of UTF-8, which costs nothing where the file is UTF-8. */
export async function* utf8Pieces(source: ByteSource, work: Work, problems: ProblemList): AsyncGenerator<Uint8Array> {
  const encoder = new TextEncoder();
  let decoder: TextDecoder | undefined;
  let first = true;
  for await (const bytes of bytePieces(source, work, problems)) {
    if (first) {
      first = false;
      const encoding = encodingFor(bytes, problems);
      if (encoding !== 'utf-8') decoder = new TextDecoder(encoding);
      else if (bytes[0] === 0xef && bytes[1] === 0xbb) {
        yield bytes.subarray(3);
        continue;
      }
    }
    yield decoder ? encoder.encode(decoder.decode(bytes, { stream: true })) : bytes;
  }
  const rest = decoder?.decode();
  if (rest) yield encoder.encode(rest);
}

async function* bytePieces(source: ByteSource, work: Work, problems: ProblemList): AsyncGenerator<Uint8Array> {
  for (let offset = 0, piece = 0; offset < source.sizeBytes; piece++) {
    work.signal?.throwIfAborted();
    const bytes = await source.read(offset, pieceBytes);
    if (bytes.length === 0) {
      const message = `The file ends after ${offset} of ${source.sizeBytes} bytes: it was cut while being read.`;
      problems.warning('file-cut-short', message);
      return;
    }
    offset += bytes.length;
    yield bytes;
    work.onProgress?.(Math.min(1, offset / source.sizeBytes));
    if (piece % piecesPerTurn === piecesPerTurn - 1) await new Promise<void>((resolve) => setTimeout(resolve, 0));
  }
}

/** The first bytes as text, for recognising a format. Never throws. */
export function headText(head: Uint8Array): string {
  return new TextDecoder(encodingOf(head)).decode(head);
}

function encodingFor(head: Uint8Array, problems: ProblemList): string {
  const stated = statedEncoding(head);
  if (stated === undefined && !isUtf8(head)) {
    problems.info('text-not-utf8', 'The text is not UTF-8; read as ISO-8859-1 (Windows-1252).');
  }
  return stated ?? encodingOf(head);
}

function encodingOf(head: Uint8Array): string {
  return statedEncoding(head) ?? (isUtf8(head) ? 'utf-8' : 'windows-1252');
}

/** By a byte order mark, by the zeros of UTF-16, or by an XML declaration. */
function statedEncoding(head: Uint8Array): string | undefined {
  if (head[0] === 0xef && head[1] === 0xbb && head[2] === 0xbf) return 'utf-8';
  if (head[0] === 0xff && head[1] === 0xfe) return 'utf-16le';
  if (head[0] === 0xfe && head[1] === 0xff) return 'utf-16be';
  return wideEncoding(head) ?? declaredEncoding(head);
}

/** Plain text in UTF-16 has a zero in every other byte. */
function wideEncoding(head: Uint8Array): string | undefined {
  const looked = Math.min(head.length, 1024) & ~1;
  let evenZeros = 0;
  let oddZeros = 0;
  for (let at = 0; at < looked; at += 2) {
    if (head[at] === 0) evenZeros++;
    if (head[at + 1] === 0) oddZeros++;
  }
  const most = looked / 2;
  if (most === 0) return undefined;
  if (oddZeros > 0.7 * most && evenZeros < 0.1 * most) return 'utf-16le';
  if (evenZeros > 0.7 * most && oddZeros < 0.1 * most) return 'utf-16be';
  return undefined;
}

function declaredEncoding(head: Uint8Array): string | undefined {
  let start = '';
  for (let at = 0; at < Math.min(head.length, 200); at++) start += String.fromCharCode(head[at]);
  const label = /^\s*<\?xml[^>]*?\sencoding\s*=\s*["']([\w.:-]+)["']/.exec(start)?.[1];
  if (label === undefined || /^utf-?16/i.test(label)) return undefined;
  try {
    const { encoding } = new TextDecoder(label);
    return encoding === 'utf-8' && !isUtf8(head) ? undefined : encoding;
  } catch {
    return undefined;
  }
}

function isUtf8(head: Uint8Array): boolean {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(head, { stream: true });
    return true;
  } catch {
    return false;
  }
}
