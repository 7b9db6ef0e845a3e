import assert from 'node:assert/strict';
import * as fc from 'fast-check';
import { beginMarker, CannotInsert, endMarker, insertBetweenMarkers } from '../../../../src/engine/report/index.ts';

function fails(text: string, message: RegExp, line?: number): void {
  assert.throws(
    () => insertBetweenMarkers(text, 'r'),
    (error: unknown) => error instanceof CannotInsert && message.test(error.message) && error.line === line,
  );
}

describe('a report between two markers', () => {
  const notes = `# My notes\n\n${beginMarker}\nold\n${endMarker}\n\nmore\n`;

  it('replaces what stands between them, again and again', () => {
    const once = insertBetweenMarkers(notes, '## Report\n\ntext\n');
    assert.equal(once, `# My notes\n\n${beginMarker}\n\n## Report\n\ntext\n\n${endMarker}\n\nmore\n`);
    assert.equal(insertBetweenMarkers(once, '## Report\n\ntext\n'), once);
  });

  it('keeps every byte outside, whatever it is', () => {
    const outside = fc.string({ unit: 'binary', maxLength: 60 }).filter((text) => !text.includes('modproof'));
    fc.assert(
      fc.property(outside, outside, fc.constantFrom('\n', '\r\n', '\r'), (above, below, newline) => {
        const head = `${above}${newline}${beginMarker}${newline}`;
        const tail = `${endMarker}${newline}${below}`;
        const written = insertBetweenMarkers(`${head}old${newline}${tail}`, 'a\nb');
        assert.ok(written.startsWith(head) && written.endsWith(tail));
        assert.equal(
          written.slice(head.length, written.length - tail.length),
          `${newline}a${newline}b${newline}${newline}`,
        );
      }),
      { seed: 5, numRuns: 300 },
    );
  });

  it('works with markers at the very ends, indented, and without a last line end', () => {
    assert.equal(insertBetweenMarkers(`${beginMarker}\n${endMarker}`, 'r'), `${beginMarker}\n\nr\n\n${endMarker}`);
    assert.match(insertBetweenMarkers(`  ${beginMarker}  \n\t${endMarker}\n`, 'r'), /\n\nr\n\n\t<!--/);
  });

  it('refuses when a marker is missing, doubled or out of order, and says where', () => {
    fails('nothing', /missing/);
    fails(`${beginMarker}\n`, /modproof:end/);
    fails(`${endMarker}\n`, /modproof:begin/);
    fails(`${beginMarker}\n${beginMarker}\n${endMarker}\n`, /2 times/, 2);
    fails(`${beginMarker}\n${endMarker}\nx\n${endMarker}\n`, /2 times/, 4);
    fails(`${endMarker}\n${beginMarker}\n`, /above/, 1);
    fails(`text ${beginMarker} text\n${endMarker}\n`, /missing/);
  });
});
