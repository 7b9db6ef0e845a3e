import assert from 'node:assert/strict';
import { foldsOf, type OutlineItem, outlineOf } from '../../../../../src/engine/spec/editor/index.ts';
import { goodSpec } from '../good-spec.ts';

const lines = goodSpec.split('\n');

function lineOf(start: string): number {
  return lines.findIndex((line) => line.startsWith(start)) + 1;
}

describe('the outline of a spec', () => {
  const outline = outlineOf(goodSpec);
  const section = (name: string): OutlineItem => outline.find((item) => item.name === name) as OutlineItem;

  it('has the sections in order with what they hold', () => {
    assert.deepEqual(
      outline.map(({ name }) => name),
      [
        'modproof',
        'title',
        'aircraft',
        'configurations',
        'airfields',
        'days',
        'flights',
        'exclude',
        'reference',
        'questions',
        'report',
      ],
    );
    assert.deepEqual(
      section('configurations').children.map(({ name, detail }) => [name, detail]),
      [
        ['before', 'baseline: as it was'],
        ['after', ''],
      ],
    );
    assert.deepEqual(
      section('flights').children.map(({ name, detail }) => [name, detail]),
      [
        ['tracks/a.gpx', 'before'],
        ['tracks/after/*.gpx', 'after'],
      ],
    );
    assert.deepEqual(
      section('airfields').children[0].children.map(({ name }) => name),
      ['13', '31'],
    );
    assert.deepEqual(
      section('questions').children.map(({ name }) => name),
      ['ground-roll', 'distance-over 50 ft', 'climb-held-to 500 ft/min'],
    );
  });

  it('gives every item a range that holds its children', () => {
    const check = (item: OutlineItem, last: number): void => {
      assert.ok(item.endLine >= (item.at.line ?? 0) && item.endLine <= last, item.name);
      for (const child of item.children) check(child, item.endLine);
    };
    for (const item of outline) check(item, lines.length);
    assert.equal(section('flights').endLine, lineOf('exclude') - 1);
    assert.equal(section('flights').children[0].endLine, lineOf('  - track: tracks/after') - 1);
  });

  it('names sections that are still blank, and gives nothing for what is no YAML', () => {
    assert.deepEqual(
      outlineOf('modproof: 1\nflights:\n').map(({ name }) => name),
      ['modproof', 'flights'],
    );
    assert.deepEqual(outlineOf('a: [b'), []);
  });
});

describe('folding of a spec', () => {
  it('folds sections, entries and comments', () => {
    const folds = foldsOf(goodSpec).map(({ startLine, endLine }) => [startLine, endLine]);
    assert.ok(folds.some(([from, to]) => from === lineOf('flights:') && to === lineOf('exclude') - 1));
    assert.ok(
      folds.some(
        ([from, to]) => from === lineOf('  - track: tracks/a.gpx') && to === lineOf('  - track: tracks/after') - 1,
      ),
    );
    assert.deepEqual(foldsOf('# a\n# b\nx: 1\n'), [{ startLine: 1, endLine: 2, kind: 'comment' }]);
  });

  it('folds a list that stands in the column of its key, and leaves blank lines outside', () => {
    assert.deepEqual(
      foldsOf('flights:\n- track: a\n  weight: 1\n- track: b\n\nreport: x').map(({ startLine, endLine }) => [
        startLine,
        endLine,
      ]),
      [
        [1, 4],
        [2, 3],
      ],
    );
  });

  it('needs no valid YAML', () => {
    assert.deepEqual(
      foldsOf('a:\n  b: [\n').map(({ startLine, endLine }) => [startLine, endLine]),
      [[1, 2]],
    );
  });
});
