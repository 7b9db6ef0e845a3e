import assert from 'node:assert/strict';
import * as fc from 'fast-check';
import { codeSpan, escapeMarkdown, linkTarget, markdownTable } from '../../../shared/markdown.ts';

describe('markdown', () => {
  it('leaves nothing that could become markup, a link, HTML or a second cell', () => {
    assert.equal(escapeMarkdown('a|b'), 'a\\|b');
    assert.equal(escapeMarkdown('<script>'), '\\<script\\>');
    assert.equal(escapeMarkdown('[x](y)'), '\\[x\\](y)');
    assert.equal(escapeMarkdown('one\r\ntwo'), 'one two');
    assert.equal(escapeMarkdown('- item'), '\\- item');
    assert.equal(escapeMarkdown('1. item'), '1\\. item');
    assert.equal(escapeMarkdown('# head'), '\\# head');
    assert.equal(
      escapeMarkdown('see http://x.y and www.x.y, :smile: @me #12 &lt;'),
      'see http\\://x.y and www\\.x.y, \\:smile: \\@me \\#12 \\&lt;',
    );
    assert.equal(escapeMarkdown('stands out: +3 %, 5 # & (1-2)!'), 'stands out: +3 %, 5 # & (1-2)!');
    assert.equal(escapeMarkdown('a\u0000\u202eb'), 'ab');
    fc.assert(
      fc.property(fc.string({ maxLength: 40 }), (text) => {
        const escaped = escapeMarkdown(text);
        assert.ok(!/[\n\r]/.test(escaped));
        assert.ok(!/(?<!\\)(?:\\\\)*[|<>`*_[\]]/.test(escaped), escaped);
      }),
      { seed: 3, numRuns: 500 },
    );
  });

  it('fences code with as many backticks as it needs', () => {
    assert.equal(codeSpan('a'), '`a`');
    assert.equal(codeSpan('a`b'), '``a`b``');
    assert.equal(codeSpan('`a'), '`` `a ``');
  });

  it('makes link targets safe', () => {
    assert.equal(linkTarget('my report/figure (1).svg'), 'my%20report/figure%20%281%29.svg');
  });

  it('writes tables that do not change with the width of a cell', () => {
    assert.equal(markdownTable(['a', 'b'], [['1', '2']], ['left', 'right']), '| a | b |\n| --- | ---: |\n| 1 | 2 |\n');
  });
});
