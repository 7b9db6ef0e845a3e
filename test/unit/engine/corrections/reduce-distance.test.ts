import assert from 'node:assert/strict';
import { reduceDistanceToScreen, reduceGroundRoll, uncertain } from '../../../../src/engine/corrections/index.ts';
import { near } from '../../../tools/near.ts';

const footM = 0.3048;
const knotMps = 1852 / 3600;
const poundKg = 0.45359237;
const exact = (value: number) => uncertain(value, 0);

const run = { roll: 'takeoff', distanceM: exact(720 * footM), groundSpeedMps: exact(46 * knotMps) } as const;
const conditions = {
  propeller: 'fixed-pitch',
  turbocharged: false,
  headwindMps: exact(8 * knotMps),
  slope: exact(Math.tan(Math.asin(0.008))),
  massKg: exact(2250 * poundKg),
  densityRatio: exact(0.9),
} as const;
const reference = { headwindMps: 0, slope: 0, massKg: 2400 * poundKg, densityRatio: 1 };

describe('reduction of a distance', () => {
  it('does the whole chain: wind, slope, weight, density (worked example computed independently)', () => {
    const wind = reduceGroundRoll(run, conditions, { headwindMps: 0 });
    near(wind.valueM / footM, 968.6, 0.1);
    const slope = reduceGroundRoll(run, conditions, { headwindMps: 0, slope: 0 });
    near(slope.valueM / footM, 913.8, 0.1);
    const all = reduceGroundRoll(run, conditions, reference);
    near(all.valueM / footM, 828.5, 0.1);
    assert.deepEqual(
      all.corrections.map(({ name }) => name),
      ['wind', 'slope', 'weight', 'density'],
    );
    // The corrections shown multiply to the value.
    const product = all.corrections.reduce((value, { factor }) => value * (factor ?? 1), 720);
    near(product, all.valueM / footM, 1e-9);
    near(all.corrections[2].factor ?? 0, 1.16753, 1e-5);
    near(all.corrections[3].factor ?? 0, 0.77657, 1e-5);
  });

  it('changes nothing at the reference conditions', () => {
    const same = reduceGroundRoll(run, conditions, {
      headwindMps: 8 * knotMps,
      slope: conditions.slope.value,
      massKg: 2250 * poundKg,
      densityRatio: 0.9,
    });
    near(same.valueM, 720 * footM, 1e-9);
    near(same.sigmaM, 0, 1e-9);
  });

  it('carries a noted wind through to the result like a brute-force change of the wind', () => {
    const sigma = 2 * knotMps;
    const noted = { ...conditions, headwindMps: uncertain(8 * knotMps, sigma) };
    const up = reduceGroundRoll(run, { ...conditions, headwindMps: exact(8 * knotMps + sigma) }, reference).valueM;
    const down = reduceGroundRoll(run, { ...conditions, headwindMps: exact(8 * knotMps - sigma) }, reference).valueM;
    const reduced = reduceGroundRoll(run, noted, reference);
    near(reduced.runSigmaM, (up - down) / 2, 1e-9);
    assert.ok(reduced.sigmaM > reduced.runSigmaM);
  });

  it('says what it could not correct', () => {
    const { massKg: _, ...noMass } = conditions;
    const reduced = reduceGroundRoll(run, noMass, reference);
    assert.equal(reduced.left.length, 1);
    assert.match(reduced.left[0], /No mass was noted/);
    near(reduced.valueM / footM, 828.5 / 1.16753, 0.1);
  });

  it('adds ground roll and air distance, one error of wind for both', () => {
    const screen = {
      groundRollM: run.distanceM,
      totalM: exact(1500 * footM),
      groundSpeedMps: run.groundSpeedMps,
      airTimeS: 9,
    };
    const wind = reduceDistanceToScreen(screen, conditions, { headwindMps: 0 });
    near(wind.valueM, 968.6 * footM + (780 * footM + 8 * knotMps * 9), 0.05);
    const sigma = knotMps;
    const noted = { ...conditions, headwindMps: uncertain(8 * knotMps, sigma) };
    const both = reduceDistanceToScreen(screen, noted, { headwindMps: 0 }).runSigmaM;
    const ground = reduceGroundRoll(run, noted, { headwindMps: 0 }).runSigmaM;
    near(both, ground + 9 * sigma, 1e-6);
  });

  it('does not count an error of the instant of lift-off twice', () => {
    const screen = {
      groundRollM: uncertain(720 * footM, 10),
      totalM: exact(1500 * footM),
      groundSpeedMps: run.groundSpeedMps,
      airTimeS: 9,
    };
    const still = { propeller: 'fixed-pitch', turbocharged: false, headwindMps: exact(0) } as const;
    near(reduceDistanceToScreen(screen, still, { headwindMps: 0 }).sigmaM, 0, 1e-9);
  });

  it('is unchanged for a screen run at its own conditions, also with wind', () => {
    const screen = {
      groundRollM: run.distanceM,
      totalM: exact(1500 * footM),
      groundSpeedMps: run.groundSpeedMps,
      airTimeS: 9,
    };
    const same = reduceDistanceToScreen(screen, conditions, { headwindMps: 8 * knotMps });
    near(same.valueM, 1500 * footM, 1e-6);
    assert.throws(() => reduceDistanceToScreen({ ...screen, totalM: exact(100) }, conditions, reference), RangeError);
  });
});
