import assert from 'node:assert/strict';
import {
  cost,
  flowFromFills,
  outAndBackTimeRatio,
  payloadRange,
  rangeAtConstantLiftCoefficient,
  rangeWithReserve,
  reserveRule,
} from '../../../../src/engine/range/index.ts';

const GALLON = 0.003785411784;
const KNOT = 1852 / 3600;
const MILE = 1609.344;
const near = (actual: number, expected: number, tolerance: number) =>
  assert.ok(Math.abs(actual - expected) <= tolerance, `${actual} is not within ${tolerance} of ${expected}`);
const exact = (value: number) => ({ value, sigma: 0 });
const rule = (id: string) => {
  const found = reserveRule(id);
  assert.ok(found);
  return found;
};

describe('range with reserve', () => {
  it('FAA-H-8083-25C sample problem 6: 38 gal at 6.9 gal/h and 116 mph: 5.5 h, 635 to 639 mi', () => {
    const result = rangeWithReserve(
      { usableM3: 38 * GALLON, allowanceM3: 0, reserveTimeS: 0, reserveFlowM3ps: 0 },
      { fuelFlowM3ps: exact((6.9 * GALLON) / 3600), trueAirspeedMps: exact((116 * MILE) / 3600) },
    );
    assert.ok(result);
    near(result.enduranceS.value / 3600, 5.507, 0.001);
    near(result.rangeM.value / MILE, 638.8, 0.1);
    assert.ok(
      result.rangeM.value / MILE >= 635 && result.rangeM.value / MILE <= 639,
      'the table prints 635 from 5.5 h',
    );
  });

  const flow = (8.5 * GALLON) / 3600;
  const plan = (id: string) => ({
    usableM3: 48 * GALLON,
    allowanceM3: 0,
    reserveTimeS: rule(id).timeS,
    reserveFlowM3ps: flow,
  });
  const cruise = { fuelFlowM3ps: exact(flow), trueAirspeedMps: exact(110 * KNOT) };

  it('48 gal, 8.5 gal/h, 110 kt with 30 and 45 min (14 CFR 91.151): 566.18 and 538.68 NM; 463.24 NM into 20 kt (arithmetic)', () => {
    near((rangeWithReserve(plan('day-30-min'), cruise)?.rangeM.value ?? Number.NaN) / 1852, 566.18, 0.01);
    near((rangeWithReserve(plan('night-45-min'), cruise)?.rangeM.value ?? Number.NaN) / 1852, 538.68, 0.01);
    const into = rangeWithReserve(plan('day-30-min'), { ...cruise, headwindMps: 20 * KNOT });
    near((into?.rangeM.value ?? Number.NaN) / 1852, 463.24, 0.01);
  });

  it('rule of thumb (common practice, no source): 36 gal at 12 to 13 gal/h leaves a bit over two hours after 30 min', () => {
    for (const perHour of [12, 13]) {
      const hourly = (perHour * GALLON) / 3600;
      const result = rangeWithReserve(
        { usableM3: 36 * GALLON, allowanceM3: 0, reserveTimeS: 1800, reserveFlowM3ps: hourly },
        { fuelFlowM3ps: exact(hourly), trueAirspeedMps: exact(100 * KNOT) },
      );
      assert.ok(result);
      const hours = result.enduranceS.value / 3600;
      assert.ok(hours > 2.2 && hours <= 2.5, `${hours} h`);
    }
  });

  it('constant lift coefficient (SFTE reference handbook ch. 12): 661.73 NM against 621.18 NM straight', () => {
    near(rangeAtConstantLiftCoefficient(110 / 51, 2400, 288), 661.73, 0.01);
    near((110 / 51) * 288, 621.18, 0.01);
  });

  it('nothing left for cruise is said, not a negative range', () => {
    assert.equal(rangeWithReserve({ ...plan('night-45-min'), usableM3: 5 * GALLON }, cruise), undefined);
    assert.equal(rangeWithReserve(plan('day-30-min'), { ...cruise, headwindMps: 120 * KNOT }), undefined);
    assert.throws(() => rangeWithReserve(plan('day-30-min'), { ...cruise, fuelFlowM3ps: exact(0) }), /fuel flow/);
  });

  it('the interval covers the truth in 95 % of noisy flow and speed readings', () => {
    let seed = 5;
    const uniform = () => {
      seed = (seed * 48271) % 2147483647;
      return seed / 2147483647;
    };
    const normal = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
    let inside = 0;
    const trials = 4000;
    const truth = rangeWithReserve(plan('day-30-min'), cruise)?.rangeM.value ?? Number.NaN;
    for (let trial = 0; trial < trials; trial += 1) {
      const readFlow = flow * (1 + 0.03 * normal());
      const result = rangeWithReserve(
        { ...plan('day-30-min'), reserveFlowM3ps: readFlow },
        {
          fuelFlowM3ps: { value: readFlow, sigma: 0.03 * readFlow },
          trueAirspeedMps: { value: 110 * KNOT + 0.8 * normal(), sigma: 0.8 },
        },
      );
      if (result && result.rangeM.low <= truth && truth <= result.rangeM.high) inside += 1;
    }
    near(inside / trials, 0.95, 0.011); // three standard errors of a proportion from 4,000 trials
  });

  it('wind always costs on an out-and-back: 20 kt at 110 kt is 3.4 %', () => {
    near(outAndBackTimeRatio(20, 110), 1.0342, 1e-4);
    near(outAndBackTimeRatio(-20, 110), 1.0342, 1e-4);
    assert.throws(() => outAndBackTimeRatio(110, 110), /weaker/);
  });
});

describe('fuel from full-to-full fills', () => {
  it('the mean is total fuel over total time; more fills narrow it; one fill gives no interval', () => {
    const fill = (gal: number, hours: number) => ({ volumeM3: gal * GALLON, timeS: hours * 3600 });
    const few = flowFromFills([fill(8.6, 1.0), fill(16.6, 2.0), fill(13.2, 1.5)]);
    assert.ok(few);
    near((few.value / GALLON) * 3600, (8.6 + 16.6 + 13.2) / 4.5, 1e-9);
    const many = flowFromFills(
      [1, 2, 1.5, 1, 2, 1.5, 2, 1].map((hours, i) => fill(8.5 * hours + (i % 2 ? 0.3 : -0.3), hours)),
    );
    assert.ok(many);
    assert.ok(many.high - many.low < few.high - few.low);
    assert.equal(flowFromFills([fill(8.6, 1)]), undefined);
  });

  it('is never surer than the marks at the filler neck allow', () => {
    const fill = { volumeM3: 10 * GALLON, timeS: 3600 };
    const result = flowFromFills([fill, fill, fill, fill]);
    assert.ok(result);
    assert.ok(result.high - result.value > ((0.75 * Math.SQRT2 * GALLON) / (4 * 3600)) * 1.96);
  });
});

describe('payload and cost', () => {
  it('a kilogram of equipment costs a kilogram of payload or the range of a kilogram of fuel', () => {
    const input = {
      maximumMassKg: 850,
      emptyMassKg: 540,
      usableFuelKg: 86,
      keptFuelKg: 12,
      rangePerKgM: 9000,
      greatestPayloadKg: 260,
      pilotKg: 80,
    };
    const before = payloadRange(input);
    const after = payloadRange({ ...input, emptyMassKg: 541 });
    assert.equal(before[1].payloadKg - after[1].payloadKg, 1);
    assert.equal(before[0].rangeM - after[0].rangeM, 9000);
    assert.equal(before[2].fuelKg, 86);
  });

  it('cost by hour and by distance agree', () => {
    const result = cost((20 / 3600) * 0.001, 50, 2500, 30);
    near(result.perHour, 20 * 2.5 + 30, 1e-9);
    near(result.perMetre * 50 * 3600, result.perHour, 1e-9);
  });
});
