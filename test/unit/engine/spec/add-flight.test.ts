import assert from 'node:assert/strict';
import { addFlight, parseSpec } from '../../../../src/engine/spec/index.ts';
import { applyEdits, CannotEdit } from '../../../../src/engine/yaml-text/index.ts';

const spec = `modproof: 1
title: New propeller # ours
aircraft:
  name: Merrow
  propeller: fixed-pitch
configurations:
  before: { baseline: true }
  after: {}
flights:
  - track: a.gpx
    configuration: before # the first
  # the second
  - { track: b.gpx, configuration: after }

# what we want to know
questions:
  - ground-roll
`;

describe('adding a flight to a spec', () => {
  it('adds it after the last one and leaves every other character', () => {
    const text = applyEdits(spec, [
      addFlight(spec, {
        track: 'new/c d.gpx',
        configuration: 'after',
        conditions: { 'air-temperature': '18 degC', wind: '250 deg 9 kt', weight: '', 'dew-point': '9 degC +- 1 degC' },
        runway: { heading: '284 deg', slope: '-0.6 %', surface: '' },
      }),
    ]);
    const added = text.split('\n').filter((line) => !spec.split('\n').includes(line));
    assert.deepEqual(added, [
      '  - track: new/c d.gpx',
      '    configuration: after',
      '    runway: { heading: 284 deg, slope: -0.6 % }',
      '    air-temperature: 18 degC',
      '    wind: 250 deg 9 kt',
      '    dew-point: 9 degC +- 1 degC',
    ]);
    assert.equal(text.replace(/ {2}- track: new[\s\S]*?9 degC \+- 1 degC\n/, ''), spec);
    const parsed = parseSpec(text, 'x.modproof.yaml');
    assert.deepEqual(
      parsed.problems.filter(({ severity }) => severity === 'error'),
      [],
    );
    const [, , flight] = parsed.spec?.flights ?? [];
    assert.equal(flight.track, 'new/c d.gpx');
    assert.ok(Math.abs((flight.conditions.airTemperatureK?.value ?? 0) - 291.15) < 1e-9);
    assert.ok(Math.abs((flight.conditions.wind?.speedMps ?? 0) - 9 * (1852 / 3600)) < 1e-9);
    assert.ok(Math.abs((flight.conditions.runway?.headingRad ?? 0) - (284 * Math.PI) / 180) < 1e-9);
  });

  it('makes the list where there is none yet', () => {
    const text = applyEdits('modproof: 1\nflights:\n', [
      addFlight('modproof: 1\nflights:\n', { track: 'a.gpx', conditions: {} }),
    ]);
    assert.equal(text, 'modproof: 1\nflights:\n  - track: a.gpx\n    configuration:\n');
    assert.match(
      applyEdits('modproof: 1', [addFlight('modproof: 1', { track: 'a.gpx', conditions: {} })]),
      /^modproof: 1\nflights:\n {2}- track/,
    );
  });

  it('refuses a flight that is there, and a list in brackets', () => {
    assert.throws(() => addFlight(spec, { track: 'b.gpx', conditions: {} }), /already/);
    assert.throws(() => addFlight('flights: [{ track: a.gpx }]', { track: 'b.gpx', conditions: {} }), CannotEdit);
    assert.throws(() => addFlight('flights: [', { track: 'b.gpx', conditions: {} }), CannotEdit);
  });
});
