import assert from 'node:assert/strict';
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { nodeWorld } from '../../../src/cli/world-node.ts';

describe('the world of Node', () => {
  let folder = '';
  before(() => {
    folder = mkdtempSync(join(tmpdir(), 'modproof-world-'));
    for (const path of ['tracks/deep', 'tracks/.hidden', 'node_modules/x'])
      mkdirSync(join(folder, path), { recursive: true });
    for (const path of [
      'spec.yaml',
      'tracks/b.gpx',
      'tracks/A.GPX',
      'tracks/Z.igc',
      'tracks/deep/c.gpx',
      'tracks/.hidden/d.gpx',
      'tracks/.e.gpx',
      'node_modules/x/f.gpx',
    ]) {
      writeFileSync(join(folder, path), `content of ${path}`);
    }
    symlinkSync(join(folder, 'tracks'), join(folder, 'tracks/deep/back'));
  });
  after(() => rmSync(folder, { recursive: true }));

  const spec = (): string => join(folder, 'spec.yaml');

  it('reads ranges of a file, relative to a file or to the working folder', async () => {
    const source = await nodeWorld('/').open('tracks/b.gpx', spec());
    assert.equal(source.name, 'tracks/b.gpx');
    assert.equal(source.sizeBytes, 23);
    const text = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);
    assert.equal(text(await source.read(0, 7)), 'content');
    assert.equal(text(await source.read(11, 6)), 'tracks');
    assert.equal(text(await source.read(18, 1000)), 'b.gpx');
    assert.equal((await source.read(23, 10)).length, 0);
    assert.equal((await source.read(1000, 10)).length, 0);
    assert.equal((await nodeWorld(folder).open('spec.yaml')).sizeBytes, 20);
  });

  it('says that a file is absent or none', async () => {
    await assert.rejects(nodeWorld(folder).open('tracks/none.gpx'), /^Error: there is no such file$/);
    await assert.rejects(nodeWorld(folder).open('spec.yaml/none.gpx'), /^Error: there is no such file$/);
    await assert.rejects(nodeWorld(folder).open('tracks'), /^Error: it is a folder$/);
  });

  it('lists by pattern, folder and name, in the order of code units', async () => {
    const list = (pattern: string): Promise<readonly string[]> => nodeWorld('/').list(pattern, spec());
    assert.deepEqual(await list('tracks/*.gpx'), ['tracks/A.GPX', 'tracks/b.gpx']);
    assert.deepEqual(await list('tracks'), ['tracks/A.GPX', 'tracks/Z.igc', 'tracks/b.gpx']);
    assert.deepEqual(await list('tracks/'), ['tracks/A.GPX', 'tracks/Z.igc', 'tracks/b.gpx']);
    assert.deepEqual(await list('tracks/b.gpx'), ['tracks/b.gpx']);
    assert.deepEqual(await list('tracks/none.gpx'), []);
    assert.deepEqual(await list('nowhere/*.gpx'), []);
    assert.deepEqual(await list('{tracks,other}/?.igc'), ['tracks/Z.igc']);
    assert.deepEqual(await nodeWorld('/').list('../*.yaml', join(folder, 'tracks/b.gpx')), ['../spec.yaml']);
    assert.deepEqual(await list(`${folder}/tracks/*.igc`), ['tracks/Z.igc']);
  });

  it('searches folders below, but not hidden ones, nor a link that leads back for ever', async () => {
    const found = await nodeWorld(folder).list('**/*.gpx');
    assert.deepEqual(
      found.filter((path) => !path.includes('back')),
      ['tracks/A.GPX', 'tracks/b.gpx', 'tracks/deep/c.gpx'],
    );
    assert.ok(found.length < 200, `${found.length} paths through a link that leads back`);
  });
});
