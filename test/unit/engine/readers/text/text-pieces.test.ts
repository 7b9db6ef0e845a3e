import assert from 'node:assert/strict';
import { ProblemList } from '../../../../../src/engine/readers/problem-list.ts';
import { headText, textPieces, utf8Pieces } from '../../../../../src/engine/readers/text/text-pieces.ts';
import { bytesInMemory, type ByteSource, type Work } from '../../../../../src/engine/world.ts';

/** The same text must come out as bytes of UTF-8. */
async function asUtf8(bytes: Uint8Array): Promise<string> {
  const decoder = new TextDecoder('utf-8', { ignoreBOM: true });
  let text = '';
  for await (const piece of utf8Pieces(bytesInMemory('x', bytes), {}, new ProblemList('x'))) {
    text += decoder.decode(piece, { stream: true });
  }
  return text + decoder.decode();
}

async function decode(bytes: Uint8Array, work: Work = {}): Promise<{ text: string; problems: ProblemList }> {
  const problems = new ProblemList('x');
  let text = '';
  for await (const piece of textPieces(bytesInMemory('x', bytes), work, problems)) text += piece;
  if (Object.keys(work).length === 0) assert.equal(await asUtf8(bytes), text);
  return { text, problems };
}

const sample = '<?xml version="1.0"?>\n<a>é ß ° ő 漢</a>\n';
const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

function utf16(text: string, littleEndian: boolean, mark: boolean): Uint8Array {
  const whole = mark ? `\uFEFF${text}` : text;
  const view = new DataView(new ArrayBuffer(2 * whole.length));
  for (let i = 0; i < whole.length; i++) view.setUint16(2 * i, whole.charCodeAt(i), littleEndian);
  return new Uint8Array(view.buffer);
}

const latin1 = (text: string): Uint8Array => Uint8Array.from(text, (sign) => sign.charCodeAt(0));

describe('textPieces', () => {
  it('decodes UTF-8 with and without a byte order mark', async () => {
    assert.equal((await decode(utf8(sample))).text, sample);
    assert.equal((await decode(utf8(`\uFEFF${sample}`))).text, sample);
  });

  it('decodes UTF-16 with a mark, and without one by its zeros', async () => {
    const plain = '$GPRMC,1\r\n'.repeat(50);
    for (const little of [true, false]) {
      assert.equal((await decode(utf16(sample, little, true))).text, sample);
      assert.equal((await decode(utf16(plain, little, false))).text, plain);
    }
  });

  it('decodes a declared or a merely recognised ISO-8859-1', async () => {
    const declared = '<?xml version="1.0" encoding="ISO-8859-1"?><a>é °</a>';
    assert.equal((await decode(latin1(declared))).text, declared);
    const plain = 'Zeit;Länge;Höhe (m)\n';
    const { text, problems } = await decode(latin1(plain));
    assert.equal(text, plain);
    assert.ok(problems.has('text-not-utf8'));
  });

  it('does not believe a declaration that the bytes contradict', async () => {
    const wrong = '<?xml version="1.0" encoding="UTF-8"?><a>é</a>';
    assert.equal((await decode(latin1(wrong))).text, wrong);
    const unknown = '<?xml version="1.0" encoding="no-such-thing"?><a>é</a>';
    assert.equal((await decode(utf8(unknown))).text, unknown);
  });

  it('keeps signs whole across pieces', async () => {
    const text = `${'x'.repeat(1_048_575)}漢${'y'.repeat(1_048_574)}é`;
    assert.equal((await decode(utf8(text))).text, text);
  });

  it('reports progress and stops on abort', async () => {
    const fractions: number[] = [];
    const long = utf8('abcdefghij'.repeat(300_000));
    await decode(long, { onProgress: (fraction) => fractions.push(fraction) });
    assert.equal(fractions.length, 3);
    assert.equal(fractions.at(-1), 1);
    assert.ok(fractions.every((fraction, i) => fraction > (fractions[i - 1] ?? 0)));
    const controller = new AbortController();
    await assert.rejects(
      decode(long, { signal: controller.signal, onProgress: () => controller.abort(new Error('enough')) }),
      /enough/,
    );
  });

  it('lets other work run between pieces, so that a cancel can arrive', async () => {
    const controller = new AbortController();
    setTimeout(() => controller.abort(new Error('from outside')), 0);
    await assert.rejects(decode(utf8('x'.repeat(12_000_000)), { signal: controller.signal }), /from outside/);
  });

  it('says that a file became shorter while it was read', async () => {
    const short: ByteSource = {
      name: 'x',
      sizeBytes: 100,
      read: (offset) => Promise.resolve(offset === 0 ? utf8('abc') : new Uint8Array(0)),
    };
    const problems = new ProblemList('x');
    let text = '';
    for await (const piece of textPieces(short, {}, problems)) text += piece;
    assert.equal(text, 'abc');
    assert.ok(problems.has('file-cut-short'));
  });

  it('decodes a head without throwing', () => {
    assert.equal(headText(utf16(sample, true, true)), sample);
    assert.equal(headText(new Uint8Array(0)), '');
    assert.equal(typeof headText(Uint8Array.from({ length: 256 }, (_, i) => i)), 'string');
  });
});
