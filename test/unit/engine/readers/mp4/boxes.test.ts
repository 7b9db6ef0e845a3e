import assert from 'node:assert/strict';
import type { BadBox, Box } from '../../../../../src/engine/readers/mp4/boxes.ts';
import { boxesBetween, WindowedReader } from '../../../../../src/engine/readers/mp4/boxes.ts';
import { bytesInMemory } from '../../../../../src/engine/world.ts';
import { joined, numbers, numbers64 } from '../../../../synth/byte-parts.ts';
import { box } from '../../../../synth/film.ts';

async function walk(bytes: Uint8Array): Promise<{ boxes: Box[]; bad: BadBox[] }> {
  const boxes: Box[] = [];
  const bad: BadBox[] = [];
  const reader = new WindowedReader(bytesInMemory('film.mp4', bytes));
  for await (const found of boxesBetween(reader, 0, bytes.length, (one) => bad.push(one))) boxes.push(found);
  return { boxes, bad };
}

// Sizes as in ISO/IEC 14496-12, 4.2: 32 bits, 64 bits behind a size of 1, "to the end" for a size of 0.
describe('boxes', () => {
  it('are walked with 32-bit, 64-bit and open sizes', async () => {
    const first = box('ftyp', new Uint8Array(4));
    const second = joined(numbers('Uint32', [1]), 'mdat', numbers64([24]), new Uint8Array(8));
    const third = joined(numbers('Uint32', [0]), 'free', new Uint8Array(100));
    const { boxes, bad } = await walk(joined(first, second, third));
    assert.deepEqual(bad, []);
    assert.deepEqual(
      boxes.map(({ type, startByte, contentByte, endByte, open }) => [type, startByte, contentByte, endByte, open]),
      [
        ['ftyp', 0, 8, 12, false],
        ['mdat', 12, 28, 36, false],
        ['free', 36, 44, 144, true],
      ],
    );
  });

  it('end at a size smaller than the header', async () => {
    for (const size of [2, 7]) {
      const { boxes, bad } = await walk(joined(box('ftyp'), numbers('Uint32', [size]), 'mdat', new Uint8Array(50)));
      assert.equal(boxes.length, 1);
      assert.deepEqual(bad, [{ atByte: 8, declaredBytes: size }]);
    }
    const long = await walk(joined(numbers('Uint32', [1]), 'mdat', numbers64([15]), new Uint8Array(50)));
    assert.deepEqual(long.bad, [{ atByte: 0, declaredBytes: 15 }]);
  });

  it('may say that they go beyond the end of the file', async () => {
    const { boxes } = await walk(joined(numbers('Uint32', [5000]), 'mdat', new Uint8Array(50)));
    assert.equal(boxes[0].endByte, 5000);
  });

  it('cost few reads when they lie close together', async () => {
    const bytes = joined(...Array.from({ length: 500 }, () => box('free', new Uint8Array(8))));
    let reads = 0;
    const source = bytesInMemory('film.mp4', bytes);
    const reader = new WindowedReader({ ...source, read: (offset, length) => (reads++, source.read(offset, length)) });
    let count = 0;
    for await (const found of boxesBetween(reader, 0, bytes.length)) count += found.type === 'free' ? 1 : 0;
    assert.equal(count, 500);
    assert.ok(reads <= 4, `${reads} reads of ${bytes.length} bytes`);
  });
});
