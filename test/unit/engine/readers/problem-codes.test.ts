import assert from 'node:assert/strict';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/** String literals that look like the codes of films, FIT files, archives and joined recordings. */
const codePattern = /'((?:mp4|gpmf|camm|fit|gzip|zip|archive|wrapped|chapters)-[a-z-]+)'/g;

function codesIn(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .flatMap((name) => [...readFileSync(join(folder, name), 'utf8').matchAll(codePattern)].map(([, code]) => code));
}

describe('problem codes of binary recordings', () => {
  it('are all explained, and nothing else is', () => {
    const used = new Set([...codesIn('src/engine/readers'), ...codesIn('src/engine/track')]);
    const table = readFileSync('src/engine/problem-codes.md', 'utf8');
    const explained = new Set(
      [...table.matchAll(/^\| `([a-z0-9-]+)`\s*\|/gm)]
        .map(([, code]) => code)
        .filter((code) => `'${code}'`.match(codePattern)),
    );
    assert.ok(used.size > 40);
    assert.deepEqual([...explained].sort(), [...used].sort());
  });
});

describe('problem codes of recordings of text', () => {
  const explained = (): string[] =>
    [...readFileSync('src/engine/problem-codes.md', 'utf8').matchAll(/^\| `([a-z0-9-]+)`\s*\|/gm)].map(
      ([, code]) => code,
    );
  const sources = (): string[] =>
    readdirSync('src/engine/readers', { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.ts'))
      .map((name) => readFileSync(join('src/engine/readers', name), 'utf8'));

  it('of a format are all explained, and nothing else is', () => {
    const ofFormat = /^(?:gpx|kml|xml|igc|nmea|csv)-/;
    const used = sources().flatMap((text) =>
      [...text.matchAll(/'((?:gpx|kml|xml|igc|nmea|csv)-[a-z0-9-]+)'/g)].map(([, code]) => code),
    );
    assert.deepEqual(
      explained()
        .filter((code) => ofFormat.test(code))
        .sort(),
      [...new Set(used)].sort(),
    );
  });

  it('of every format are explained', () => {
    const reported = sources().flatMap((text) =>
      [...text.matchAll(/\.(?:error|warning|info)\(\s*'([a-z0-9-]+)'/g)].map(([, code]) => code),
    );
    assert.ok(reported.length > 60);
    assert.deepEqual(
      [...new Set(reported)].filter((code) => !explained().includes(code)),
      [],
    );
  });
});
