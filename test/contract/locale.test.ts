import assert from 'node:assert/strict';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

function sources(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.ts'))
    .map((entry) => join(entry.parentPath, entry.name));
}

describe('language of the machine', () => {
  it('has no way into the engine, so that reports are the same everywhere', () => {
    const found: string[] = [];
    for (const file of [...sources('shared'), ...sources('src/engine')]) {
      const text = readFileSync(file, 'utf8').replace(/\/\*[\s\S]*?\*\/|\/\/.*$/gm, '');
      for (const word of [
        /\.toLocale\w*\(/,
        /\bIntl\./,
        /\.localeCompare\(/,
        /\.getHours\(|\.getDate\(|\.getTimezoneOffset\(/,
      ]) {
        if (word.test(text)) found.push(`${file}: ${word.source}`);
      }
    }
    assert.deepEqual(found, []);
  });
});
