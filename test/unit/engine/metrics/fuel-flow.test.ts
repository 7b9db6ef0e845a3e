import assert from 'node:assert/strict';
import { fuelByPhase, fuelUsedBetween } from '../../../../src/engine/metrics/fuel-flow.ts';
import type { Track } from '../../../../src/engine/track/track.ts';
import { near } from '../../../tools/near.ts';

const litreM3 = 1e-3;
const perHour = litreM3 / 3600;
const trackOf = (timeS: readonly number[], channels: Track['channels']): Track => ({
  timeS: Float64Array.from(timeS),
  latDeg: new Float64Array(timeS.length),
  lonDeg: new Float64Array(timeS.length),
  altitudes: [],
  breaks: [],
  channels,
  assumptions: [],
});
const seconds = (from: number, to: number): number[] => Array.from({ length: to - from + 1 }, (_, i) => from + i);

describe('fuel of a phase', () => {
  it('integrates the fuel flow: 24 L/h for half an hour is 12 L', () => {
    const times = seconds(0, 1800);
    const track = trackOf(times, { fuelFlowM3ps: Float64Array.from(times, () => 24 * perHour) });
    const use = fuelUsedBetween(track, 0, 1800);
    near((use?.volumeM3 ?? 0) / litreM3, 12, 1e-9);
    assert.equal(use?.from, 'fuel flow');
    near(fuelUsedBetween(track, 100.25, 400.75)?.volumeM3 ?? 0, 24 * perHour * 300.5, 1e-12);
  });

  it('does not integrate across a gap, and says how much is missing', () => {
    const times = [...seconds(0, 600), ...seconds(660, 1200)];
    const track = trackOf(times, { fuelFlowM3ps: Float64Array.from(times, () => 20 * perHour) });
    const use = fuelUsedBetween(track, 0, 1200);
    near(use?.coveredS ?? 0, 1140, 1e-9);
    near(use?.missingS ?? 0, 60, 1e-9);
    near(use?.volumeM3 ?? 0, 20 * perHour * 1140, 1e-12);
  });

  it('prefers the counter of fuel used, which counts on through gaps; not one that was reset', () => {
    const times = [...seconds(0, 600), ...seconds(660, 1200)];
    const flow = Float64Array.from(times, () => 20 * perHour);
    const used = Float64Array.from(times, (t) => 25 * perHour * t);
    near(
      fuelUsedBetween(trackOf(times, { fuelFlowM3ps: flow, fuelUsedM3: used }), 0, 1200)?.volumeM3 ?? 0,
      25 * perHour * 1200,
      1e-12,
    );
    const reset = used.map((value, i) => (i > 700 ? value - 5 * litreM3 : value));
    assert.equal(
      fuelUsedBetween(trackOf(times, { fuelFlowM3ps: flow, fuelUsedM3: reset }), 0, 1200)?.from,
      'fuel flow',
    );
  });

  it('takes a tank gauge only over long enough', () => {
    const times = seconds(0, 3600);
    const quantity = Float64Array.from(times, (t) => 0.08 - 30 * perHour * t + 0.0005 * Math.sin(t));
    const track = trackOf(times, { fuelQuantityM3: quantity });
    near((fuelUsedBetween(track, 0, 3600)?.volumeM3 ?? 0) / litreM3, 30, 0.1);
    assert.equal(fuelUsedBetween(track, 0, 120), undefined);
  });

  it('adds the phases of one kind, and leaves out those without a value', () => {
    const times = seconds(0, 1000);
    const flow = Float64Array.from(times, (t) => (t < 500 ? 10 * perHour : Number.NaN));
    const use = fuelByPhase(trackOf(times, { fuelFlowM3ps: flow }), [
      { kind: 'taxi', startS: 0, endS: 100 },
      { kind: 'climb', startS: 100, endS: 300 },
      { kind: 'taxi', startS: 300, endS: 400 },
      { kind: 'cruise', startS: 600, endS: 900 },
    ]);
    near(use.taxi?.volumeM3 ?? 0, 10 * perHour * 200, 1e-12);
    near(use.climb?.volumeM3 ?? 0, 10 * perHour * 200, 1e-12);
    assert.equal(use.cruise, undefined);
  });

  it('has nothing without a channel or a time', () => {
    assert.equal(fuelUsedBetween(trackOf([0, 1, 2], {}), 0, 2), undefined);
    assert.equal(fuelUsedBetween(trackOf([0, 1, 2], { fuelFlowM3ps: new Float64Array(3) }), 2, 2), undefined);
  });
});
