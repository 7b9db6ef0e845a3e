import assert from 'node:assert/strict';
import { ProblemList } from '../../../../../src/engine/readers/problem-list.ts';
import { eachLine, lineBlocks } from '../../../../../src/engine/readers/text/lines.ts';
import { bytesInMemory } from '../../../../../src/engine/world.ts';

async function linesOf(text: string): Promise<{ lines: [number, string][]; problems: ProblemList }> {
  const problems = new ProblemList('x');
  const lines: [number, string][] = [];
  await eachLine(bytesInMemory('x', new TextEncoder().encode(text)), {}, problems, (line, number) =>
    lines.push([number, line]),
  );
  return { lines, problems };
}

describe('eachLine', () => {
  it('splits at every kind of line end and numbers the lines', async () => {
    const expected = [
      [1, 'a'],
      [2, 'b'],
      [3, ''],
      [4, 'c'],
    ];
    for (const text of ['a\nb\n\nc', 'a\r\nb\r\n\r\nc\r\n', 'a\rb\r\rc', 'a\nb\r\n\rc\n']) {
      assert.deepEqual((await linesOf(text)).lines, expected, JSON.stringify(text));
    }
    assert.deepEqual((await linesOf('')).lines, []);
  });

  it('joins what a piece of the file cuts, also between CR and LF', async () => {
    const filler = 'x'.repeat(99);
    // A piece ends after 1,048,576 bytes: within a line, before LF, and between CR and LF.
    for (const ending of ['\n', '\r\n']) {
      for (const shift of [0, 1, 2, 3, 50]) {
        const text = 'y'.repeat(shift) + ending + `${filler}${ending}`.repeat(21_000);
        const { lines } = await linesOf(text);
        assert.equal(lines.length, 21_001);
        assert.ok(
          lines.slice(1).every(([, line]) => line === filler),
          `${shift} ${ending.length}`,
        );
        assert.equal(lines.at(-1)?.[0], 21_001);
      }
    }
  });

  it('skips a line that is none, reports it, and goes on', async () => {
    const { lines, problems } = await linesOf(`first\n${'z'.repeat(3_000_000)}\nthird\nfourth`);
    assert.deepEqual(lines, [
      [1, 'first'],
      [3, 'third'],
      [4, 'fourth'],
    ]);
    assert.deepEqual(
      problems.toArray().map(({ code, at }) => [code, at?.line]),
      [['line-too-long', 2]],
    );
  });

  it('gives blocks of whole lines', async () => {
    const text = `${'0123456789\n'.repeat(200_000)}end`;
    let whole = '';
    let line = 1;
    for await (const block of lineBlocks(
      bytesInMemory('x', new TextEncoder().encode(text)),
      {},
      new ProblemList('x'),
    )) {
      assert.ok(block.text.endsWith('\n'));
      assert.equal(block.firstLine, line);
      line += block.text.split('\n').length - 1;
      whole += block.text;
    }
    assert.equal(whole, `${text}\n`);
  });
});
