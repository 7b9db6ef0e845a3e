import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createVSIX } from '@vscode/vsce';
import { unzipSync } from 'fflate';

/** What a person downloads, more than half of it the example's recordings. The command is not in it: it comes by npm. */
const mostBytes = 2_000_000;

const expected = [
  'extension/LICENSE.txt',
  'extension/changelog.md',
  'extension/dist/comparison.schema.json',
  'extension/dist/example.zip',
  'extension/dist/extension.cjs',
  'extension/dist/flight-thread.js',
  'extension/dist/web/extension.cjs.js',
  'extension/dist/web/package.json',
  'extension/dist/webview/main.css',
  'extension/dist/webview/main.js',
  'extension/package.json',
  'extension/package.nls.json',
  'extension/readme.md',
  'extension/webview/media/icon.png',
  'extension/webview/media/walkthrough/blanks.md',
  'extension/webview/media/walkthrough/comparison.md',
  'extension/webview/media/walkthrough/evaluate.md',
  'extension/webview/media/walkthrough/example.md',
  'extension/webview/media/walkthrough/flight.md',
];

describe('the packed extension', function () {
  this.timeout(120_000);
  let folder: string;
  let packed: Uint8Array;
  let files: Record<string, Uint8Array>;

  before(async () => {
    folder = mkdtempSync(join(tmpdir(), 'modproof-vsix-'));
    const built = spawnSync(process.execPath, ['esbuild.mjs'], { encoding: 'utf8' });
    assert.equal(built.status, 0, built.stderr);
    const packagePath = join(folder, 'modproof.vsix');
    await createVSIX({
      packagePath,
      dependencies: false,
      readmePath: 'dist/readme.md',
      allowMissingRepository: true,
    });
    packed = readFileSync(packagePath);
    files = unzipSync(packed);
  });
  after(() => rmSync(folder, { recursive: true, force: true }));

  it('holds what is meant to be in it and nothing else', () => {
    const inside = Object.keys(files).filter((name) => name.startsWith('extension/'));
    assert.deepEqual(inside.sort(), expected);
  });

  it(`is smaller than ${mostBytes / 1e6} MB`, () => {
    console.log(`      ${(packed.length / 1e6).toFixed(2)} MB packed`);
    assert.ok(packed.length < mostBytes, `${packed.length} bytes`);
  });

  it('names entries in its manifest that are there', () => {
    const manifest = JSON.parse(new TextDecoder().decode(files['extension/package.json'])) as Record<
      string,
      unknown
    > & {
      main: string;
      browser: string;
      icon: string;
    };
    // The web worker host adds the ending that is missing.
    for (const entry of [manifest.main, `${manifest.browser}.js`, manifest.icon]) {
      const path = `extension/${entry.replace(/^\.\//, '')}`;
      assert.ok(files[path] !== undefined, `${path} is not in the package`);
    }
  });

  // The CSV library can fetch files by XMLHttpRequest when it is given an address, which it never is here.
  it('asks nothing of the network and runs no code made at run time', () => {
    // The page is held to this by its policy; the hosts have none.
    for (const name of [
      'extension/dist/extension.cjs',
      'extension/dist/flight-thread.js',
      'extension/dist/web/extension.cjs.js',
    ]) {
      const text = new TextDecoder().decode(files[name]);
      for (const word of [
        /\bnew WebSocket\b/,
        /\bsendBeacon\b/,
        /\beval\(/,
        /\bnew Function\(/,
        /require\(["'](?:node:)?https?["']\)/,
      ]) {
        assert.ok(!word.test(text), `${name} has ${word.source}`);
      }
    }
  });
});
