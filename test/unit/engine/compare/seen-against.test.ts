import assert from 'node:assert/strict';
import type { ClimbShape } from '../../../../src/engine/compare/climb-runs.ts';
import type { ConfigurationResult } from '../../../../src/engine/compare/result.ts';
import type { Target } from '../../../../src/engine/compare/run.ts';
import { seenAgainstAltitude } from '../../../../src/engine/compare/seen-against.ts';
import { parseSpec } from '../../../../src/engine/spec/index.ts';
import { goodSpec } from '../spec/good-spec.ts';

const { spec } = parseSpec(goodSpec.replace('density-altitude: 1000 ft', 'density-altitude: 1000 m'), 'a');
assert.ok(spec);

const run = {
  file: 'a',
  number: 1,
  day: 'd',
  timeS: 0,
  value: 4,
  low: 3,
  high: 5,
  sigma: 0.5,
  corrections: [],
  weight: 1,
};
const before: ConfigurationResult = {
  id: 'before',
  runs: 1,
  days: 3,
  mean: { value: 4, low: 3.6, high: 4.4 },
  values: [{ ...run, raw: run }],
};
const shape: ClimbShape = {
  lines: new Map([['before', { slope: { value: -0.001, sigma: 0.0001 }, lowestM: 500, highestM: 2500 }]]),
  bands: new Map([
    [
      'before',
      [500, 1500, 2500].map((densityAltitudeM) => ({
        file: 'a',
        day: 'd',
        densityAltitudeM,
        rateMps: 5 - densityAltitudeM / 1000,
        airspeedMps: 33,
        massKg: 700,
      })),
    ],
  ]),
};
const atMass = (massKg: number): Target => ({ footing: 'equal-weight', massOf: () => ({ value: massKg, sigma: 0 }) });

describe('rate of climb against density altitude', () => {
  const [seen] = seenAgainstAltitude(spec, shape, atMass(700), [before]).configurations;

  it('runs through the mean at the reference, with the slope, over what was climbed through', () => {
    assert.equal(seen.line[0].x, 500);
    assert.equal(seen.line[seen.line.length - 1].x, 2500);
    for (const point of seen.line) assert.ok(Math.abs(point.value - (4 - 0.001 * (point.x - 1000))) < 1e-12);
  });

  it('has at the reference the interval of the mean, is narrowest where the climbs lie and opens to the ends', () => {
    const width = (index: number): number => seen.line[index].high - seen.line[index].low;
    const reference = seen.line.findIndex((point) => point.x === 1000);
    assert.ok(reference > 0 && Math.abs(width(reference) - 0.8) < 1e-9);
    const middle = seen.line.findIndex((point) => point.x === 1500);
    assert.ok(width(middle) < width(reference) && width(0) > width(reference) && Math.abs(width(0) - width(12)) < 1e-9);
  });

  it('shows points at the mass of the footing: heavier climbs less', () => {
    assert.ok(Math.abs(seen.points[0].value - 4.5) < 1e-9);
    const [heavier] = seenAgainstAltitude(spec, shape, atMass(770), [before]).configurations;
    // Rate times weight is kept, less 3 m/s per unit of relative mass for induced drag where the wing is not known.
    assert.ok(Math.abs(heavier.points[0].value - ((4.5 * 700) / 770 - 3 * 0.1)) < 1e-9);
  });

  it('draws no line where nothing was compared, and leaves out what was not used', () => {
    const [none] = seenAgainstAltitude(spec, shape, atMass(700), [
      { ...before, values: [], mean: undefined },
    ]).configurations;
    assert.deepEqual([none.points, none.line], [[], []]);
  });
});
