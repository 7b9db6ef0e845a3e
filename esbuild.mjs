// Makes everything that runs from dist/ (and, with --tests, the suites for the extension hosts in test/out/).
//   node esbuild.mjs [--tests] [--watch] [--readable]
import { copyFileSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { build, context } from 'esbuild';
import { zipSync } from 'fflate';

const flags = new Set(process.argv.slice(2));
const readable = flags.has('--readable') || flags.has('--watch');

const common = {
  bundle: true,
  minify: !readable,
  sourcemap: readable ? 'linked' : false,
  target: 'es2022',
  legalComments: 'none',
  logLevel: 'warning',
  charset: 'utf8',
  // Where a library has an ES module, take it: smaller bundles, no doubled code.
  mainFields: ['module', 'main'],
};

/** An extension host loads CommonJS; only `vscode` comes from outside. */
const nodeHost = { ...common, platform: 'node', format: 'cjs', external: ['vscode'] };
const webHost = {
  ...common,
  platform: 'browser',
  format: 'cjs',
  external: ['vscode'],
  mainFields: ['browser', 'module', 'main'],
};

/**
 * What is not needed to start (`src/vscode/later.ts`) lies in the web bundle, for both hosts: the Node host takes it from
 * there when it is first needed, so that starting neither reads nor compiles it, and nothing is shipped twice.
 */
const laterFromWeb = {
  name: 'later-from-web',
  setup({ onResolve, onLoad }) {
    onResolve({ filter: /\/later\.ts$/ }, ({ kind }) =>
      kind === 'dynamic-import' ? { path: 'later', namespace: 'web-bundle' } : undefined,
    );
    onResolve({ filter: /^\.\/web\// }, ({ path }) => ({ path, external: true }));
    onLoad({ filter: /^later$/, namespace: 'web-bundle' }, () => ({
      contents: "module.exports = require('./web/extension.cjs.js').later();",
    }));
  },
};

const targets = [
  {
    ...common,
    entryPoints: ['src/cli/main.ts'],
    outfile: 'dist/modproof.mjs',
    platform: 'node',
    format: 'esm',
    // Some libraries are CommonJS inside and ask for `require`.
    banner: {
      js: "#!/usr/bin/env node\nimport { createRequire as modproofCreateRequire } from 'node:module';const require=modproofCreateRequire(import.meta.url);",
    },
  },
  {
    ...nodeHost,
    entryPoints: ['src/vscode/node/extension.node.ts'],
    outfile: 'dist/extension.cjs',
    plugins: [laterFromWeb],
  },
  // One file for threads of both hosts: nothing of Node but what it asks for by name.
  {
    ...common,
    entryPoints: ['src/vscode/reading/thread-entry.ts'],
    outfile: 'dist/flight-thread.js',
    platform: 'browser',
    format: 'iife',
    mainFields: ['browser', 'module', 'main'],
  },
  // The web worker host takes a `.js` of a package of modules for a module, and adds `.js` to any other ending.
  { ...webHost, entryPoints: ['src/vscode/web/extension.web.ts'], outfile: 'dist/web/extension.cjs.js' },
  {
    ...common,
    entryPoints: ['webview/main.ts'],
    outfile: 'dist/webview/main.js',
    platform: 'browser',
    format: 'iife',
    mainFields: ['browser', 'module', 'main'],
    loader: { '.svg': 'text' },
  },
];

const testTargets = [
  { ...nodeHost, entryPoints: ['test/host/driver-entry.ts'], outfile: 'test/out/driver.cjs', minify: false },
  {
    ...nodeHost,
    entryPoints: ['test/integration/entry.node.ts'],
    outfile: 'test/out/integration/node.cjs',
    external: ['vscode', 'mocha'],
    minify: false,
    sourcemap: 'inline',
  },
  {
    ...webHost,
    entryPoints: ['test/integration/entry.web.ts'],
    outfile: 'test/out/integration/web.cjs.js',
    // Mocha's browser build overwrites `module.exports`; what counts is set after it.
    format: 'iife',
    globalName: 'modproofSuites',
    footer: { js: 'module.exports = modproofSuites;' },
    minify: false,
    sourcemap: 'inline',
  },
];

const wanted = flags.has('--tests') ? [...targets, ...testTargets] : targets;
// Parts that are not written yet are left out rather than break the others.
const present = wanted.filter((target) => target.entryPoints.every((file) => existsSync(file)));

/** The example for the walkthrough: one file, because an extension served over the web cannot list a folder. */
function packExample() {
  const files = {};
  const add = (folder) => {
    for (const entry of readdirSync(`examples${folder}`, { withFileTypes: true })) {
      const path = `${folder}/${entry.name}`;
      // Kept results of whoever tried the examples here are not part of them.
      if (entry.name.startsWith('.')) continue;
      if (entry.isDirectory()) add(path);
      // The same bytes from the same files: no time of day in it.
      else files[path.slice(1)] = [readFileSync(`examples${path}`), { mtime: '2000-01-01T12:00:00' }];
    }
  };
  add('');
  return zipSync(files, { level: 9 });
}

mkdirSync('dist/web', { recursive: true });
// For Node, whose package here is one of modules.
writeFileSync('dist/web/package.json', '{ "type": "commonjs" }\n');
copyFileSync('src/engine/spec/comparison-assist.schema.json', 'dist/comparison.schema.json');
if (existsSync('examples')) writeFileSync('dist/example.zip', packExample());

if (flags.has('--watch')) {
  for (const target of present) await (await context(target)).watch();
} else {
  await Promise.all(present.map((target) => build(target)));
  // The packed extension's readme: pictures and links into the repository would lead nowhere there.
  const readme = readFileSync('README.md', 'utf8')
    .replace(/!\[[^\]]*\]\([^)]*\)\n*/g, '')
    .replace(/\[([^\]]*)\]\((?![a-z]+:)[^)]*\)/g, '$1');
  writeFileSync('dist/readme.md', readme);
}
