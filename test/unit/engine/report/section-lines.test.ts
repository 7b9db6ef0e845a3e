import assert from 'node:assert/strict';
import { displayUnitSets } from '../../../../shared/display-units.ts';
import { decide, type DecisionResult } from '../../../../src/engine/decision/index.ts';
import { entryLine, sectionLine } from '../../../../src/engine/report/index.ts';
import { parseSpec } from '../../../../src/engine/spec/index.ts';

const { icao } = displayUnitSets;

const text = `modproof: 1
aircraft: { propeller: fixed-pitch, maximum-weight: 850 kg, usable-fuel: 120 L }
configurations:
  bare: { baseline: true, empty-weight: 528 kg, empty-arm: 418 mm }
  faired: { empty-weight: 540 kg, empty-arm: 410 mm }
flights: []
loading:
  stations:
    seats: { arm: 500 mm, limit: 200 kg }
    tank: { arm: 640 mm, limit: 86 kg, fuel: true }
  cases:
    two up: { load: { seats: 160 kg, tank: 110 L } }
  envelope: [400 kg at 350 mm, 850 kg at 350 mm, 850 kg at 600 mm, 400 kg at 600 mm]
fuel:
  cruise: [{ configuration: bare, setting: 2450 rpm, speed: 96 kt +- 1 kt, flow: 25 L/h }]
missions:
  - { strip: bar, available: 480 m, elevation: 2300 ft, air-temperature: 28 degC, load: 260 kg }
  - { leg: home, distance: 100 NM, payload: 180 kg }
plan: {}
`;

function decided(edit: (text: string) => string = (whole) => whole): DecisionResult {
  const { spec, problems } = parseSpec(edit(text), 'x');
  assert.ok(spec, JSON.stringify(problems));
  return decide(spec, undefined, []);
}

describe('the sections around the flights in a line each', () => {
  it('says whether the loadings are inside, how far it goes, and what is next', () => {
    const all = decided();
    assert.equal(sectionLine('loading', all, icao), 'All loadings inside the envelope');
    assert.match(
      sectionLine('fuel', all, icao) ?? '',
      /^Range with reserve: bare \d+ NM \(\d+ to \d+\); not worked out: faired$/,
    );
    assert.equal(sectionLine('plan', all, icao), 'Next: faired; nothing has been compared yet');
    assert.equal(sectionLine('candidates', all, icao), undefined, 'not asked');
  });

  it('counts loadings outside, and does not call unchecked ones inside', () => {
    const narrow = decided((whole) => whole.replaceAll('at 600 mm', 'at 450 mm'));
    assert.match(sectionLine('loading', narrow, icao) ?? '', /^\d of \d loadings outside the envelope$/);
    const none = decided((whole) => whole.replace(/^ {2}envelope:.*\n/m, ''));
    assert.equal(sectionLine('loading', none, icao), 'No envelope is written: the balance was not checked');
  });

  it('answers a mission for every configuration, and all of them together', () => {
    const all = decided();
    assert.match(
      entryLine('missions', 'bar', 0, all, icao) ?? '',
      /^bare: not enough data \| faired: not enough data$/,
    );
    assert.match(
      entryLine('missions', 'home', 0, all, icao) ?? '',
      /^bare: yes \(\+\d+\.\d NM\) \| faired: not enough data$/,
    );
    assert.equal(entryLine('missions', 'elsewhere', 0, all, icao), undefined);
    assert.equal(entryLine('missions', 'bar', 1, all, icao), undefined, 'asked once only');
    assert.equal(sectionLine('missions', all, icao), 'None is shown to do all of 2 missions: bare 1, faired 0');
    const home = decided((whole) => whole.replace(/^ {2}- \{ strip.*\n/m, ''));
    assert.equal(sectionLine('missions', home, icao), 'bare does all of 1 mission');
  });

  it('tells what is predicted of a candidate, or that it is not', () => {
    const all = decided((whole) => `${whole}candidates:\n  clean: { drag: -5 % }\n`);
    // Nothing is measured and the aeroplane hardly described: nothing can be predicted.
    assert.equal(sectionLine('candidates', all, icao), '0 of 1 candidate predicted');
    assert.match(entryLine('candidates', 'clean', 0, all, icao) ?? '', /^Not predicted: \w+/);
    const share = { value: -0.05, low: -0.08, high: -0.02, method: '' };
    const [clean] = all.candidates ?? [];
    const rows = [{ metric: 'ground-roll' as const, predicted: share, change: share }];
    const told = { ...all, candidates: [{ ...clean, rows }] };
    assert.equal(entryLine('candidates', 'clean', 0, told, icao), 'Predicted: ground roll -5 % (-8 to -2)');
    assert.equal(sectionLine('candidates', told, icao), '1 of 1 candidate predicted');
  });
});
