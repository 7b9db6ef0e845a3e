import assert from 'node:assert/strict';
import { explainAt, locate, suggestAt, yamlText } from '../../../../src/engine/spec/assist.ts';
import { specKeys } from '../../../../src/engine/spec/key-docs.ts';
import { parseSpec } from '../../../../src/engine/spec/parse.ts';
import { goodSpec } from './good-spec.ts';

/** Position of "|" in a text, and the text without it. */
function at(marked: string): { readonly text: string; readonly line: number; readonly column: number } {
  const before = marked.slice(0, marked.indexOf('|')).split('\n');
  return { text: marked.replace('|', ''), line: before.length, column: before[before.length - 1].length + 1 };
}

function labels(marked: string): string[] {
  const { text, line, column } = at(marked);
  return suggestAt(text, line, column).map((suggestion) => suggestion.label);
}

describe('assistance while a spec is written', () => {
  it('locates values and keys', () => {
    const place = locate(goodSpec, ['flights', 0, 'weight']);
    assert.equal(goodSpec.split('\n')[(place?.line ?? 0) - 1].slice((place?.column ?? 0) - 1), '720 kg');
    const key = locate(goodSpec, ['flights', 0, 'weight'], 'key');
    assert.equal((key?.endColumn ?? 0) - (key?.column ?? 0), 'weight'.length);
    assert.equal(locate(goodSpec, ['flights', 9]), undefined);
  });

  it('explains the key of a line, in blocks and in braces', () => {
    const explain = (marked: string): string | undefined => {
      const { text, line, column } = at(marked);
      return explainAt(text, line, column)?.name;
    };
    assert.equal(explain(goodSpec.replace('weight: 720', 'we|ight: 720')), 'weight');
    assert.equal(explain(goodSpec.replace('seen: in', 'se|en: in')), 'seen');
    assert.equal(explain(goodSpec.replace('slope: 0.8', 'sl|ope: 0.8')), 'slope');
    assert.equal(explain(goodSpec.replace('gust: 8', 'gu|st: 8')), 'gust');
    assert.equal(explain(goodSpec.replace('air-temperature: 4 ', 'air-temperature: 4| ')), 'air-temperature');
    const { text, line, column } = at(goodSpec.replace('weight: 720', 'we|ight: 720'));
    assert.match(explainAt(text, line, column)?.units ?? '', /kg, lb/);
    assert.equal(explain('nonsense|: 1'), undefined);
  });

  it('suggests keys that are not there yet', () => {
    const inFlight = labels(goodSpec.replace('    weight: 720 kg\n', '    weight: 720 kg\n    |\n'));
    assert.ok(inFlight.includes('air-temperature') && inFlight.includes('wind'));
    assert.ok(!inFlight.includes('weight') && !inFlight.includes('track') && !inFlight.includes('configuration'));
    const top = labels(`${goodSpec}|`);
    assert.deepEqual(
      top,
      ['loading', 'fuel', 'candidates', 'missions', 'plan', 'share'],
      'the sections not written yet',
    );
    assert.ok(labels(`${goodSpec.replace(/report:.*\n/, '')}|`).includes('report'));
    assert.ok(labels(goodSpec.replace('    elevation: 1056 ft\n', '    el|\n')).includes('elevation'));
    assert.ok(labels(goodSpec.replace('after: { empty', 'after: { ba|, empty')).includes('baseline'));
    assert.ok(labels(goodSpec.replace('- ground-roll', '- |')).includes('rate-of-climb'));
  });

  it('suggests words, names of this file and units', () => {
    assert.deepEqual(labels(goodSpec.replace('configuration: after', 'configuration: |')), ['before', 'after']);
    assert.deepEqual(labels(goodSpec.replace('runway: 31', 'runway: |')), ['13', '31']);
    assert.deepEqual(labels(goodSpec.replace('propeller: fixed-pitch', 'propeller: |')), [
      'fixed-pitch',
      'constant-speed',
    ]);
    assert.deepEqual(labels(goodSpec.replace('weight: 720 kg', 'weight: 720|')), ['720 kg', '720 lb']);
    assert.ok(labels(goodSpec.replace('metric: ground-roll', 'metric: |')).includes('landing-roll'));
    assert.ok(labels(goodSpec.replace('units: us', 'units: |')).includes('metric'));
    assert.ok(labels(goodSpec.replace('    day: 2024-04-13', '    day: |')).includes('2024-04-14 evening'));
  });

  it('quotes names that YAML would not take as they are', () => {
    assert.equal(yamlText('13'), '"13"');
    assert.equal(yamlText('Oyster Flats'), 'Oyster Flats');
    assert.equal(yamlText('yes'), '"yes"');
    assert.equal(yamlText('a: b'), '"a: b"');
    assert.equal(yamlText('2026-05-03_1041.gpx'), '2026-05-03_1041.gpx');
    assert.equal(yamlText('1.5e3'), '"1.5e3"');
    assert.equal(yamlText('tracks/é (1).gpx'), 'tracks/é (1).gpx');
  });

  it('knows the meaning of every key', () => {
    const keys = specKeys();
    assert.ok(keys.length > 80);
    for (const key of keys) assert.match(key.doc, /^[A-Z].*[.?]$/, `${key.path}: ${key.doc}`);
    const temperature = keys.find((key) => key.path === 'flights[].air-temperature');
    assert.equal(temperature?.dimension, 'temperature');
    assert.ok(keys.some((key) => key.path === 'airfields.*.runways.*.slope'));
    assert.ok(keys.some((key) => key.path === 'flights[].wind.gust'));
  });

  it('gives examples that are right', () => {
    for (const key of specKeys()) {
      if (key.example === undefined || !/^(?:aircraft|reference)\./.test(key.path)) continue;
      const [section, name] = key.path.split('.');
      const line = `  ${name}: ${key.example}\n`;
      const without = goodSpec.replace(new RegExp(`^  ${name}: .*\\n`, 'm'), '');
      const text = without.replace(`${section}:\n`, `${section}:\n${line}`);
      const errors = parseSpec(text, 'a').problems.filter((problem) => problem.severity === 'error');
      assert.deepEqual(errors, [], line);
    }
  });

  it('knows stations where loads are written, in blocks and in braces inside braces', () => {
    const loading = `${goodSpec}loading:
  stations:
    seats: { arm: 500 mm }
    fuel tank: { arm: 640 mm, fuel: true }
  cases:
`;
    assert.deepEqual(labels(`${loading}    two up:\n      load:\n        |\n`), ['seats', 'fuel tank']);
    assert.deepEqual(labels(`${loading}    two up: { load: { seats: 160 kg, | } }\n`), ['fuel tank']);
    assert.deepEqual(labels(`${loading}    two up: { load: { seats: 160 kg }, | }\n`), ['fuel-burnt']);
    assert.ok(labels(`${loading}    two up: { load: { seats: 160| } }\n`).includes('160 lb'));
  });

  it('reads keys of a list of blocks on one line, and leaves out those that are there', () => {
    const found = labels(`${goodSpec}fuel:\n  cruise: [{ configuration: before, | }]\n`);
    assert.deepEqual(found, ['setting', 'speed', 'flow']);
    assert.deepEqual(labels(`${goodSpec}fuel:\n  cruise: [{ configuration: | }]\n`), ['before', 'after']);
  });

  it('proposes the usual unit of a key first', () => {
    const mission = (rest: string): string => `${goodSpec}missions:\n  - { climb: pass, ${rest} }\n`;
    assert.equal(labels(mission('rate: 300|'))[0], '300 ft/min');
    assert.equal(labels(`${goodSpec}missions:\n  - { leg: home, distance: 260| }\n`)[0], '260 NM');
  });

  it('proposes surfaces', () => {
    assert.ok(labels(`${goodSpec}missions:\n  - { strip: bar, surface: | }\n`).includes('wet grass'));
  });
});
