import assert from 'node:assert/strict';
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, posix, relative, sep } from 'node:path';

/** Who may import whom: see DEVELOPERS.md. The first folder that matches a file decides what it may import. */
const allowed: readonly (readonly [string, readonly string[]])[] = [
  ['shared/', ['shared/']],
  ['src/engine/', ['shared/', 'src/engine/']],
  ['src/cli/', ['shared/', 'src/engine/', 'src/cli/']],
  ['src/vscode/', ['shared/', 'src/engine/', 'src/vscode/']],
  ['webview/', ['shared/', 'webview/']],
];

function sources(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return sources(path);
    return /\.tsx?$/.test(entry.name) ? [path.split(sep).join('/')] : [];
  });
}

function importsOf(text: string): string[] {
  return [...text.matchAll(/(?:^|\n)\s*(?:import|export)\b[^'"`;]*?from\s+['"]([^'"]+)['"]/g)]
    .map((match) => match[1])
    .concat([...text.matchAll(/import\(\s*['"]([^'"]+)['"]\s*\)/g)].map((match) => match[1]))
    .concat([...text.matchAll(/(?:^|\n)\s*import\s+['"]([^'"]+)['"]/g)].map((match) => match[1]));
}

describe('layers', () => {
  for (const [layer, may] of allowed) {
    it(`${layer} imports only ${may.join(', ')}`, () => {
      const wrong: string[] = [];
      for (const file of sources(layer)) {
        for (const target of importsOf(readFileSync(file, 'utf8'))) {
          if (!target.startsWith('.')) continue;
          const path = posix.normalize(
            relative('.', join(dirname(file), target))
              .split(sep)
              .join('/'),
          );
          if (!may.some((folder) => path.startsWith(folder))) wrong.push(`${file} imports ${target}`);
        }
      }
      assert.deepEqual(wrong, []);
    });
  }

  it('engine and shared are pure: no editor, Node, clock or random source', () => {
    const wrong: string[] = [];
    for (const file of [...sources('shared'), ...sources('src/engine')]) {
      const text = readFileSync(file, 'utf8').replace(/\/\*[\s\S]*?\*\/|\/\/.*$/gm, '');
      for (const target of importsOf(text)) {
        if (target === 'vscode' || target.startsWith('node:')) wrong.push(`${file} imports ${target}`);
      }
      for (const word of [/\bDate\.now\(/, /\bMath\.random\(/, /\bnew Date\(\)/, /\bperformance\.now\(/]) {
        if (word.test(text)) wrong.push(`${file} uses ${word.source}`);
      }
    }
    assert.deepEqual(wrong, []);
  });
});
