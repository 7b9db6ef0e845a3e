import assert from 'node:assert/strict';
import { groundRollSlopeFactor, uncertain } from '../../../../src/engine/corrections/index.ts';
import { near } from '../../../tools/near.ts';

const run = {
  stillAirRollM: 600 * 0.3048,
  trueAirspeedMps: uncertain((55 * 1852) / 3600, 0),
  roll: 'takeoff',
} as const;

/** Flight-test reference handbook (SFTE, 2013) ch. 12; values computed independently. */
describe('runway slope', () => {
  it('takes a roll 1 % uphill to level by the exact form', () => {
    const factor = groundRollSlopeFactor({ ...run, slope: uncertain(0.01, 0) }).factor ?? Number.NaN;
    near(factor, 0.95712, 1e-5);
    // The handbook's first-order form, 1 - g sin/a, would give 0.95520.
    near(2 - 1 / factor, 0.9552, 1e-5);
  });

  it('gives about the planning rule of 5 % of distance for 1 % (CAT.POL.A.305 AMC2, CAT.POL.A.400 AMC2: up to 2 %)', () => {
    for (const [slope, percents] of [
      [0.01, 1],
      [0.02, 2],
    ]) {
      const longer = 1 / (groundRollSlopeFactor({ ...run, slope: uncertain(slope, 0) }).factor ?? Number.NaN) - 1;
      near((100 * longer) / percents, 4.6, 0.5);
    }
  });

  it('lengthens a landing roll on the level when it was flown uphill', () => {
    const factor = groundRollSlopeFactor({ ...run, slope: uncertain(0.01, 0), roll: 'landing' }).factor ?? Number.NaN;
    near(factor, 1 / (1 - (1 / 0.95712 - 1)), 1e-4);
  });

  it('goes to a slope of reference and carries the error of the note', () => {
    near(
      groundRollSlopeFactor({ ...run, slope: uncertain(0.02, 0), referenceSlope: 0.02 }).factor ?? Number.NaN,
      1,
      1e-12,
    );
    const noted = groundRollSlopeFactor({ ...run, slope: uncertain(0, 0.005) });
    near(noted.relativeSigma, 0.005 / 0.2232, 1e-4);
  });

  it('marks a steep slope and refuses an impossible one', () => {
    assert.match(groundRollSlopeFactor({ ...run, slope: uncertain(0.06, 0) }).warning ?? '', /steeper than the 4 %/);
    assert.throws(
      () => groundRollSlopeFactor({ ...run, slope: uncertain(0, 0), referenceSlope: 0.3 }),
      /no roll is possible/,
    );
    assert.throws(() => groundRollSlopeFactor({ ...run, stillAirRollM: 0, slope: uncertain(0, 0) }), RangeError);
  });
});
