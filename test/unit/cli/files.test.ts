import assert from 'node:assert/strict';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  truncateSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { cacheFolder, folderCache } from '../../../src/cli/cache-node.ts';
import { run } from '../../../src/cli/run.ts';
import { nodeWorld } from '../../../src/cli/world-node.ts';
import { writeAtomically, writeNew } from '../../../src/cli/write-file.ts';
import { isUntouchedReport } from '../../../src/engine/report/index.ts';
import { fakeIo } from './fake-io.ts';
import { fakeParts } from './fake-parts.ts';

const spec = `modproof: 1
title: T
aircraft: { propeller: fixed-pitch }
configurations: { before: { baseline: true }, after: {} }
flights:
  - { track: one.gpx, configuration: before }
  - { track: two.gpx, configuration: after }
report: { file: out/report.md }
`;

describe('command on a disk', () => {
  let folder: string;
  const path = (name: string): string => join(folder, name);
  const read = (name: string): string => readFileSync(path(name), 'utf8');

  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'modproof-test-'));
    writeFileSync(path('x.modproof.yaml'), spec);
    writeFileSync(path('one.gpx'), 'ok');
    writeFileSync(path('two.gpx'), 'ok');
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));

  async function command(...args: string[]) {
    const io = fakeIo({}, { world: nodeWorld(folder), workingFolder: folder });
    return { code: await run(args, fakeParts, io), out: io.out(), err: io.err() };
  }

  it('compare writes the report where the spec says, and can do so again', async () => {
    const first = await command('compare', 'x.modproof.yaml');
    assert.equal(first.code, 0, first.err);
    assert.match(first.out, /Report: out.report\.md/);
    const text = read('out/report.md');
    assert.ok(await isUntouchedReport(text));
    assert.equal((await command('compare', 'x.modproof.yaml')).code, 0);
    assert.equal(read('out/report.md'), text);
    assert.ok(await isUntouchedReport(text.replaceAll('\n', '\r\n')), 'line ends may change');
  });

  it('compare never replaces what a person wrote or changed, and keeps it when forced', async () => {
    mkdirSync(path('out'));
    writeFileSync(path('out/report.md'), 'mine');
    const refused = await command('compare', 'x.modproof.yaml');
    assert.equal(refused.code, 2);
    assert.match(refused.err, /written or changed by a person/);
    assert.equal(read('out/report.md'), 'mine');
    assert.equal((await command('compare', 'x.modproof.yaml', '--force')).code, 0);
    assert.equal(read('out/report.md.old'), 'mine');
    writeFileSync(path('out/report.md'), read('out/report.md').replace('## Cautions', '## My cautions'));
    assert.equal((await command('compare', 'x.modproof.yaml')).code, 2);
    assert.equal((await command('compare', 'x.modproof.yaml', '--force')).code, 0);
    assert.match(read('out/report.md.old2'), /My cautions/);
  });

  it('compare writes between markers and touches nothing else', async () => {
    writeFileSync(path('x.modproof.yaml'), spec.replace('file: out/report.md', 'insert-into: notes.md'));
    const notes = 'mine above\r\n<!-- modproof:begin -->\r\n<!-- modproof:end -->\r\nmine below';
    writeFileSync(path('notes.md'), notes);
    assert.equal((await command('compare', 'x.modproof.yaml')).code, 0);
    const text = read('notes.md');
    assert.ok(text.startsWith('mine above\r\n<!-- modproof:begin -->\r\n\r\n## T\r\n'));
    assert.ok(text.endsWith('\r\n<!-- modproof:end -->\r\nmine below'));
    writeFileSync(path('notes.md'), 'no markers');
    const refused = await command('compare', 'x.modproof.yaml');
    assert.equal(refused.code, 2);
    assert.match(refused.err, /notes\.md: The line "<!-- modproof:begin -->" is missing/);
    assert.equal(read('notes.md'), 'no markers');
  });

  it('compare writes a report to Markdown only, so that no recording and no spec is replaced, forced or not', async () => {
    for (const target of ['one.gpx', 'x.modproof.yaml', 'report']) {
      const { code, err } = await command('compare', 'x.modproof.yaml', '--output', target, '--force');
      assert.equal(code, 3, target);
      assert.match(err, /--output .*: expected a name that ends in "\.md"/);
    }
    assert.equal(read('one.gpx'), 'ok');
    assert.equal(read('x.modproof.yaml'), spec);
    assert.equal((await command('compare', 'x.modproof.yaml', '--output', 'new.markdown')).code, 0);
  });

  it('compare leaves a good report alone when the spec has errors', async () => {
    await command('compare', 'x.modproof.yaml');
    const text = read('out/report.md');
    writeFileSync(path('x.modproof.yaml'), spec.replace('fixed-pitch', 'fixed'));
    const failed = await command('compare', 'x.modproof.yaml');
    assert.equal(failed.code, 1);
    assert.match(failed.err, /x\.modproof\.yaml:3:24: error spec-word: .*fixed-pitch/);
    assert.equal(read('out/report.md'), text);
  });

  it('compare --json writes no report unless told where', async () => {
    const { out, code } = await command('compare', 'x.modproof.yaml', '--json');
    assert.equal(code, 0);
    const json = JSON.parse(out) as Record<string, unknown>;
    assert.deepEqual(Object.keys(json), [
      'title',
      'configurations',
      'metrics',
      'leftOut',
      'films',
      'joined',
      'problems',
    ]);
    assert.ok(!existsSync(path('out')));
    assert.equal((await command('compare', 'x.modproof.yaml', '--json', '--output', 'r.md')).code, 0);
    assert.ok(existsSync(path('r.md')));
  });

  it('compare goes on when a recording is absent, and says so with code 1', async () => {
    rmSync(path('two.gpx'));
    const { code, err } = await command('compare', 'x.modproof.yaml');
    assert.equal(code, 1);
    assert.match(err, /x\.modproof\.yaml:7:14: error track-not-found/);
    assert.ok(existsSync(path('out/report.md')));
  });

  it('check finds errors, absent recordings and blanks', async () => {
    assert.deepEqual(await command('check', 'x.modproof.yaml'), {
      code: 0,
      out: 'x.modproof.yaml: ready to compare\n',
      err: '',
    });
    writeFileSync(
      path('x.modproof.yaml'),
      spec.replace('one.gpx', 'none.gpx').replace('before }', 'before, weight: }'),
    );
    const { code, out, err } = await command('check', 'x.modproof.yaml');
    assert.equal(code, 1);
    assert.equal(out, 'x.modproof.yaml: 1 error, 1 blank to be filled\n');
    assert.match(err, /error track-not-found/);
    assert.match(err, /info spec-blank: To be filled: "weight"/);
    const json = JSON.parse((await command('check', '--json', 'x.modproof.yaml')).out) as { line: number }[];
    assert.deepEqual(
      json.map(({ line }) => line),
      [6, 6],
    );
    writeFileSync(path('latin.yaml'), Buffer.from([0x74, 0x3a, 0x20, 0xe9]));
    assert.match((await command('check', 'latin.yaml')).err, /UTF-8/);
  });

  it('new writes a spec with blanks, and never over a file', async () => {
    const { code, out } = await command('new', 'one.gpx', 'two.gpx', '--title', 'T: 2');
    assert.equal(code, 0);
    assert.match(out, /comparison\.modproof\.yaml written/);
    const text = read('comparison.modproof.yaml');
    assert.match(text, /title: "T: 2"/);
    assert.equal((await command('new', 'one.gpx')).code, 2);
    assert.equal(read('comparison.modproof.yaml'), text);
    assert.equal((await command('check', 'comparison.modproof.yaml')).code, 0);
    mkdirSync(path('sub'));
    assert.equal((await command('new', 'one.gpx', '--output', 'sub/a.modproof.yaml')).code, 0);
    assert.match(read('sub/a.modproof.yaml'), /track: \.\.\/one\.gpx/);
    assert.match((await command('new', 'one.gpx', '--output', '-')).out, /^modproof: 1\n/);
  });

  it('new does not write a spec for recordings that are not there, nor lists them', async () => {
    const none = await command('new', 'noone.gpx');
    assert.equal(none.code, 2);
    assert.match(none.err, /nothing was written/i);
    assert.equal(existsSync(path('comparison.modproof.yaml')), false);
    const some = await command('new', 'one.gpx', 'noone.gpx');
    assert.equal(some.code, 1);
    assert.doesNotMatch(read('comparison.modproof.yaml'), /noone/);
  });

  it('looks in the folders below one, not for ever, and says where it looked', async () => {
    mkdirSync(path('box/deep/er/still/more/deepest'), { recursive: true });
    writeFileSync(path('box/notes.md'), 'notes');
    const nothing = await command('inspect', 'box');
    assert.equal(nothing.code, 2);
    assert.match(nothing.err, /^box: error track-not-found: .*no recording.*up to 4 below/);
    writeFileSync(path('box/deep/one.gpx'), 'ok');
    writeFileSync(path('box/deep/program.py'), 'ok');
    writeFileSync(path('box/deep/er/still/more/two.gpx'), 'ok');
    writeFileSync(path('box/deep/er/still/more/deepest/three.gpx'), 'ok');
    const { code, out } = await command('inspect', 'box');
    assert.equal(code, 0);
    assert.deepEqual(out.match(/^box.*$/gm), ['box/deep/er/still/more/two.gpx', 'box/deep/one.gpx']);
    assert.match((await command('inspect', '*.igc')).err, /^\*\.igc: error track-not-found: .*no recording/);
  });

  it('names files in full where the folder or the pattern was', async () => {
    mkdirSync(path('box/deep'), { recursive: true });
    writeFileSync(path('box/deep/one.gpx'), 'ok');
    const full = path('box/deep/one.gpx').replaceAll('\\', '/');
    for (const word of [path('box'), path('box/**'), path('box/deep/*.gpx')])
      assert.equal((await command('inspect', word)).out.split('\n')[0], full, word);
  });

  it('writes whole files or none, and leaves nothing behind', async () => {
    await writeAtomically(path('a.txt'), 'one');
    await writeAtomically(path('a.txt'), 'two');
    assert.equal(read('a.txt'), 'two');
    mkdirSync(path('taken'));
    await assert.rejects(writeAtomically(path('taken'), 'x'));
    await writeNew(path('b.txt'), 'one');
    await assert.rejects(writeNew(path('b.txt'), 'two'), { code: 'EEXIST' });
    assert.equal(read('b.txt'), 'one');
    assert.deepEqual(
      readdirSync(folder).filter((name) => name.endsWith('.tmp')),
      [],
    );
  });

  it('keeps results beside the spec, out of version control, and forgets the longest unused', async () => {
    const place = cacheFolder(path('x.modproof.yaml'));
    const cache = folderCache(place, 'salt');
    assert.equal(await cache.get('k'), undefined);
    await cache.put('k', 'value');
    assert.equal(await cache.get('k'), 'value');
    assert.equal(await folderCache(place, 'other').get('k'), undefined, 'another program, other results');
    assert.match(readFileSync(join(place, '.gitignore'), 'utf8'), /^\*$/m);
    const [file] = readdirSync(place).filter((name) => name.endsWith('.gz'));
    writeFileSync(join(place, file), 'damaged');
    assert.equal(await cache.get('k'), undefined);
    const old = `${'0'.repeat(40)}.json.gz`;
    writeFileSync(join(place, old), '');
    truncateSync(join(place, old), 201 * 1024 * 1024);
    utimesSync(join(place, old), 1, 1);
    writeFileSync(join(place, 'mine.txt'), 'mine');
    await folderCache(place, 'salt').put('k2', 'v');
    assert.ok(!existsSync(join(place, old)));
    assert.ok(statSync(join(place, 'mine.txt')).isFile());
    const nowhere = folderCache(join(path('one.gpx'), 'below-a-file'), 'salt');
    await nowhere.put('k', 'v');
    assert.equal(await nowhere.get('k'), undefined);
  });
});
