import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { parseSpec } from '../../../../src/engine/spec/parse.ts';

describe('the language reference', () => {
  it('shows an example that is understood without a problem', () => {
    const text = readFileSync('src/engine/spec/README.md', 'utf8');
    const example = /```yaml\n([\s\S]*?)```/.exec(text)?.[1];
    assert.ok(example);
    assert.deepEqual(parseSpec(example, 'README').problems, []);
  });
});
