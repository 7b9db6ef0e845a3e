import assert from 'node:assert/strict';
import {
  answerMissions,
  answerStrip,
  type MeasuredPerformance,
  type StripNeed,
} from '../../../../src/engine/missions/index.ts';

const performance: MeasuredPerformance = {
  configuration: 'as it is',
  propeller: 'fixed-pitch',
  turbocharged: false,
  emptyMassKg: 530,
  maximumMassKg: 850,
  usableFuelM3: 0.12,
  fuelDensityKgM3: 720,
  takeoff: {
    groundRollM: { value: 170, sigma: 4, scatter: 12, df: 8 },
    distanceM: { value: 400, sigma: 9, scatter: 22, df: 8 },
    screenHeightM: 15.24,
    liftoffTasMps: 23.7,
    massKg: 790,
    densityRatio: 1,
    densityRatioSeen: [0.94, 1.03],
    surface: { kind: 'grass', wet: false, soft: false },
  },
  climb: {
    rateAt: (heightM) => ({ value: 4 - heightM / 1000, sigma: 0.15 }),
    df: 10,
    seenM: [300, 2000],
    massKg: 790,
  },
  cruise: [
    {
      setting: '2450 rpm',
      trueAirspeedMps: { value: 48, sigma: 0.4 },
      fuelFlowM3ps: { value: 0.025 / 3600, sigma: 0.0004 / 3600 },
    },
  ],
};

const strip: StripNeed = {
  kind: 'strip',
  name: 'river bar',
  availableM: 900,
  obstacleHeightM: 15.24,
  densityRatio: 1,
  slope: 0,
  surface: { kind: 'grass', wet: false, soft: false },
  headwindMps: 0,
  massKg: 790,
};
const ask = (changes: Partial<StripNeed>) => answerStrip({ ...strip, ...changes }, performance);

describe('missions: a strip with an obstacle', () => {
  it('plenty of room is yes, far too little is no, what the interval straddles is not enough data', () => {
    assert.equal(ask({}).answer, 'yes');
    assert.equal(ask({ availableM: 450 }).answer, 'no');
    assert.equal(ask({ availableM: 560 }).answer, 'not enough data');
  });

  it('the safety factor of 1.33 (UK CAA SafetySense leaflet 7, second-hand) is applied and shown', () => {
    const answer = ask({});
    assert.ok(answer.factors.some((factor) => factor.factor === 1.33));
    assert.ok(answer.takes && answer.margin !== undefined);
    assert.ok(answer.margin < 900 - 1.33 * answer.takes.high + 1e-9, 'the scatter of single take-offs counts too');
  });

  it('half of a headwind, one and a half times a tailwind (CAT.POL.A.400(d)(5))', () => {
    const factor = (headwindMps: number) =>
      ask({ headwindMps }).factors.find((one) => one.name.startsWith('wind'))?.factor ?? Number.NaN;
    const share = 170 / 400;
    const still = (credited: number) => share * (1 - credited / 23.7) ** 1.85 + (1 - share) * (1 - credited / 26.07);
    assert.ok(Math.abs(factor(4) - still(2)) < 1e-12);
    assert.ok(Math.abs(factor(-4) - still(-6)) < 1e-12);
  });

  it('FAA-H-8083-25C fig. 11-24: sea level to 6,000 ft at 20 degC grows the total by 1.96; the factor is within 12 %', () => {
    const sigma = (feet: number, celsius: number) =>
      ((1 - 6.8755856e-6 * feet) ** 5.25588 * 288.15) / (celsius + 273.15);
    const factor = ask({ densityRatio: sigma(6000, 20) / sigma(0, 20) }).factors[0].factor;
    assert.ok(Math.abs(factor / (3300 / 1685) - 1) < 0.12, `${factor} against ${3300 / 1685}`);
  });

  it('wet grass after dry grass is 1.3 over 1.2; pavement gives no credit; an unknown surface is not guessed', () => {
    const surface = (kind: 'grass' | 'paved', wet: boolean) => ask({ surface: { kind, wet, soft: false } }).factors;
    assert.ok(surface('grass', true).some((one) => one.name === 'surface' && Math.abs(one.factor - 1.3 / 1.2) < 1e-12));
    assert.ok(!surface('paved', false).some((one) => one.name === 'surface'));
    assert.equal(ask({ surface: undefined }).answer, 'not enough data');
    assert.equal(ask({ surface: { kind: 'gravel', wet: false, soft: false } }).answer, 'not enough data');
  });

  it('too thin air, too heavy, another obstacle height, unknown mass: never a yes', () => {
    assert.notEqual(ask({ densityRatio: 0.8, availableM: 3000 }).answer, 'yes');
    assert.equal(ask({ massKg: 900 }).answer, 'no');
    assert.equal(ask({ obstacleHeightM: 30.48 }).answer, 'not enough data');
    assert.equal(ask({ massKg: undefined }).answer, 'not enough data');
    assert.notEqual(ask({ massKg: 600, availableM: 3000 }).answer, 'yes');
  });

  it('an upslope as steep as the aeroplane accelerates is no', () => {
    assert.equal(ask({ slope: 0.2 }).answer, 'no');
    assert.ok((ask({ slope: 0.02 }).takes?.value ?? 0) > (ask({}).takes?.value ?? 0));
    assert.equal(ask({ slope: -0.02 }).takes?.value, ask({}).takes?.value);
  });

  it('no factor is less than the published one: weight, 10 degrees, 2 % uphill, tailwind (UK CAA SafetySense leaflet 7, second-hand; CAT.POL.A.305 AMC2)', () => {
    const still = ask({}).takes?.value ?? Number.NaN;
    const ratio = (changes: Partial<StripNeed>): number => (ask(changes).takes?.value ?? Number.NaN) / still;
    const unlimited = { ...performance, maximumMassKg: undefined };
    assert.ok((answerStrip({ ...strip, massKg: 869 }, unlimited).takes?.value ?? 0) / still >= 1.2);
    assert.ok(ratio({ densityRatio: 288.15 / 298.15 }) >= 1.1);
    assert.ok(ratio({ slope: 0.02 }) >= 1.1);
    // A tailwind of a tenth of the lift-off speed.
    assert.ok(ratio({ headwindMps: -2.37 }) >= 1.2);
  });

  it('uphill the obstacle stands on rising ground: the air distance grows by the rise that has to be gained as well (geometry)', () => {
    const slope = 0.01;
    const acceleration = 23.7 ** 2 / (2 * 170);
    const roll = 170 * (acceleration / (acceleration - 9.80665 * slope));
    const air = 230 / (1 - slope / (15.24 / 230));
    const takes = ask({ slope }).takes?.value ?? Number.NaN;
    assert.ok(Math.abs(takes - Math.max(roll + air, 1.05 * 400)) < 1e-9, `${takes}`);
    assert.equal(ask({ slope: 0.07 }).answer, 'no');
    assert.notEqual(ask({ slope: 0.055, availableM: 5000 }).answer, 'yes');
  });

  it('takes the distance to the height asked about, or to a greater one; never to a lesser', () => {
    const higher = { heightM: 30.48, distanceM: { value: 520, sigma: 10, scatter: 25, df: 8 } };
    const both: MeasuredPerformance = {
      ...performance,
      takeoff: performance.takeoff && { ...performance.takeoff, otherScreens: [higher] },
    };
    assert.equal(answerStrip({ ...strip, obstacleHeightM: 30.48 }, both).takes?.value, 520);
    assert.equal(answerStrip(strip, both).takes?.value, 400);
    const between = answerStrip({ ...strip, obstacleHeightM: 20 }, both);
    assert.equal(between.takes?.value, 520);
    assert.ok(between.why.some((sentence) => sentence.includes('greater height')));
    assert.equal(answerStrip({ ...strip, obstacleHeightM: 45 }, both).answer, 'not enough data');
  });

  it('long grass, a tailwind above 10 kt, half of a storm, an aeroplane lighter than empty: never a yes', () => {
    const long = { kind: 'grass' as const, wet: false, soft: false, long: true };
    assert.equal(ask({ surface: long, availableM: 5000 }).answer, 'not enough data');
    assert.equal(ask({ headwindMps: -6, availableM: 5000 }).answer, 'not enough data');
    assert.equal(ask({ headwindMps: 25, availableM: 5000 }).answer, 'not enough data');
    const storm = ask({ headwindMps: 60, slope: 0.02, availableM: 5000 });
    assert.equal(storm.answer, 'not enough data');
    assert.ok(Number.isFinite(storm.takes?.value) && Number.isFinite(storm.margin));
    assert.match(ask({ massKg: 300, availableM: 5000 }).why.join(), /less than the empty weight/);
  });

  it('a turbocharged engine takes less credit from dense air (sigma^-1.6) than one whose power falls (sigma^-3)', () => {
    const turbo = answerStrip({ ...strip, densityRatio: 1.08 }, { ...performance, turbocharged: true });
    assert.ok((turbo.takes?.value ?? 0) > (ask({ densityRatio: 1.08 }).takes?.value ?? Number.NaN));
  });

  it('a wrong yes at most as often as the confidence allows (single take-offs drawn from the scatter)', () => {
    let seed = 3;
    const uniform = () => {
      seed = (seed * 48271) % 2147483647;
      return seed / 2147483647;
    };
    const normal = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
    let yes = 0;
    let wrong = 0;
    const days = 9;
    for (let trial = 0; trial < 3000; trial += 1) {
      const runs = Array.from({ length: days }, () => 400 + 24 * normal());
      const mean = runs.reduce((sum, run) => sum + run, 0) / days;
      const scatter = Math.sqrt(runs.reduce((sum, run) => sum + (run - mean) ** 2, 0) / (days - 1));
      const measured: MeasuredPerformance = {
        ...performance,
        takeoff: performance.takeoff && {
          ...performance.takeoff,
          distanceM: { value: mean, sigma: scatter / Math.sqrt(days), scatter, df: days - 1 },
        },
      };
      // Just at the edge without the safety factor, so that the interval alone is tested.
      const availableM = 1.33 * (430 + 60 * uniform());
      const answer = answerStrip({ ...strip, availableM }, measured);
      if (answer.answer !== 'yes') continue;
      yes += 1;
      if (400 + 24 * normal() > availableM / 1.33) wrong += 1;
    }
    assert.ok(yes > 500, `${yes}`);
    assert.ok(wrong / yes <= 0.025 + 3 * Math.sqrt(0.025 / yes), `${wrong} of ${yes}`);
  });
});

describe('missions: legs and climbs', () => {
  const leg = {
    kind: 'leg' as const,
    name: 'home',
    distanceM: 500e3,
    payloadKg: 180,
    headwindMps: 0,
    reserveTimeS: 1800,
    allowanceM3: 0.004,
  };
  const climb = { kind: 'climb' as const, name: 'pass', rateMps: 2, densityAltitudeM: 1500, massKg: 790 };
  const answer = (need: Parameters<typeof answerMissions>[0][number]) => answerMissions([need], [performance])[0];

  it('a leg within range is yes, beyond it no, with a payload above the useful load no', () => {
    assert.equal(answer(leg).answer, 'yes');
    assert.equal(answer({ ...leg, distanceM: 900e3 }).answer, 'no');
    assert.match(answer({ ...leg, headwindMps: 0 }).why.join(), /in still air/);
    assert.doesNotMatch(answer({ ...leg, headwindMps: 5 }).why.join(), /in still air/);
    assert.equal(answer({ ...leg, payloadKg: 400 }).answer, 'no');
    assert.ok(answer({ ...leg, payloadKg: 280 }).why.some((sentence) => sentence.includes('full tanks')));
  });

  it('a climb rate that the line holds is yes; far above the heights flown is not enough data', () => {
    assert.equal(answer(climb).answer, 'yes');
    assert.equal(answer({ ...climb, rateMps: 3.5 }).answer, 'no');
    assert.equal(answer({ ...climb, densityAltitudeM: 4000 }).answer, 'not enough data');
    assert.ok((answer({ ...climb, massKg: 850 }).takes?.value ?? 9) < (answer(climb).takes?.value ?? 0));
    assert.equal(answer({ ...climb, massKg: 900 }).answer, 'no', 'above the maximum weight');
    assert.match(answer({ ...climb, massKg: 300 }).why.join(), /less than the empty weight/);
  });

  it('a heavier climb loses inertia and induced drag: worked example of the climb correction at 2,200 to 2,400 lb, 722 to 609 ft/min (SFTE handbook ch. 12)', () => {
    const fpm = 0.3048 / 60;
    const lb = 0.45359237;
    const at: MeasuredPerformance = {
      ...performance,
      emptyMassKg: undefined,
      maximumMassKg: undefined,
      climb: {
        rateAt: () => ({ value: 721.8 * fpm, sigma: 0 }),
        df: 10,
        seenM: [0, 3000],
        massKg: 2200 * lb,
        polarAt: () => ({
          aspectRatio: 7.4,
          wingAreaM2: 174 * 0.3048 ** 2,
          densityKgM3: 1.121,
          trueAirspeedMps: (75 * (1852 / 3600)) / Math.sqrt(1.121 / 1.225),
          oswaldFactor: { value: 0.75, sigma: 0 },
        }),
      },
    };
    const [heavier] = answerMissions([{ ...climb, massKg: 2400 * lb, rateMps: 600 * fpm }], [at]);
    assert.ok(Math.abs((heavier.takes?.value ?? 0) / fpm - 609) < 0.6, `${(heavier.takes?.value ?? 0) / fpm}`);
    assert.equal(heavier.answer, 'yes');
  });

  it('near the ceiling nearly all of what weight costs is induced drag: the error of that counts, and no yes comes of it', () => {
    const low: MeasuredPerformance = {
      ...performance,
      maximumMassKg: undefined,
      climb: performance.climb && { ...performance.climb, rateAt: () => ({ value: 1, sigma: 0.01 }) },
    };
    const [heavy] = answerMissions([{ ...climb, massKg: 870, rateMps: 0.75 }], [low]);
    assert.notEqual(heavy.answer, 'yes');
    assert.ok((heavy.takes?.value ?? 9) < 0.7, 'an exponent of -2 alone would leave 0.82');
  });

  it('a leg flown heavier than the speed was measured at goes slower, by 0.2 % for each per cent (from memory); lighter gets no credit', () => {
    const at = (cruiseMassKg: number): number =>
      answerMissions([leg], [{ ...performance, cruiseMassKg }])[0].takes?.value ?? Number.NaN;
    // 530 kg empty, 180 kg of payload, half of the 86.4 kg of fuel.
    const massKg = 530 + 180 + 43.2;
    assert.ok(Math.abs(at(massKg / 1.1) / at(massKg) - 1.1 ** -0.2) < 1e-9);
    assert.equal(at(massKg * 1.1), at(massKg));
  });

  it('says that nothing is set aside for start, taxi and climb where nobody wrote an allowance', () => {
    assert.match(answer({ ...leg, allowanceM3: 0, allowanceStated: false }).why.join(), /no allowance is written/);
  });
});
