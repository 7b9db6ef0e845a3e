import assert from 'node:assert/strict';
import { quickFixes } from '../../../../src/engine/spec/editor/index.ts';
import { parseSpec } from '../../../../src/engine/spec/parse.ts';

const decisionSpec = `modproof: 1
title: Wheel fairings on the Tern
aircraft:
  propeller: fixed-pitch
  maximum-weight: 850 kg
  usable-fuel: 120 L
  rated-power: 125 hp
  propeller-diameter: 1.9 m
  wing-span: 10.6 m
configurations:
  bare: { baseline: true, empty-weight: 528 kg, empty-arm: 418 mm }
  faired:
    changed-from: bare
    installed:
      - { item: left fairing, weight: 2.1 kg, arm: 60 mm }
flights: []
loading:
  stations:
    seats: { arm: 500 mm, limit: 200 kg, pilot: true }
    tank: { arm: 640 mm, limit: 86 kg, fuel: true }
  cases:
    two up: { load: { seats: 160 kg +- 4 kg, tank: 110 L }, fuel-burnt: 60 L }
  envelope: [500 kg at 350 mm, 850 kg at 350 mm, 850 kg at 600 mm, 500 kg at 600 mm]
fuel:
  reserve: night-45-min
  cruise: [{ configuration: bare, setting: 2450 rpm, speed: 96 kt +- 1 kt, flow: 25 L/h }]
  price-of-fuel: 2.40 EUR per L
candidates:
  bigger: { rated-power: 150 hp, drag: -5 %, price: 3000 EUR }
missions:
  - { strip: bar, available: 480 m, elevation: 2300 ft, air-temperature: 28 degC, surface: grass, load: 260 kg }
  - { leg: home, distance: 260 NM, payload: 180 kg }
  - { climb: pass, rate: 300 ft/min, density-altitude: 8000 ft, weight: 790 kg }
plan: { reversible: true, card: test-card.md }
`;

const problemsOf = (text: string) => parseSpec(text, 'x').problems.map(({ code, at }) => `${at?.line ?? '?'} ${code}`);
const changed = (from: string, to: string) => {
  assert.ok(decisionSpec.includes(from), from);
  return problemsOf(decisionSpec.replace(from, to));
};

describe('the sections around the flights', () => {
  it('tell only what is wrong in a need, as the kind of need that was meant', () => {
    assert.deepEqual(changed('distance: 260 NM', 'distance: 260 kt'), ['32 spec-quantity']);
    assert.deepEqual(changed('payload: 180 kg }', 'payload: 180 kg, headwind: 200 kt }'), ['32 spec-impossible']);
    assert.deepEqual(changed('rate: 300 ft/min', 'rate: 300'), ['33 spec-quantity']);
    assert.deepEqual(changed('distance: 260 NM', 'distence: 260 NM'), ['32 spec-missing-key', '32 spec-unknown-key']);
    assert.deepEqual(changed('available: 480 m', 'available: 480'), ['31 spec-quantity']);
  });

  it('say a slip once, without what follows from it', () => {
    assert.deepEqual(changed('load: 260 kg }', 'load: 260 }'), ['31 spec-quantity']);
    assert.deepEqual(changed(', load: 260 kg }', ' }'), ['31 spec-missing-key']);
    assert.deepEqual(changed('tank: 110 L', 'tnak: 110 L'), ['22 spec-unknown-name']);
  });

  it('want a card that can be written', () => {
    assert.deepEqual(changed('card: test-card.md', 'card: test-card.pdf'), ['34 spec-name']);
    const report = decisionSpec.replace('plan: {', 'report: { file: test-card.md }\nplan: {');
    assert.deepEqual(problemsOf(report), ['35 spec-name']);
  });

  it('have quick fixes: units, stations, surfaces, corners, a weight that is missing', () => {
    const titles = (from: string, to: string): string[] => {
      assert.ok(decisionSpec.includes(from), from);
      const text = decisionSpec.replace(from, to);
      return parseSpec(text, 'x').problems.flatMap((problem) => quickFixes(text, problem).map(({ title }) => title));
    };
    assert.equal(titles('rate: 300 ft/min', 'rate: 300')[0], 'Write "300 ft/min"');
    assert.deepEqual(titles('tank: 110 L', 'tnak: 110 L'), ['Change to "tank"']);
    assert.deepEqual(titles('surface: grass', 'surface: gras'), ['Change to "grass"']);
    assert.deepEqual(titles('850 kg at 350 mm', '850 kg at 350'), [
      'Write "850 kg at 350 mm"',
      'Write "850 kg at 350 in"',
    ]);
    assert.deepEqual(titles(', load: 260 kg }', ' }'), ['Add "weight"', 'Add "load"']);
    assert.deepEqual(titles('configuration: bare', 'configuration: baer'), ['Change to "bare"', 'Change to "faired"']);
  });

  it('are understood, in SI, even without a flight', () => {
    const { spec, problems } = parseSpec(decisionSpec, 'x');
    assert.deepEqual(problems, []);
    const decision = spec?.decision;
    assert.ok(decision?.loading && decision.fuel && decision.candidates && decision.missions && decision.plan);
    assert.equal(decision.loading.stations.tank.arm, 0.64);
    assert.deepEqual(decision.loading.cases?.['two up'].load.seats, { massKg: 160, sigma: 4 });
    assert.equal(decision.loading.cases?.['two up'].load.tank.volumeM3, 0.11);
    const corner = decision.loading.envelope?.[1];
    assert.ok(corner?.massKg === 850 && Math.abs(corner.cgM - 0.35) < 1e-12);
    assert.equal(decision.fuel.reserve?.timeS, 2700);
    assert.equal(decision.fuel['price-of-fuel']?.perM3, 2400);
    assert.equal(decision.candidates.bigger.drag, 0.95);
    assert.equal(decision.missions.length, 3);
  });

  it('are absent where the spec has none of them', () => {
    const { spec } = parseSpec(
      'modproof: 1\naircraft: { propeller: fixed-pitch }\nconfigurations: { a: { baseline: true }, b: {} }\n' +
        'flights:\n  - { track: x.gpx, configuration: a }\n  - { track: y.gpx, configuration: b }\n',
      'x',
    );
    assert.ok(spec);
    assert.equal(spec.decision, undefined);
  });

  it('tell what does not fit, on its line', () => {
    assert.deepEqual(changed('weight: 2.1 kg', 'weight: 2.1'), ['15 spec-quantity']);
    assert.deepEqual(changed('850 kg at 600 mm', '850 at 600 mm'), ['23 spec-quantity']);
    assert.deepEqual(changed('night-45-min', 'night-45'), ['25 spec-word']);
    assert.deepEqual(changed('seats: 160 kg +- 4 kg', 'sats: 160 kg'), ['22 spec-unknown-name']);
    assert.deepEqual(changed('seats: 160 kg +- 4 kg', 'seats: 160 L'), ['22 spec-quantity']);
    assert.deepEqual(changed('changed-from: bare', 'changed-from: faired'), ['13 spec-impossible']);
    assert.deepEqual(changed('    changed-from: bare\n', ''), ['13 spec-missing-key']);
    assert.deepEqual(changed('bigger:', 'faired:'), ['29 spec-name']);
    assert.deepEqual(changed('payload: 180 kg', 'payload: 180 kg, rserve: 30 min'), ['32 spec-unknown-key']);
    assert.deepEqual(changed(', load: 260 kg', ''), ['31 spec-missing-key']);
    assert.deepEqual(changed(', weight: 790 kg', ', weight: 790 kg, load: 200 kg'), ['33 spec-impossible']);
    assert.deepEqual(changed('2.40 EUR per L', '2.40'), ['27 spec-quantity']);
    assert.deepEqual(changed('drag: -5 %', 'drag: -500 %'), ['29 spec-quantity']);
    assert.deepEqual(changed(', empty-arm: 418 mm', ''), ['17 spec-missing-key']);
  });

  it('do not loop when configurations are changed from each other', () => {
    const round = decisionSpec.replace(
      'bare: { baseline: true, empty-weight: 528 kg, empty-arm: 418 mm }',
      'bare: { baseline: true, empty-weight: 528 kg, empty-arm: 418 mm, changed-from: faired }',
    );
    assert.deepEqual(problemsOf(round), ['10 spec-impossible']);
  });
});
