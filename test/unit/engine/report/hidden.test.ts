import assert from 'node:assert/strict';
import { comparisonJson } from '../../../../src/cli/compare-json.ts';
import { withoutRegistrations } from '../../../../src/engine/report/hidden-words.ts';
import { madeFrom, shownNames, withHiddenPlaces, writeReport } from '../../../../src/engine/report/index.ts';
import { inventedEvaluation } from './invented-evaluation.ts';

const request = { figureFolder: 'report-figures' };

/** The invented evaluation with names that tell a place, a person or an aircraft wherever a spec has room for them. */
const telling = withHiddenPlaces(
  inventedEvaluation((text) =>
    text
      .replace(/title: .*/, 'title: Fairings of X-ABCD at Oyster Flats')
      .replace('name: Tern T2', 'name: X-ABCD')
      .replace('description: as it was', 'description: "as it came to Oyster Flats, XY-ABC and N123AB beside it"')
      .replace('technique: three-point', 'technique: short circuit over Oyster village')
      .replace('because: brakes dragged', 'because: brakes dragged at Oyster Flats')
      .replace('airfields:\n', 'airfields:\n  Gull Meadow: { elevation: 1234 ft }\n')
      .replaceAll('runway: "13"', 'runway: "13", airfield: Oyster Flats'),
  ),
);
const secret =
  /Oyster|Gull Meadow|X-ABCD|XY-ABC|N123AB|geese|[ab][12]\.gpx|fairings\.modproof|1025 hPa|30\.27 inHg|080 deg/;

describe('a report that hides places', () => {
  const { markdown, figures } = writeReport(telling, request);

  it('tells no airfield, file, registration or free word, in the text or in a figure', () => {
    assert.doesNotMatch(markdown, secret);
    for (const { path, svg } of figures) {
      assert.doesNotMatch(path, secret);
      assert.doesNotMatch(svg, secret);
    }
    assert.match(markdown, /^# Fairings of the aeroplane at airfield 1\n/);
  });

  it('tells no runway by its direction, and nothing that gives its elevation', () => {
    const table = markdown.slice(markdown.indexOf('Conditions of each flight'));
    const [head, , first] = table.split('\n').filter((line) => line.startsWith('|'));
    assert.ok(!head.includes('Altimeter setting'), head);
    assert.match(first, /runway 1, airfield 1, \+0\.8 %/);
    assert.match(first, /\| 3 kt \|/, 'the speed of the wind without its direction');
    assert.doesNotMatch(markdown, /\| 13, |100 ft/);
  });

  it('can still be checked against what it was made from', () => {
    assert.equal(madeFrom(markdown)?.specSha256, telling.provenance.specSha256);
    assert.equal(madeFrom(markdown)?.recordings.length, telling.provenance.recordings.length);
  });

  it('names a file alike by its path and by the last part of it', () => {
    const names = shownNames(telling);
    assert.equal(names.text('a1.gpx: no wind'), `${names.file('a1.gpx')}: no wind`);
  });

  it('numbers the needs, which are named after strips', () => {
    const needs = [{ need: 'Kelp Bar' }, { need: 'Outer Lamp' }, { need: 'Kelp Bar' }];
    const { text } = shownNames({ ...telling, decision: { missions: needs } } as unknown as typeof telling);
    assert.equal(text('Outer Lamp suits, Kelp Bar does not.'), 'need 2 suits, need 1 does not.');
  });

  it('shows all of it where nothing is hidden', () => {
    const open = writeReport(inventedEvaluation(), request).markdown;
    assert.match(open, /Oyster Flats/);
    assert.match(open, /Altimeter setting/);
    assert.match(open, /\| 13, Oyster Flats/);
  });

  it('is matched by the JSON', () => {
    const json = JSON.stringify(comparisonJson(telling));
    assert.doesNotMatch(json, secret);
    assert.match(json, /"file":"flight 1"/);
    assert.match(JSON.stringify(comparisonJson(inventedEvaluation())), /"file":"a1\.gpx"/);
  });
});

describe('registrations', () => {
  it('are taken out, and nothing else', () => {
    for (const mark of ['X-ABCD', 'XY-ABC', '9X-ABC', 'X-1234', 'N123AB', 'N45']) {
      assert.equal(withoutRegistrations(`of ${mark}, flown`), 'of the aeroplane, flown', mark);
    }
    for (const kept of ['FAA-H-8083-25C', 'O-360', 'IO-540', 'WGS-84', 'T2', 'N', 'AC 43.13-1', 'a-b', '2024-04-13']) {
      assert.equal(withoutRegistrations(`see ${kept}.`), `see ${kept}.`, kept);
    }
  });
});
