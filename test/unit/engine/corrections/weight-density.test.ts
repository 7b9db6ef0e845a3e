import assert from 'node:assert/strict';
import {
  densityKgM3,
  pressureAtPressureAltitudePa,
  seaLevelDensityKgM3,
} from '../../../../src/engine/atmosphere/index.ts';
import { densityFactor, uncertain, weightFactor } from '../../../../src/engine/corrections/index.ts';
import { near } from '../../../tools/near.ts';

const poundKg = 0.45359237;
const exact = (value: number) => uncertain(value, 0);
const sigma = (pressureAltitudeFt: number, celsius: number): number =>
  densityKgM3({
    pressurePa: pressureAtPressureAltitudePa(pressureAltitudeFt * 0.3048),
    temperatureK: celsius + 273.15,
  }) / seaLevelDensityKgM3;

/**
 * Ground roll, ft, 2,400 lb, short field, flaps 10 degrees, paved, level, no wind: FAA-H-8083-25C fig. 11-24. By temperature (degrees C), pressure
 * altitude in thousands of feet.
 */
const table: readonly (readonly [number, readonly (readonly [number, number])[]])[] = [
  [
    0,
    [
      [3, 1055],
      [4, 1165],
      [5, 1285],
      [6, 1425],
      [7, 1580],
      [8, 1755],
    ],
  ],
  [
    10,
    [
      [2, 1035],
      [3, 1140],
      [4, 1260],
      [5, 1390],
      [6, 1540],
      [7, 1710],
      [8, 1905],
    ],
  ],
  [
    20,
    [
      [1, 1015],
      [2, 1115],
      [3, 1230],
      [4, 1355],
      [5, 1500],
      [6, 1665],
      [7, 1850],
      [8, 2060],
    ],
  ],
  [
    30,
    [
      [1, 1090],
      [2, 1200],
      [3, 1325],
      [4, 1465],
      [5, 1620],
      [6, 1800],
      [7, 2000],
    ],
  ],
  [
    40,
    [
      [0, 1065],
      [1, 1170],
      [2, 1290],
      [3, 1425],
      [4, 1575],
      [5, 1745],
      [6, 1940],
    ],
  ],
];
/** Totals over 50 ft of the same table, ft, from sea level upward. */
const totals: Readonly<Record<number, readonly number[]>> = {
  0: [1460, 1605, 1770, 1960, 2185, 2445, 2755, 3140, 3615],
  10: [1570, 1725, 1910, 2120, 2365, 2660, 3015, 3450, 4015],
  20: [1685, 1860, 2060, 2295, 2570, 2895, 3300, 3805, 4480],
  30: [1810, 2000, 2220, 2480, 2790, 3160, 3620, 4220],
  40: [1945, 2155, 2395, 2685, 3030, 3455, 3990],
};

const fixed = { part: 'ground-roll', propeller: 'fixed-pitch', turbocharged: false } as const;
const slopeOf = (points: readonly (readonly [number, number])[]): number => {
  const meanX = points.reduce((sum, [x]) => sum + x, 0) / points.length;
  const meanY = points.reduce((sum, [, y]) => sum + y, 0) / points.length;
  const xy = points.reduce((sum, [x, y]) => sum + (x - meanX) * (y - meanY), 0);
  return xy / points.reduce((sum, [x]) => sum + (x - meanX) ** 2, 0);
};

describe('weight', () => {
  it('has exponents within the spread of the FAA example table', () => {
    const rolls: readonly (readonly [number, number])[] = [
      [2400, 2060],
      [2200, 1650],
      [2000, 1310],
    ];
    const between = (i: number, j: number): number =>
      Math.log(rolls[i][1] / rolls[j][1]) / Math.log(rolls[i][0] / rolls[j][0]);
    near(between(0, 1), 2.55, 0.01);
    near(between(1, 2), 2.42, 0.01);
    near(between(0, 2), 2.48, 0.01);
    const massKg = exact(2200 * poundKg);
    for (const propeller of ['fixed-pitch', 'constant-speed'] as const) {
      const weight = weightFactor({ part: 'ground-roll', propeller, massKg, referenceMassKg: 2400 * poundKg });
      // The table is met within two standard deviations of the exponent.
      near(Math.log(1650 * (weight.factor ?? Number.NaN)), Math.log(2060), 2 * weight.modelRelativeSigma);
    }
  });

  it('lengthens a roll by 21 to 30 % for 10 % of weight (FAA-H-8083-25C ch. 11), and 1.1^2.4, 1.1^2.6', () => {
    const ten = (propeller: 'fixed-pitch' | 'constant-speed'): number =>
      weightFactor({ part: 'ground-roll', propeller, massKg: exact(1000), referenceMassKg: 1100 }).factor ?? Number.NaN;
    near(ten('fixed-pitch'), 1.257, 5e-4);
    near(ten('constant-speed'), 1.281, 5e-4);
    for (const propeller of ['fixed-pitch', 'constant-speed'] as const) {
      assert.ok(ten(propeller) >= 1.21 - 0.005 && ten(propeller) <= 1.305);
    }
    // Lift-off speed goes with the root of the weight (21 % of weight: 10 % of speed), and a distance at one acceleration with its square.
    near(Math.sqrt(1.21), 1.1, 1e-12);
    near(1.1 ** 2, 1.21, 1e-12);
  });

  it('marks more than 10 % of mass, and carries the error of the note', () => {
    const far = weightFactor({ ...fixed, massKg: uncertain(700, 7), referenceMassKg: 800 });
    assert.equal(far.valid, false);
    assert.match(far.warning ?? '', /hold within about 10 %/);
    near(far.notedRelativeSigma, 0.024, 1e-4);
    assert.throws(() => weightFactor({ ...fixed, massKg: exact(0), referenceMassKg: 800 }), RangeError);
  });
});

describe('density', () => {
  it('agrees with the FAA example table within its own uncertainty: fitted exponent -2.65 (fig. 11-24, 35 cells)', () => {
    const points = table.flatMap(([celsius, row]) =>
      row.map(([thousands, roll]) => [Math.log(sigma(1000 * thousands, celsius)), Math.log(roll)] as const),
    );
    assert.equal(points.length, 35);
    const exponent = slopeOf(points);
    near(exponent, -2.65, 0.02);
    near(exponent, -2.4, 0.3);
  });

  it('shows that exponents fail for the distance through the air: -3.76 in the same table against -2.2', () => {
    const points = table.flatMap(([celsius, row]) =>
      row.map(
        ([thousands, roll]) =>
          [Math.log(sigma(1000 * thousands, celsius)), Math.log(totals[celsius][thousands] - roll)] as const,
      ),
    );
    near(slopeOf(points), -3.76, 0.05);
    const air = densityFactor({
      ...fixed,
      part: 'air-distance',
      densityRatio: exact(0.92),
      referenceDensityRatio: 1,
    });
    assert.match(air.warning ?? '', /should be measured near the reference/);
    near(air.modelRelativeSigma, 0.8 * Math.log(1 / 0.92), 1e-6);
    // Between the two published values, by what climbs lose; both lie within one and a half standard deviations.
    const exponentOf = (factor: number | undefined): number => Math.log(factor ?? 1) / Math.log(1 / 0.92);
    near(exponentOf(air.factor), -3.2, 0.01);
    assert.ok(exponentOf(air.factor) < -2.2 && exponentOf(air.factor) > -3.76);
    const constantSpeed = densityFactor({
      ...fixed,
      propeller: 'constant-speed',
      part: 'air-distance',
      densityRatio: exact(0.92),
      referenceDensityRatio: 1,
    });
    near(exponentOf(constantSpeed.factor), -3.2, 0.1);
  });

  it('reduces cells of the table to 2,000 ft: near is good, far is not (computed independently, table 1,115 ft)', () => {
    const to2000 = (feet: number, roll: number): number =>
      roll *
      (densityFactor({ ...fixed, densityRatio: exact(sigma(feet, 20)), referenceDensityRatio: sigma(2000, 20) })
        .factor ?? Number.NaN);
    near(to2000(4000, 1355), 1135, 1);
    near(to2000(8000, 2060), 1202, 1);
    assert.ok(Math.abs(to2000(4000, 1355) / 1115 - 1) < 0.02);
    const far = densityFactor({
      ...fixed,
      densityRatio: exact(sigma(8000, 20)),
      referenceDensityRatio: sigma(2000, 20),
    });
    assert.equal(far.valid, false);
    // Within two standard deviations of the exponent all the same.
    near(Math.log(to2000(8000, 2060)), Math.log(1115), 2 * far.modelRelativeSigma);
  });

  it('interpolates the table as its text does: 2,500 ft between 1,115 and 1,230 ft is 1,173 ft', () => {
    const [low, high] = [2000, 3000].map(
      (feet) => (table[2][1].find(([thousands]) => thousands * 1000 === feet) ?? [0, 0])[1],
    );
    near((low + high) / 2, 1172.5, 0.5);
  });

  it('knows the kinds of propeller and engine (computed independently at sigma 0.78602)', () => {
    const at = (kind: Partial<{ propeller: 'fixed-pitch' | 'constant-speed'; turbocharged: boolean }>): number =>
      1 /
      (densityFactor({ ...fixed, ...kind, densityRatio: exact(0.78602), referenceDensityRatio: 1 }).factor ??
        Number.NaN);
    near(at({ propeller: 'constant-speed' }), 1.933, 1e-4);
    near(at({ propeller: 'constant-speed', turbocharged: true }), 1.5058, 1e-4);
    near(at({}), 1.7822, 1e-4);
    near(Math.log(at({ propeller: 'constant-speed' })) / Math.log(0.78602), -2.737, 1e-3);
  });

  it('refuses what is no density', () => {
    assert.throws(() => densityFactor({ ...fixed, densityRatio: exact(0), referenceDensityRatio: 1 }), RangeError);
  });
});
