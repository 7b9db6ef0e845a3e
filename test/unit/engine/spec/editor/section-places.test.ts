import assert from 'node:assert/strict';
import { sectionPlaces } from '../../../../../src/engine/spec/editor/index.ts';

const text = `modproof: 1
missions:
  - strip: river bar
    available: 480 m
  - { leg: home, distance: 260 NM }
  - { strip: river bar, avail: 3 }
  - { nothing: here }
candidates:
  clean: { drag: -5 % }
plan:
`;

describe('places of sections', () => {
  it('finds sections and their entries, also where something in them is wrong', () => {
    const found = sectionPlaces(text, ['loading', 'candidates', 'missions']);
    assert.deepEqual(
      found.map(({ section, at }) => [section, at.line]),
      [
        ['candidates', 8],
        ['missions', 2],
      ],
    );
    assert.deepEqual(
      found[1].entries.map(({ name, occurrence, at }) => [name, occurrence, at.line]),
      [
        ['river bar', 0, 3],
        ['home', 0, 5],
        ['river bar', 1, 6],
      ],
    );
    assert.deepEqual(
      found[0].entries.map(({ name, at }) => [name, at.line]),
      [['clean', 9]],
    );
  });

  it('a section that is still blank has a place; text that is no YAML has none', () => {
    assert.deepEqual(
      sectionPlaces(text, ['plan']).map(({ at }) => at.line),
      [10],
    );
    assert.deepEqual(sectionPlaces('a: [', ['plan']), []);
    assert.deepEqual(sectionPlaces('- a', ['plan']), []);
  });
});
