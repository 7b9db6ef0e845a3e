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
  });
});
