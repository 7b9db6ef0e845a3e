import assert from 'node:assert/strict';
import { geometricRateFactor, standardAtmosphere } from '../../../../src/engine/atmosphere/index.ts';
import {
  accelerationFactor,
  climbAngleRad,
  climbDensityAddend,
  climbGradient,
  climbLapsePerM,
  climbTemperaturePowerAddend,
  climbWeightAddend,
  generalisedPowerW,
  generalisedRateMps,
  generalisedSpeedMps,
  rateForGradientMps,
  specificExcessPowerMps,
  uncertain,
  windGradientRateMps,
} from '../../../../src/engine/corrections/index.ts';
import { near } from '../../../tools/near.ts';

const footM = 0.3048;
const fpm = footM / 60;
const knotMps = 1852 / 3600;
const poundKg = 0.45359237;
const horsepowerW = 745.69987;
const exact = (value: number) => uncertain(value, 0);

/** Methods of the flight-test reference handbook (SFTE, 2013) ch. 12; values computed independently. */
describe('corrections of a climb', () => {
  it('counts gained speed as climb', () => {
    near(specificExcessPowerMps(0, 80 * knotMps, 0.5 * knotMps) / fpm, 212.5, 0.1);
  });

  it('knows the acceleration in a climb at constant indicated speed', () => {
    near(accelerationFactor(75 * knotMps, 3000 * footM), 0.00813, 1e-4);
  });

  it('takes a climb to standard weight and standard day step by step', () => {
    const heightM = 3000 * footM;
    const temperatureK = 24 + 273.15;
    let rate = 650 * fpm * geometricRateFactor(heightM, temperatureK);
    near(rate / fpm, 684.4, 0.5, 'tape-line rate');
    const power = climbTemperaturePowerAddend({
      rateMps: rate,
      massKg: 2200 * poundKg,
      standardPowerW: 140 * horsepowerW,
      efficiency: exact(0.7),
      temperatureK: exact(temperatureK),
      standardTemperatureK: standardAtmosphere(heightM).temperatureK,
    });
    near((power.addend ?? 0) / fpm, 37.4, 0.5, 'power');
    rate += power.addend ?? 0;
    // The power step has gone to the standard day, so the drag step is there too, at the same dynamic pressure.
    const air = standardAtmosphere(heightM);
    const trueAirspeedMps = (75 * knotMps) / Math.sqrt(air.densityRatio);
    const weight = climbWeightAddend({
      rateMps: rate,
      massKg: exact(2200 * poundKg),
      referenceMassKg: 2400 * poundKg,
      polar: {
        aspectRatio: 7.4,
        wingAreaM2: 174 * footM ** 2,
        densityKgM3: air.densityKgM3,
        trueAirspeedMps,
        oswaldFactor: exact(0.75),
      },
    });
    near((rate * 2200) / 2400 / fpm, 661.7, 0.5, 'inertia');
    near((rate + (weight.addend ?? 0)) / fpm, 609, 0.5, 'with induced drag');
  });

  it('without the wing stays within its own uncertainty of the full form', () => {
    const simple = climbWeightAddend({
      rateMps: 721.8 * fpm,
      massKg: exact(2200 * poundKg),
      referenceMassKg: 2400 * poundKg,
    });
    const corrected = 721.8 * fpm + (simple.addend ?? 0);
    near(corrected / fpm, 609, (2 * simple.modelRelativeSigma * corrected) / fpm);
  });

  it('has the inertia rule exact: 500 ft/min at 1,000 lb is 400 at 1,250 lb, less induced drag', () => {
    const polar = { aspectRatio: 1e12, wingAreaM2: 16, densityKgM3: 1.2, trueAirspeedMps: 35 };
    const addend = climbWeightAddend({ rateMps: 500 * fpm, massKg: exact(1000), referenceMassKg: 1250, polar });
    near((500 * fpm + (addend.addend ?? 0)) / fpm, 400, 1e-6);
    assert.equal(addend.valid, false, '25 % is too far');
  });

  it('generalises weight and altitude', () => {
    const at = { massKg: 2250 * poundKg, referenceMassKg: 2400 * poundKg, densityRatio: 0.86167 };
    near(generalisedPowerW(104 * horsepowerW, at) / horsepowerW, 106.35, 0.01);
    near(generalisedSpeedMps(112 * knotMps * Math.sqrt(0.86167), at) / knotMps, 107.37, 0.01);
    // Rate is power over weight, so CIW = PIW / W_s.
    const rate = (104 * horsepowerW) / (at.massKg * 9.80665);
    near(generalisedRateMps(rate, at), generalisedPowerW(104 * horsepowerW, at) / (at.referenceMassKg * 9.80665), 1e-9);
  });

  it('adds what a headwind growing with height fakes', () => {
    // 75 kt, 5 kt of headwind more in 1,000 ft, 700 ft/min.
    near(windGradientRateMps(75 * knotMps, (5 * knotMps) / (1000 * footM), 700 * fpm) / fpm, 23.2, 0.1);
  });

  it('moves a rate along a line of density altitude', () => {
    const moved = climbDensityAddend({
      rateMps: 4,
      densityAltitudeM: uncertain(1000, 30),
      referenceDensityAltitudeM: 0,
      lapsePerM: uncertain(-0.0008, 0.00016),
    });
    near(moved.addend ?? 0, 0.8, 1e-12);
    near(moved.relativeSigma, Math.hypot(0.024, 0.16) / 4.8, 1e-9);
    const far = climbDensityAddend({
      rateMps: 4,
      densityAltitudeM: exact(0),
      referenceDensityAltitudeM: 3000,
      lapsePerM: exact(-0.001),
    });
    assert.equal(far.valid, false);
  });

  it('estimates the lapse of a normally aspirated aeroplane from its power', () => {
    // The derivative is that of the formula itself, by small steps of height.
    const climb = { massKg: 1000, ratedPowerW: 100_000, efficiency: 0.7 };
    const availableMps = (0.7 * 100_000) / 9806.65;
    const rateAt = (heightM: number): number => {
      const { densityRatio } = standardAtmosphere(heightM);
      const sinkAtSeaLevel = 3.2;
      return availableMps * (1.1324 * densityRatio - 0.1324) - sinkAtSeaLevel / Math.sqrt(densityRatio);
    };
    const { densityRatio } = standardAtmosphere(1000);
    const lapse = climbLapsePerM({ ...climb, rateMps: rateAt(1000), densityRatio });
    near(lapse.value, (rateAt(1001) - rateAt(999)) / 2, 1e-6);
    near(lapse.sigma, 0.2 * Math.abs(lapse.value), 1e-12);
  });

  it('turns rates into gradients and back', () => {
    const nauticalMileFt = 1852 / footM;
    const gradient = climbGradient(700 * fpm, 75 * knotMps);
    near(gradient * nauticalMileFt, 560, 0.01);
    near(100 * gradient, 9.216, 0.001);
    near((climbAngleRad(gradient) * 180) / Math.PI, 5.266, 0.001);
    near((100 * 200) / nauticalMileFt, 3.292, 0.001);
    // FAA-H-8083-16B: 200, 300 and 425 ft/NM at 120, 90 and 160 kt are 400, 450 and 1,133.3 ft/min.
    for (const [feet, knots, rate] of [
      [200, 120, 400],
      [300, 90, 450],
      [425, 160, 1133.3],
    ]) {
      near(rateForGradientMps(feet / nauticalMileFt, knots * knotMps) / fpm, rate, 0.1);
    }
  });

  it('knows that the steeper climb need not be the faster one (FAA-H-8083-25C ch. 11)', () => {
    // A: 1,000 ft over 3,000 ft of ground in 30 s; B: 1,500 ft over 6,000 ft in 30 s.
    const [a, b] = [
      { rate: 1000 / 30, speed: 3000 / 30 },
      { rate: 1500 / 30, speed: 6000 / 30 },
    ];
    near(100 * climbGradient(a.rate, a.speed), 33.3, 0.05);
    near(100 * climbGradient(b.rate, b.speed), 25, 1e-9);
    near(60 * a.rate, 2000, 1e-9);
    near(60 * b.rate, 3000, 1e-9);
    assert.throws(() => climbGradient(1, 0), RangeError);
  });
});
