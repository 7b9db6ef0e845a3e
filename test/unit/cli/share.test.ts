import assert from 'node:assert/strict';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { run } from '../../../src/cli/run.ts';
import { nodeWorld } from '../../../src/cli/world-node.ts';
import { analyse } from '../../../src/engine/analyse.ts';
import { compare } from '../../../src/engine/compare/index.ts';
import { readRecording } from '../../../src/engine/readers/index.ts';
import { fakeIo } from './fake-io.ts';

/** A straight flight away from a field and back, at 40 m/s, one fix a second. */
function recording(latDeg: number, day: string): string {
  const points = Array.from({ length: 600 }, (_, t) => {
    const lon = 20.5 + 0.0005 * (t < 300 ? t : 600 - t);
    const time = new Date(Date.parse(`${day}T10:00:00Z`) + t * 1000).toISOString();
    return `<trkpt lat="${latDeg}" lon="${lon.toFixed(6)}"><ele>${100 + t}</ele><time>${time}</time></trkpt>`;
  });
  return `<gpx version="1.1"><trk><name>Kelp Bar X-ABCD</name><trkseg>${points.join('\n')}</trkseg></trk></gpx>`;
}

const spec = (share: string): string => `modproof: 1
title: T
aircraft: { propeller: fixed-pitch }
configurations: { before: { baseline: true }, after: {} }
flights:
  - { track: kelp-bar.gpx, configuration: before }
  - { track: kelp-bar-2.gpx, configuration: after }
${share}
`;

describe('share', () => {
  let folder: string;
  const path = (name: string): string => join(folder, name);
  const text = (name: string): string => readFileSync(path(name), 'utf8');

  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'modproof-share-'));
    writeFileSync(path('kelp-bar.gpx'), recording(48.25, '2024-05-01'));
    writeFileSync(path('kelp-bar-2.gpx'), recording(48.26, '2024-06-01'));
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));

  async function command(...args: string[]) {
    const io = fakeIo({}, { world: nodeWorld(folder), workingFolder: folder });
    return {
      code: await run(['share', ...args], { readRecording, analyse, compare }, io),
      out: io.out(),
      err: io.err(),
    };
  }
  const lats = (name: string): number[] => [...text(name).matchAll(/lat="([-\d.]+)"/g)].map(([, lat]) => Number(lat));

  it('writes copies, says of what they are and what they still tell, and leaves the originals', async () => {
    const before = text('kelp-bar.gpx');
    const { code, out, err } = await command('kelp-bar.gpx', 'kelp-bar-2.gpx');
    assert.equal(code, 0, err);
    assert.match(out, /shared.flight-1\.gpx {2}from kelp-bar\.gpx\n/);
    assert.match(out, /2 copies without places\. What a determined reader can still find:\n- The shape of the flight/);
    assert.deepEqual(readdirSync(path('shared')).sort(), ['flight-1.gpx', 'flight-2.gpx']);
    for (const name of ['shared/flight-1.gpx', 'shared/flight-2.gpx']) {
      assert.doesNotMatch(text(name), /Kelp|X-ABCD|48\.2|20\.5/);
      assert.ok(lats(name).every((lat) => Math.abs(lat) < 0.1));
    }
    assert.equal(text('kelp-bar.gpx'), before);
  });

  it('never overwrites, and writes nothing then', async () => {
    mkdirSync(path('shared'));
    // The same flight in another format would be taken for it.
    writeFileSync(path('shared/flight-2.csv'), 'mine');
    const { code, err } = await command('kelp-bar.gpx', 'kelp-bar-2.gpx');
    assert.equal(code, 2);
    assert.match(err, /shared.flight-2\.csv exists and is not overwritten\. .*--output/);
    assert.deepEqual(readdirSync(path('shared')), ['flight-2.csv']);
    assert.equal((await command('kelp-bar.gpx', '--output', 'other/deep')).code, 0);
    assert.ok(existsSync(path('other/deep/flight-1.gpx')));
  });

  it('cuts the same circles again with the secret that it told', async () => {
    const first = await command('kelp-bar.gpx', '--cut', '3 km');
    assert.equal(first.code, 0, first.err);
    const [, secret] = /--secret (\w+)/.exec(first.out) ?? [];
    assert.ok(secret);
    const again = await command('kelp-bar.gpx', 'kelp-bar-2.gpx', '--cut', '3 km', '--secret', secret, '--output', 'b');
    assert.equal(again.code, 0, again.err);
    assert.equal(text('b/flight-1.gpx'), text('shared/flight-1.gpx'));
    const other = await command('kelp-bar.gpx', '--cut', '3 km', '--secret', 'something else', '--output', 'c');
    assert.equal(other.code, 0);
    assert.notEqual(text('c/flight-1.gpx'), text('shared/flight-1.gpx'));
    assert.doesNotMatch(other.out, /--secret/);
  });

  it('hides the place that is named, and says where a copy still shows the field', async () => {
    const { out, code } = await command('kelp-bar.gpx', '--cut', '3 km', '--around', '48.25 N 20.65 E');
    assert.equal(code, 0);
    assert.match(out, /It begins outside what is cut/);
    assert.ok(lats('shared/flight-1.gpx').length < 600);
  });

  it('follows the spec, and the command line before it', async () => {
    writeFileSync(
      path('x.modproof.yaml'),
      spec('share: { dates: moved, heights: relative, folder: club, format: csv }'),
    );
    const { code, err } = await command('x.modproof.yaml');
    assert.equal(code, 0, err);
    const copy = text('club/flight-1.csv');
    assert.match(copy, /^# Positions were moved .* The date was moved by whole days\. Heights are above the place/);
    assert.match(copy, /\r\n2010-01-01T10:00:00\.000Z,/);
    assert.doesNotMatch(copy, /2024-/);
    assert.match(text('club/flight-2.csv'), /\r\n2010-02-01T/, 'a month later, as it was');
    assert.equal((await command('x.modproof.yaml', '--output', 'b', '--format', 'gpx', '--dates', 'kept')).code, 0);
    assert.match(text('b/flight-1.gpx'), /2024-05-01T/);
  });

  it('tells a wrong section of the spec with its line, and writes nothing', async () => {
    writeFileSync(path('x.modproof.yaml'), spec('share: { places: cut }'));
    const { code, err } = await command('x.modproof.yaml');
    assert.equal(code, 1);
    assert.match(err, /x\.modproof\.yaml:8:\d+: error spec-missing-key: .*radius: 8 km/);
    assert.ok(!existsSync(path('shared')));
    writeFileSync(path('x.modproof.yaml'), spec('share: { places: cut, radius: 500 m, around: ["somewhere"] }'));
    const worse = await command('x.modproof.yaml');
    assert.match(worse.err, /"500 m" cannot be right: expected 2 to 200 km/);
    assert.match(worse.err, /"somewhere" is no place/);
  });

  it('says what is wrong on the command line', async () => {
    for (const [args, reason] of [
      [['--cut', '5'], /--cut 5: "5" has no unit/],
      [['--cut', '500 m'], /--cut 500 m: expected 2 km to 200 km/],
      [['--around', 'home'], /--around: "home" is no place/],
      [['--heights', 'low'], /--heights low: expected kept or relative/],
      [['--dates', 'old'], /--dates old: expected kept or moved/],
      [['--format', 'kml'], /--format kml: expected gpx or csv/],
    ] as const) {
      const { code, err } = await command('kelp-bar.gpx', ...args);
      assert.equal(code, 3, err);
      assert.match(err, reason);
    }
    assert.equal((await command()).code, 3);
    const absent = await command('nothing.gpx');
    assert.equal(absent.code, 2);
    assert.match(absent.err, /None of these could be read as a recording; nothing was written/);
  });

  it('goes on without a file that is none, with code 1', async () => {
    writeFileSync(path('broken.gpx'), '<gpx version="1.1"></gpx>');
    const { code, err } = await command('broken.gpx', 'kelp-bar.gpx');
    assert.equal(code, 1);
    assert.match(err, /broken\.gpx/);
    assert.ok(existsSync(path('shared/flight-1.gpx')));
  });

  it('gives JSON', async () => {
    const { out, code } = await command('kelp-bar.gpx', 'kelp-bar-2.gpx', '--cut', '100 km', '--json');
    assert.equal(code, 2, 'nothing is left');
    const json = JSON.parse(out) as Record<string, unknown>;
    assert.deepEqual(Object.keys(json), ['folder', 'copies', 'refused', 'remains', 'problems']);
    assert.equal((json.refused as unknown[]).length, 2);
    const wrong = await command('nothing.gpx', '--json');
    assert.deepEqual(Object.keys(JSON.parse(wrong.out) as object), ['problems']);
  });
});
