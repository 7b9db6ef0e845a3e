import assert from 'node:assert/strict';
import {
  airDistanceOfExcessM,
  fixedPitchChange,
  froudeEfficiency,
  idealStaticThrustN,
  powerShare,
  predictionSpread,
  drawUnknowns,
  unknownsTaken,
  rateOfClimbMps,
  thrustN,
  type SpreadInput,
} from '../../../../src/engine/predict/index.ts';

const HP = 745.6998715822702;
const LBF = 4.4482216152605;
const LB = 0.45359237;
const INCH = 0.0254;
const KNOT = 1852 / 3600;
const FPM = 0.3048 / 60;
const SEA_LEVEL = 1.225;
const near = (actual: number, expected: number, tolerance: number) =>
  assert.ok(Math.abs(actual - expected) <= tolerance, `${actual} is not within ${tolerance} of ${expected}`);

describe('prediction: momentum theory and power (values computed independently from the formulas)', () => {
  it('160 hp, 76 in at sea level: ideal static thrust 1050.6 lbf, with a figure of merit of 0.7 828.3 lbf', () => {
    const ideal = idealStaticThrustN(160 * HP, 76 * INCH, SEA_LEVEL) / LBF;
    near(ideal, 1050.6, 0.5);
    near(ideal * 0.7 ** (2 / 3), 828.3, 0.5);
    near(thrustN(160 * HP, 76 * INCH, SEA_LEVEL, 0, 1) / LBF, ideal, 1e-6);
    near(thrustN(160 * HP, 76 * INCH, SEA_LEVEL, 0, 0.7) / LBF, 828.3, 0.5);
  });

  it('the same at 75 and 120 kt: Froude efficiency 0.8327 and 0.9411', () => {
    near(froudeEfficiency(160 * HP, 76 * INCH, SEA_LEVEL, 75 * KNOT), 0.8327, 1e-4);
    near(froudeEfficiency(160 * HP, 76 * INCH, SEA_LEVEL, 120 * KNOT), 0.9411, 1e-4);
  });

  it('76 to 80 in at equal power gives 1.0348, 160 to 180 hp 1.0817 of the static thrust', () => {
    const base = idealStaticThrustN(160 * HP, 76 * INCH, SEA_LEVEL);
    near(idealStaticThrustN(160 * HP, 80 * INCH, SEA_LEVEL) / base, 1.0348, 1e-4);
    near(idealStaticThrustN(180 * HP, 76 * INCH, SEA_LEVEL) / base, 1.0817, 1e-4);
  });

  it('power with height (SFTE handbook ch. 10): 0.8434, 0.7577, 0.7039 at 5,000, 8,000, 10,000 ft', () => {
    for (const [feet, share] of [
      [5000, 0.8434],
      [8000, 0.7577],
      [10000, 0.7039],
    ]) {
      const sigma = (1 - 6.8755856e-6 * feet) ** 4.25588;
      near(powerShare(sigma), share, 1e-4);
    }
    assert.equal(powerShare(0.9, 0.8), 1);
    assert.ok(powerShare(0.7, 0.8) < 1);
  });

  it('excess power (FAA-H-8083-25C ch. 11): 70 hp on 2,300 lb is 1,004 ft/min', () => {
    near(rateOfClimbMps(200 * HP, 130 * HP, 2300 * LB) / FPM, 1004, 1);
    near(rateOfClimbMps(0.75 * 160 * HP, 52.94 * HP, 2300 * LB) / FPM, 962, 1);
  });

  it('2,300 lb, 350 lbf of excess, 55 to 64 kt and 50 ft: air distance 640 ft (SFTE handbook ch. 12)', () => {
    const distance = airDistanceOfExcessM(2300 * LB, 350 * LBF, 55 * KNOT, 64 * KNOT, 50 * 0.3048);
    near(distance / 0.3048, 640, 1);
  });

  it('160 hp at efficiency 0.75 and 75 kt is 521.4 lbf', () => {
    near((0.75 * 160 * HP) / (75 * KNOT) / LBF, 521.4, 0.1);
  });
});

describe('prediction of a candidate from the measured baseline', () => {
  const airframe = {
    massKg: 790,
    ratedPowerW: 125 * HP,
    propellerDiameterM: 1.9,
    propeller: 'constant-speed' as const,
    spanM: 10.6,
  };
  const input: SpreadInput = {
    before: airframe,
    after: airframe,
    baseline: {
      groundRollM: 170,
      screens: [{ heightM: 15.24, distanceM: 395 }],
      liftoffTasMps: 46 * KNOT,
      takeoffDensityRatio: 1,
      rateOfClimbMps: 775 * FPM,
      climbTasMps: 64 * KNOT,
      climbDensityRatio: 1,
      levelTasMps: 105 * KNOT,
      levelPowerShare: 1,
      levelDensityRatio: 1,
    },
    baselineSigma: { groundRoll: 0.03, rateOfClimb: 0.03, levelTas: 0.01 },
    alteration: { parasiteDragFactor: 1, liftCoefficientFactor: 1 },
    askedRateMps: 100 * FPM,
  };

  it('nothing changed: no change, whatever is assumed', () => {
    const result = predictionSpread(input);
    assert.ok(result);
    near(result.groundRollChange.low, 0, 1e-9);
    near(result.groundRollChange.high, 0, 1e-9);
    near(result.levelTasChange.value, 0, 1e-9);
    near(result.rateOfClimbChange.value, 0, 1e-9);
  });

  it('5 % less parasite drag: speed up by 1 to 2.6 %, the cube law of FAA-H-8083-25C ch. 11 (1.72 %) inside', () => {
    const result = predictionSpread({ ...input, alteration: { parasiteDragFactor: 0.95, liftCoefficientFactor: 1 } });
    assert.ok(result);
    assert.ok(
      result.levelTasChange.low > 0.004 && result.levelTasChange.high < 0.03,
      JSON.stringify(result.levelTasChange),
    );
    assert.ok(result.levelTasChange.low < 0.0172 && 0.0172 < result.levelTasChange.high);
  });

  it('6.25 % more power: the cube law of top speed (160 to 170 hp: 2.04 %) lies inside', () => {
    const result = predictionSpread({ ...input, after: { ...airframe, ratedPowerW: airframe.ratedPowerW * 1.0625 } });
    assert.ok(result);
    assert.ok(result.levelTasChange.low < 0.0204 && 0.0204 < result.levelTasChange.high);
    assert.ok(result.groundRollChange.high < 0.02 && result.groundRollChange.value < -0.04);
  });

  it('10 % more mass: the roll grows by more than 1.1^2 (flight-test exponents 2.4 and 2.6 inside: SFTE handbook ch. 12)', () => {
    const result = predictionSpread({ ...input, after: { ...airframe, massKg: airframe.massKg * 1.1 } });
    assert.ok(result);
    const { low, high } = result.groundRollChange;
    assert.ok(low > 1.1 ** 2 - 1, `${low}`);
    assert.ok(low < 1.1 ** 2.6 - 1 && 1.1 ** 2.4 - 1 < high, `${low} ${high}`);
    assert.ok(high < 1.1 ** 3.2 - 1, `${high}`);
    assert.ok(result.rateOfClimbChange.value < -0.1, 'more than inertia alone: induced drag grows too');
  });

  it('a fixed-pitch propeller change is wider than a constant-speed one', () => {
    const bigger = { ...airframe, ratedPowerW: 150 * HP };
    const constant = predictionSpread({ ...input, after: bigger });
    const fixed = predictionSpread({
      ...input,
      before: { ...airframe, propeller: 'fixed-pitch' },
      after: { ...bigger, propeller: 'fixed-pitch' },
    });
    assert.ok(constant && fixed);
    const width = (one: { low: number; high: number }) => one.high - one.low;
    assert.ok(width(fixed.groundRollChange) > width(constant.groundRollChange));
  });

  it('the same input gives the same answer to the last bit', () => {
    assert.deepEqual(predictionSpread(input), predictionSpread(input));
  });

  it('data that cannot be (a roll of 30 m) are refused', () => {
    assert.equal(predictionSpread({ ...input, baseline: { ...input.baseline, groundRollM: 30 } }), undefined);
  });

  /** Middle of the predicted change for a hundredth, in hundredths: the first-order sensitivity. */
  const sensitivity = (
    after: Partial<typeof airframe>,
    alteration: Partial<SpreadInput['alteration']>,
    of: 'groundRollChange' | 'levelTasChange' | 'rateOfClimbChange',
  ): number => {
    const result = predictionSpread({
      ...input,
      after: { ...airframe, ...after },
      alteration: { ...input.alteration, ...alteration },
    });
    return (result?.[of].value ?? Number.NaN) * 100;
  };

  it('first-order sensitivities: power +1 % shortens the roll by 0.9 % (constant speed: SFTE handbook ch. 12, P^-0.9) and speeds up by 0.33 %', () => {
    const more = { ratedPowerW: airframe.ratedPowerW * 1.01 };
    near(sensitivity(more, {}, 'groundRollChange'), -0.9, 0.15);
    near(sensitivity(more, {}, 'levelTasChange'), 0.33, 0.06);
  });

  it('1 % more mass: roll +2.4 to 2.6 % (SFTE handbook ch. 12) or a little less, as the FAA text has (2.27); climb -1.3 to -2 % (from memory)', () => {
    const heavier = { massKg: airframe.massKg * 1.01 };
    const roll = sensitivity(heavier, {}, 'groundRollChange');
    assert.ok(roll > 2.2 && roll < 2.6, `${roll}`);
    const climb = sensitivity(heavier, {}, 'rateOfClimbChange');
    assert.ok(climb < -1.3 && climb > -2, `${climb}`);
  });

  it('1 % less drag: the roll hardly changes (about -0.1 %), the speed by 0.33 % (cube law, FAA-H-8083-25C ch. 11)', () => {
    const cleaner = { parasiteDragFactor: 0.99 };
    near(sensitivity({}, cleaner, 'groundRollChange'), -0.1, 0.07);
    near(sensitivity({}, cleaner, 'levelTasChange'), 0.33, 0.06);
  });

  it('a greater lift coefficient shortens the roll by no more than 1 % for 1 % and a quarter (V^2 goes with 1/C_L)', () => {
    const result = predictionSpread({ ...input, alteration: { parasiteDragFactor: 1, liftCoefficientFactor: 1.08 } });
    assert.ok(result);
    assert.ok(result.groundRollChange.low > -0.12 && result.groundRollChange.high < 0.005);
    near(result.levelTasChange.value, 0, 1e-9);
  });

  it('the screens go with the roll and the climb: less power costs more of the air distance than of the roll', () => {
    const result = predictionSpread({ ...input, after: { ...airframe, ratedPowerW: airframe.ratedPowerW * 0.9 } });
    const [screen] = result?.screens ?? [];
    assert.ok(result && screen);
    const airBefore = 395 - 170;
    const airAfter = screen.distanceM.value - result.groundRollM.value;
    assert.ok(airAfter / airBefore > result.groundRollM.value / 170, `${airAfter}`);
    near(predictionSpread(input)?.screens[0]?.change.value ?? Number.NaN, 0, 1e-9);
  });

  it('less rolling friction shortens the roll on grass more than on pavement', () => {
    const on = (surface: 'grass' | 'paved'): number =>
      predictionSpread({ ...input, surface, alteration: { ...input.alteration, rollingFrictionFactor: 0.8 } })
        ?.groundRollChange.value ?? Number.NaN;
    assert.ok(on('grass') < on('paved') && on('paved') < 0, `${on('grass')} ${on('paved')}`);
  });

  it('an aeroplane that would not fly is said to be one, not predicted', () => {
    const weak = predictionSpread({ ...input, after: { ...airframe, ratedPowerW: airframe.ratedPowerW * 0.2 } });
    assert.ok(weak === undefined || weak.noFlightShare > 0.025);
    near(predictionSpread(input)?.noFlightShare ?? Number.NaN, 0, 1e-12);
  });
});

describe('prediction: engine and fixed-pitch propeller', () => {
  const unknowns = drawUnknowns(
    Array.from({ length: unknownsTaken }, () => 0.5),
    'grass',
    () => 0,
  );
  const before = { ratedPowerW: 100, propellerDiameterM: 1.9, propellerPitchM: 1.4 };

  it('the same propeller behind 10 % more torque turns 4.9 % faster and pulls 10 % more (n^2 D^4: SFTE handbook ch. 11)', () => {
    const change = fixedPitchChange(before, { ...before, ratedPowerW: 110 }, unknowns);
    near(change.thrustRolling, 1.1, 1e-9);
    near(change.powerRolling, 1.1 ** 1.5, 1e-9);
  });

  it('more pitch turns slower; nothing changed is nothing changed', () => {
    const coarse = fixedPitchChange(before, { ...before, propellerPitchM: 1.5 }, unknowns);
    assert.ok(coarse.powerRolling < 1 && coarse.thrustRolling < 1, JSON.stringify(coarse));
    const same = fixedPitchChange(before, before, unknowns);
    near(same.thrustRolling, 1, 1e-12);
    near(same.thrustClimbing, 1, 1e-12);
  });
});
