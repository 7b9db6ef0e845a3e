import assert from 'node:assert/strict';
import { groundEffect, halfwaySpeedShare, planningFactors } from '../../../../src/engine/corrections/index.ts';
import { near } from '../../../tools/near.ts';

describe('planning factors', () => {
  it('quotes each with its source, once', () => {
    assert.equal(new Set(planningFactors.map(({ id }) => id)).size, planningFactors.length);
    for (const { source, factor } of planningFactors) assert.ok(source.length > 10 && factor > 0);
    const find = (id: string): number => planningFactors.find((factor) => factor.id === id)?.factor ?? Number.NaN;
    // UK CAA SafetySense Leaflet 7, CAT.POL.A.400(d)(5), CAT.POL.A.305 AMC2, FAA-H-8083-25C fig. 11-24 note 3.
    assert.equal(find('mass-plus-10-percent'), 1.2);
    assert.equal(find('elevation-plus-1000-ft'), 1.1);
    assert.equal(find('temperature-plus-10-c'), 1.1);
    assert.equal(find('dry-grass'), 1.2);
    assert.equal(find('wet-grass'), 1.3);
    assert.equal(find('upslope-2-percent'), 1.1);
    assert.equal(find('tailwind-10-percent'), 1.2);
    assert.equal(find('soft-ground'), 1.25);
    assert.equal(find('private-safety-factor'), 1.33);
    assert.equal(find('commercial-class-b'), 1.25);
    assert.equal(find('headwind-credit'), 0.5);
    assert.equal(find('tailwind-charge'), 1.5);
    assert.equal(find('slope-per-percent'), 1.05);
    assert.equal(find('dry-grass-faa-example'), 1.15);
    // FAA-H-8083-25C ch. 11 sample problem 3: -10 % per 9 kt of headwind takes 1,325 and 2,480 ft to 1,060 and 1,984 ft at 18 kt.
    near(1325 * (1 - (0.1 * 18) / 9), 1060, 1);
    near(2480 * (1 - (0.1 * 18) / 9), 1984, 1);
  });

  it('has the half-way speed near 1/sqrt(2)', () => near(halfwaySpeedShare, Math.SQRT1_2, 0.01));

  it('has the ground-effect factors of the flight-test reference handbook (SFTE, 2013) ch. 12', () => {
    near(groundEffect(0.15).lift, 1.3785, 1e-4);
    near(groundEffect(0.15).inducedDrag, 0.6253, 1e-4);
    assert.deepEqual(groundEffect(2), { lift: 1, inducedDrag: 1 });
  });
});
