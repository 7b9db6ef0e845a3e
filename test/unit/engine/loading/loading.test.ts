import assert from 'node:assert/strict';
import {
  balance,
  ballastMass,
  changeEquipment,
  checkEnvelope,
  loadedCases,
  massToShift,
  percentMac,
  weighing,
  type MassPoint,
} from '../../../../src/engine/loading/index.ts';

const KG = 0.45359237;
const M = 0.0254;

/** Handbook examples are in pounds and inches; the engine works in kilograms and metres. */
const points = (rows: readonly (readonly [number, number])[]): MassPoint[] =>
  rows.map(([lb, inch], index) => ({ name: `row ${index + 1}`, massKg: lb * KG, armM: inch * M }));
const near = (actual: number, expected: number, tolerance: number) =>
  assert.ok(Math.abs(actual - expected) <= tolerance, `${actual} is not within ${tolerance} of ${expected}`);

describe('loading: handbook worked examples', () => {
  it('FAA-H-8083-25C fig. 10-5: 3,320 lb, 281,430 lb-in, CG 84.8 in', () => {
    const total = balance(
      points([
        [2100, 78.3],
        [340, 85],
        [350, 121],
        [450, 75],
        [80, 150],
      ]),
    );
    near(total.massKg / KG, 3320, 1e-9);
    near(total.momentKgM / KG / M, 281430, 1e-6);
    near(total.cgM / M, 84.8, 0.05);
  });

  it('FAA-H-8083-25C fig. 10-10 (negative arm, printed empty moment): 1,648.9 lb, 122,086 lb-in, CG 74.0 in', () => {
    const total = balance(
      points([
        [1011.9, 69393 / 1011.9],
        [11, -31],
        [108, 84],
        [108, 84],
        [170, 81],
        [170, 81],
        [70, 105],
      ]),
    );
    near(total.massKg / KG, 1648.9, 1e-9);
    near(total.momentKgM / KG / M, 122086, 0.5);
    near(total.cgM / M, 74.0, 0.05);
  });

  it('FAA-H-8083-25C ch. 10: 100 lb from station 30 to 150 at 8,000 lb moves the CG from 77 to 78.5 in', () => {
    const total = balance([
      ...points([
        [8000, 77],
        [-100, 30],
        [100, 150],
      ]),
    ]);
    near(total.cgM / M, 78.5, 1e-9);
  });

  it('FAA-H-8083-25C ch. 10: 7,800 lb, CG from 81.5 to 80.5 in, from 150 to 30: move 65 lb', () => {
    near(massToShift(7800 * KG, -1 * M, 150 * M, 30 * M) / KG, 65, 1e-9);
  });

  it('FAA-H-8083-25C ch. 10: adding and removing: CG 81.4 in at 7,000 lb; 78.8 in at 6,000 lb', () => {
    near(
      balance(
        points([
          [6860, 80],
          [140, 150],
        ]),
      ).cgM / M,
      81.4,
      0.05,
    );
    near(
      balance(
        points([
          [6100, 80],
          [-100, 150],
        ]),
      ).cgM / M,
      78.8,
      0.05,
    );
  });

  it('FAA-H-8083-30B figs 6-38 and 6-39, equipment change: 2,327.5 lb, 55,925.8 lb-in, CG 24.03 in', () => {
    const [empty, ...rest] = points([
      [2350, 24.7],
      [5.8, -28],
      [7.3, -26],
      [2.8, 105],
      [1.4, 75],
      [3.0, -28],
      [34, 60],
    ]);
    const changed = changeEquipment(empty, { installed: rest.slice(0, 3), removed: rest.slice(3) });
    near(changed.after.massKg / KG, 2327.5, 1e-6);
    near(changed.after.momentKgM / KG / M, 55925.8, 0.05);
    near(changed.after.cgM / M, 24.03, 0.005);
    near(changed.massChangeKg / KG, -22.5, 1e-6);
    near(changed.cgChangeM / M, -0.67, 0.005);
    assert.equal(changed.negligible, false);
  });

  it('FAA-H-8083-30B fig. 6-34, loaded twin: 4,225 lb and 96.42 in exceed 4,200 lb and 94.6 in', () => {
    const total = balance(
      points([
        [2650, 86.8],
        [180, 85.5],
        [160, 118.1],
        [210, 118.1],
        [190, 118.1],
        [205, 155.7],
        [50, 22.5],
        [100, 178.7],
        [480, 93.6],
      ]),
    );
    near(total.massKg / KG, 4225, 1e-6);
    near(total.cgM / M, 96.42, 0.005);
    const envelope = [
      { cgM: 83 * M, massKg: 2600 * KG },
      { cgM: 83 * M, massKg: 4200 * KG },
      { cgM: 94.6 * M, massKg: 4200 * KG },
      { cgM: 94.6 * M, massKg: 2600 * KG },
    ];
    const check = checkEnvelope(envelope, total.massKg, total.cgM);
    assert.equal(check.inside, false);
    near(check.massMarginKg / KG, -25, 1e-6);
  });

  it('FAA-H-8083-30B fig. 6-37, aft check: 3,034 lb, 302,060.5 lb-in, behind the 99 in limit', () => {
    const total = balance(
      points([
        [1850, 92.45],
        [170, 88],
        [340, 105],
        [340, 125],
        [100, 140],
        [234, 102],
      ]),
    );
    near(total.massKg / KG, 3034, 1e-6);
    near(total.momentKgM / KG / M, 302060.5, 2.1); // the printed moments are rounded line by line
    near(total.cgM / M, 99.56, 0.05);
    assert.ok(total.cgM / M > 99);
  });

  it('FAA-H-8083-30B figs 6-40 and 6-41, ballast: 46.68 lb, so 47 lb give 98.96 in', () => {
    near(ballastMass(3034 * KG, 99.6 * M, 99 * M, 60 * M) / KG, 46.68, 0.01);
    near(
      balance(
        points([
          [3034, 99.56],
          [47, 60],
        ]),
      ).cgM / M,
      98.96,
      0.01,
    );
  });

  it('FAA-H-8083-30B ch. 6, permanent ballast: 1,876 lb, 0.8 in, station 228 against 33: 7.7 lb', () => {
    near(ballastMass(1876 * KG, 32.2 * M, 33 * M, 228 * M) / KG, 7.696, 0.05);
  });

  it('FAA-H-8083-1B fig. 3-5, three scales (second-hand): 2,006 lb, 65,756 lb-in, CG 32.8 in', () => {
    const total = weighing([
      { wheel: 'left main', netKg: 830 * KG, armM: 46 * M },
      { wheel: 'right main', netKg: 836 * KG, armM: 46 * M },
      { wheel: 'nose', netKg: 340 * KG, armM: -32 * M },
    ]);
    near(total.massKg / KG, 2006, 1e-6);
    near(total.momentKgM / KG / M, 65756, 1e-6);
    near(total.cgM / M, 32.8, 0.05);
  });

  it('FAA-H-8083-1B fig. 3-19 (second-hand): CG 161, LEMAC 144, MAC 62 is 27.4 % MAC', () => {
    near(percentMac(161 * M, 144 * M, 62 * M), 27.4, 0.05);
  });

  it('FAA-H-8083-25C ch. 10 after AC 43.13-1: 1 lb on an aeroplane under 5,000 lb is negligible, 2 lb is not', () => {
    const empty: MassPoint = { name: 'empty', massKg: 1500 * KG, armM: 1 };
    const item = (lb: number): MassPoint => ({ name: 'bracket', massKg: lb * KG, armM: 1 });
    assert.equal(changeEquipment(empty, { installed: [item(1)], removed: [] }).negligible, true);
    assert.equal(changeEquipment(empty, { installed: [item(2)], removed: [] }).negligible, false);
  });
});

describe('loading: cases and uncertainty', () => {
  const stations = {
    seats: { name: 'seats', armM: 0.5, maximumKg: 200, fuel: false },
    baggage: { name: 'baggage', armM: 1.2, maximumKg: 30, fuel: false },
    tank: { name: 'tank', armM: 0.64, maximumKg: 86, fuel: true },
  };
  const envelope = [
    { cgM: 0.35, massKg: 500 },
    { cgM: 0.35, massKg: 850 },
    { cgM: 0.6, massKg: 850 },
    { cgM: 0.6, massKg: 500 },
  ];
  const input = {
    empty: { name: 'empty', massKg: 528, armM: 0.418 },
    loads: [
      { station: stations.seats, massKg: 160 },
      { station: stations.baggage, massKg: 10 },
      { station: stations.tank, massKg: 80 },
    ],
    fuelBurntKg: 50,
    envelope,
    maximumMassKg: 850,
    pilotStation: 'seats',
    lightestPilotKg: 60,
  };

  it('fuel burnt comes off the tanks and moves the CG towards what is left', () => {
    const cases = loadedCases(input);
    const takeoff = cases.find((one) => one.name === 'take-off');
    const landing = cases.find((one) => one.name === 'landing');
    const empty = cases.find((one) => one.name === 'zero fuel');
    assert.ok(takeoff && landing && empty);
    near(takeoff.balance.massKg - landing.balance.massKg, 50, 1e-9);
    near(takeoff.balance.massKg - empty.balance.massKg, 80, 1e-9);
    assert.ok(landing.balance.cgM < takeoff.balance.cgM, 'the tank lies behind the CG');
  });

  it('says where there is no fuel, where more is burnt than there is, and at which place too much lies', () => {
    const remarks = (changes: Partial<typeof input>, name: string): readonly string[] =>
      loadedCases({ ...input, ...changes }).find((one) => one.name === name)?.remarks ?? [];
    const dry = input.loads.map((load) => (load.station.fuel ? { ...load, massKg: 0 } : load));
    assert.ok(remarks({ loads: dry, fuelBurntKg: 0 }, 'take-off').includes('no fuel on board'));
    assert.ok(remarks({ fuelBurntKg: 90 }, 'landing').includes('more fuel is burnt than is on board'));
    assert.ok(!remarks({}, 'landing').some((remark) => remark.includes('burnt')));
    const heavy = input.loads.map((load) => (load.station.name === 'baggage' ? { ...load, massKg: 31 } : load));
    assert.ok(remarks({ loads: heavy }, 'take-off').includes('more than the limit at baggage'));
    const nobody = input.loads.map((load) => (load.station.name === 'seats' ? { ...load, massKg: 0 } : load));
    assert.ok(remarks({ loads: nobody }, 'take-off').includes('nobody in the place of the pilot'));
    const aft = loadedCases({ ...input, loads: nobody }).find((one) => one.name === 'most aft');
    assert.ok((aft?.loads.find(({ name }) => name === 'seats')?.massKg ?? 0) >= 60, 'the lightest pilot flies');
  });

  it('the adverse aft case is at least as far aft as every random allowed loading', () => {
    const aft = loadedCases(input).find((one) => one.name === 'most aft');
    assert.ok(aft);
    let seed = 7;
    const random = () => {
      seed = (seed * 48271) % 2147483647;
      return seed / 2147483647;
    };
    for (let trial = 0; trial < 500; trial += 1) {
      const seats = 60 + random() * 140;
      const total = balance([
        input.empty,
        { name: 'seats', massKg: seats, armM: 0.5 },
        { name: 'baggage', massKg: random() * 30, armM: 1.2 },
        { name: 'tank', massKg: random() * 86, armM: 0.64 },
      ]);
      if (total.massKg > 850) continue;
      assert.ok(total.cgM <= aft.balance.cgM + 1e-9, `${total.cgM} is further aft than ${aft.balance.cgM}`);
    }
  });

  it('the uncertainty of the CG equals the spread of a Monte Carlo', () => {
    const parts: MassPoint[] = [
      { name: 'empty', massKg: 528, armM: 0.418, massSigmaKg: 3, armSigmaM: 0.004 },
      { name: 'seats', massKg: 160, armM: 0.5, massSigmaKg: 6, armSigmaM: 0.03 },
      { name: 'baggage', massKg: 10, armM: 1.2, massSigmaKg: 2 },
    ];
    let seed = 11;
    const uniform = () => {
      seed = (seed * 48271) % 2147483647;
      return seed / 2147483647;
    };
    const normal = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
    const draws = Array.from(
      { length: 20000 },
      () =>
        balance(
          parts.map((part) => ({
            name: part.name,
            massKg: part.massKg + (part.massSigmaKg ?? 0) * normal(),
            armM: part.armM + (part.armSigmaM ?? 0) * normal(),
          })),
        ).cgM,
    );
    const mean = draws.reduce((sum, value) => sum + value, 0) / draws.length;
    const sigma = Math.sqrt(draws.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (draws.length - 1));
    near(balance(parts).cgSigmaM / sigma, 1, 0.03); // sampling error of a standard deviation from 20,000 draws: 0.5 %
  });

  it('a CG nearer to a limit than its uncertainty is marked', () => {
    const close = loadedCases({
      ...input,
      empty: { ...input.empty, massSigmaKg: 5, armSigmaM: 0.02 },
      envelope: [
        { cgM: 0.35, massKg: 500 },
        { cgM: 0.35, massKg: 850 },
        { cgM: 0.48, massKg: 850 },
        { cgM: 0.48, massKg: 500 },
      ],
    }).find((one) => one.name === 'take-off');
    assert.ok(close?.check?.inside);
    assert.ok(close.remarks.some((remark) => remark.includes('weigh')));
  });

  it('refuses a negative mass in a list and an empty envelope', () => {
    assert.throws(
      () =>
        changeEquipment(
          { name: 'e', massKg: 500, armM: 0 },
          { removed: [{ name: 'x', massKg: -1, armM: 0 }], installed: [] },
        ),
      /x: the mass must not be negative/,
    );
    assert.throws(() => checkEnvelope([], 1, 1), /three corners/);
    assert.throws(() => balance([]), /positive/);
  });
});
