import assert from 'node:assert/strict';
import { nameAt, renameRefusal, renameThing, writtenTracks } from '../../../../../src/engine/spec/editor/index.ts';
import { parseSpec } from '../../../../../src/engine/spec/parse.ts';
import { goodSpec } from '../good-spec.ts';
import { applied, marked, textAt } from './marked.ts';

function renamed(markedText: string, name: string): string {
  const { text, line, column } = marked(markedText);
  const thing = nameAt(text, line, column);
  assert.ok(thing, 'no name stands here');
  const result = renameThing(text, thing, name);
  if (typeof result === 'string') return result;
  return applied(text, result.edits);
}

describe('names in a spec', () => {
  it('finds where a configuration is defined and used', () => {
    const { text, line, column } = marked(goodSpec.replace('configuration: before', 'configuration: be|fore'));
    const thing = nameAt(text, line, column);
    assert.equal(thing?.kind, 'configurations');
    assert.deepEqual(
      thing?.definitions.map((at) => textAt(text, at)),
      ['before'],
    );
    assert.equal(thing?.definitions[0].line, text.split('\n').findIndex((one) => one.startsWith('  before:')) + 1);
    assert.equal(thing?.uses.length, 1);
  });

  it('renames wherever the name stands, and the spec stays as good as it was', () => {
    const text = renamed(goodSpec.replace('  after: {', '  af|ter: {'), 'fairings on');
    assert.ok(text.includes('  fairings on: {') && text.includes('configuration: fairings on'));
    assert.ok(!/\bafter\b/.test(text.replace('tracks/after', '')));
    assert.deepEqual(parseSpec(text, 'x.modproof.yaml').problems, parseSpec(goodSpec, 'x.modproof.yaml').problems);
  });

  it('quotes a new name where it needs it, and keeps quotes', () => {
    assert.ok(renamed(goodSpec.replace('  after: {', '  af|ter: {'), 'yes').includes('"yes": {'));
    const runways = renamed(goodSpec.replace('runway: "13"', 'runway: "1|3"'), '14');
    assert.ok(runways.includes('"14": {') && runways.includes('runway: "14"'));
  });

  it('renames days and airfields', () => {
    const text = renamed(goodSpec.replace('day: 2024-04-13', 'day: 2024|-04-13'), '2024-04-15');
    assert.equal(text.match(/2024-04-15/g)?.length, 2);
    assert.equal(parseSpec(text, '').problems.filter(({ severity }) => severity === 'error').length, 0);
    assert.match(renamed(goodSpec.replace('  Oyster Flats', '  Oy|ster Flats'), 'Gull Point'), /^ {2}Gull Point:$/m);
  });

  it('renames a station with the loads at it', () => {
    const loading = `${goodSpec}loading:
  stations:
    seats: { arm: 500 mm }
    tank: { arm: 640 mm, fuel: true }
  cases:
    two up: { load: { seats: 160 kg, tank: 80 L } }
    alone:
      load:
        seats: 80 kg
`;
    for (const where of [
      loading.replace('    seats: {', '    se|ats: {'),
      loading.replace('{ seats: 1', '{ se|ats: 1'),
    ]) {
      const text = renamed(where, 'front seats');
      assert.equal(text.match(/front seats:/g)?.length, 3);
      assert.doesNotMatch(text, /(?<!front )seats/);
      assert.equal(parseSpec(text, '').problems.filter(({ severity }) => severity === 'error').length, 0);
    }
    assert.match(renamed(loading.replace('    seats: {', '    se|ats: {'), 'tank'), /already/);
  });

  it('refuses names that would break the spec', () => {
    const at = goodSpec.replace('  after: {', '  af|ter: {');
    assert.match(renamed(at, 'before'), /already/);
    assert.match(renamed(at, ' '), /one line/);
    assert.match(renamed(at, '__proto__'), /cannot/);
    assert.match(renamed(goodSpec.replace('day: 2024-04-13', 'day: 2024|-04-13'), 'Monday'), /date/);
    const { text, line, column } = marked(goodSpec.replace('track: tracks/a.gpx', 'track: tra|cks/a.gpx'));
    const track = nameAt(text, line, column);
    assert.match((track && renameRefusal(track)) ?? '', /rename the file/);
  });

  it('tells runways of the same name at two airfields apart', () => {
    const two = goodSpec
      .replace('days:\n', '  Gull Point:\n    runways:\n      "13": { heading: 130 deg }\ndays:\n')
      .replace('    runway: "13"', '    airfield: Gull Point\n    runway: "1|3"');
    const { text, line, column } = marked(two);
    const thing = nameAt(text, line, column);
    assert.equal(thing?.definitions.length, 1);
    assert.match(text.split('\n')[(thing?.definitions[0].line ?? 1) - 2], /runways/);
    assert.match(text.split('\n')[(thing?.definitions[0].line ?? 1) - 3], /Gull Point/);
  });

  it('leads from an exclusion to the entry of its flight', () => {
    const { text, line, column } = marked(
      goodSpec.replace('exclude:\n  - track: tracks', 'exclude:\n  - track: tr|acks'),
    );
    const thing = nameAt(text, line, column);
    assert.equal(thing?.kind, 'tracks');
    assert.equal(thing?.definitions.length, 1);
  });

  it('lists the tracks with their places, without quotes, also when the rest is wrong', () => {
    const text = goodSpec.replace('tracks/a.gpx', '"tracks/a b.gpx"').replace('propeller:', 'propellor:');
    const tracks = writtenTracks(text);
    assert.deepEqual(
      tracks.map(({ track }) => track),
      ['tracks/a b.gpx', 'tracks/after/*.gpx', 'tracks/a.gpx'],
    );
    assert.deepEqual(
      tracks.map(({ at }) => textAt(text, at)),
      ['tracks/a b.gpx', 'tracks/after/*.gpx', 'tracks/a.gpx'],
    );
    assert.deepEqual(
      tracks.map(({ index }) => index),
      [0, 1, undefined],
    );
    assert.deepEqual(writtenTracks('a: [b'), []);
  });
});
