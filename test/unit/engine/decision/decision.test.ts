import assert from 'node:assert/strict';
import type {
  ComparisonResult,
  ConfigurationResult,
  MetricResult,
  RunValue,
} from '../../../../src/engine/compare/result.ts';
import { decide, type DecisionResult } from '../../../../src/engine/decision/index.ts';
import type { AnalysedFlight } from '../../../../src/engine/compare/flight.ts';
import type { Spec } from '../../../../src/engine/spec/types.ts';
import { parseSpec } from '../../../../src/engine/spec/parse.ts';

const text = `modproof: 1
title: Wheel fairings on the Tern
aircraft:
  propeller: fixed-pitch
  reference-weight: 790 kg
  maximum-weight: 850 kg
  usable-fuel: 120 L
  rated-power: 125 hp
  propeller-diameter: 1.9 m
  wing-span: 10.6 m
configurations:
  bare: { baseline: true, empty-weight: 528 kg, empty-arm: 418 mm }
  faired:
    changed-from: bare
    installed:
      - { item: fairings, weight: 6 kg, arm: 60 mm }
airfields:
  Oyster Flats: { elevation: 300 ft, surface: grass, runways: { "13": { heading: 133 deg } } }
flights:
  - { track: a.gpx, configuration: bare, runway: "13", air-temperature: 15 degC, altimeter-setting: 1013 hPa, wind: 133 deg 4 kt, weight: 790 kg }
  - { track: b.gpx, configuration: faired, runway: "13", air-temperature: 30 degC, altimeter-setting: 1013 hPa, wind: calm, weight: 790 kg }
questions: [ground-roll, { distance-over: 50 ft }, rate-of-climb, level-speed]
loading:
  stations:
    seats: { arm: 500 mm, limit: 200 kg, pilot: true }
    tank: { arm: 640 mm, limit: 87 kg, fuel: true }
  cases:
    two up: { load: { seats: 160 kg +- 4 kg, tank: 110 L }, fuel-burnt: 60 L }
  lightest-pilot: 60 kg
  envelope: [500 kg at 350 mm, 850 kg at 350 mm, 850 kg at 600 mm, 500 kg at 600 mm]
fuel:
  reserve: day-30-min
  allowance: 4 L
  price-of-fuel: 2.40 EUR per L
  other-cost: 30 EUR per h
  cruise:
    - { configuration: bare, setting: 2450 rpm, flow: 25 L/h +- 1 L/h }
  fills:
    - { configuration: faired, volume: 32 L, time: 1.4 h }
    - { configuration: faired, volume: 48 L, time: 2.1 h }
    - { configuration: faired, volume: 25 L, time: 1.1 h }
candidates:
  bigger: { rated-power: 150 hp, propeller-diameter: 1.95 m, price: 9000 EUR, flown: faired, installed: [{ item: engine, weight: 12 kg, arm: -900 mm }] }
  paint: { drag: -3 % }
missions:
  - { strip: river bar, available: 900 m, elevation: 300 ft, air-temperature: 20 degC, surface: grass, weight: 790 kg }
  - { strip: postage stamp, available: 300 m, elevation: 300 ft, air-temperature: 20 degC, surface: grass, weight: 790 kg }
  - { leg: home, distance: 260 NM, payload: 180 kg }
  - { climb: pass, rate: 300 ft/min, density-altitude: 4000 ft, weight: 790 kg }
plan: { reversible: true }
`;

function specOf(): Spec {
  const { spec, problems } = parseSpec(text, 'x');
  assert.deepEqual(
    problems.filter((problem) => problem.severity !== 'info'),
    [],
  );
  assert.ok(spec);
  return spec;
}

const runs = (values: readonly number[]): RunValue[] =>
  values.map((value, index) => ({
    file: `${index}.gpx`,
    number: 1,
    day: `2026-05-0${index + 1}`,
    timeS: index * 86400,
    raw: { value, low: value, high: value },
    value,
    low: value,
    high: value,
    sigma: 1,
    corrections: [],
    weight: 1,
  }));

function configuration(id: string, value: number, half: number, spread: number): ConfigurationResult {
  return {
    id,
    runs: 5,
    days: 5,
    mean: { value, low: value - half, high: value + half },
    values: runs([-1, -0.5, 0, 0.5, 1].map((step) => value + step * spread)),
  };
}

function metric(
  name: string,
  unit: MetricResult['unit'],
  bare: number,
  faired: number,
  half: number,
  spread: number,
): MetricResult {
  return {
    metric: name,
    unit,
    conditions: 'equal-weight',
    primary: false,
    configurations: [configuration('bare', bare, half, spread), configuration('faired', faired, half, spread)],
    changes: [
      {
        from: 'bare',
        to: 'faired',
        verdict: 'no difference shown',
        moreDays: 4,
        detectablePercent: 9,
        sentence: '',
        warnings: [],
      },
    ],
    at: '',
  };
}

const line = (sea: number) =>
  [300, 1000, 2000].map((x) => {
    const value = sea - (x / 1000) * 0.9;
    return { x, value, low: value - 0.25, high: value + 0.25 };
  });

const result: ComparisonResult = {
  title: 't',
  metrics: [
    metric('ground-roll', 'm', 170, 168, 8, 10),
    metric('distance-over-15m', 'm', 400, 396, 18, 22),
    {
      ...metric('rate-of-climb', 'm/s', 3.9, 3.9, 0.2, 0.2),
      seenAgainst: {
        condition: 'density-altitude',
        configurations: [
          { id: 'bare', points: [], line: line(4) },
          { id: 'faired', points: [], line: line(4) },
        ],
      },
    },
    metric('level-speed', 'm/s', 49, 50, 0.6, 0.5),
  ],
  leftOut: [],
  problems: [],
};

function flights(spec: Spec): AnalysedFlight[] {
  const takeoff = { value: 22, low: 21.5, high: 22.5, method: '' };
  return spec.flights.map((entry, index) => ({
    entry,
    file: entry.track,
    day: `2026-05-0${index + 1}`,
    problems: [],
    analysis: {
      recording: { startS: 0, endS: 1, samples: 2, rateHz: 1, gaps: [], altitudeKinds: [], speedSource: 'receiver' },
      phases: [],
      takeoffs: [
        {
          outcome: 'flown',
          rollStart: { timeS: 0, sigmaS: 0.1, origin: 'found' },
          rollingStart: false,
          startSpeedMps: 0,
          headingRad: 2.32,
          latDeg: 0,
          lonDeg: 0,
          liftoffSpeedMps: takeoff,
          screens: [],
          remarks: [],
        },
      ],
      landings: [],
      climbs: [],
      levelRuns: [],
      winds: [],
      problems: [],
    },
  }));
}

describe('decision: from the spec and the comparison to answers', () => {
  const spec = specOf();
  const decided = decide(spec, result, flights(spec));

  it('works out the empty weight and CG of a configuration from the equipment (moments by hand)', () => {
    const faired = decided.loading?.states.find((state) => state.id === 'faired');
    assert.ok(faired?.empty);
    assert.equal(faired.found, 'calculated');
    assert.ok(Math.abs(faired.empty.massKg - 534) < 1e-9);
    assert.ok(Math.abs(faired.empty.cgM - (528 * 0.418 + 6 * 0.06) / 534) < 1e-12);
    assert.ok(faired.remarks.some((remark) => remark.includes('weigh')));
    assert.equal(faired.usefulLoadKg, 850 - 534);
    const names = faired.loadings[0].cases.map((one) => one.name);
    assert.deepEqual(names, ['take-off', 'landing', 'zero fuel']);
    assert.deepEqual(
      faired.adverse.map((one) => one.name),
      ['most forward', 'most aft'],
    );
    assert.ok(Math.abs(faired.loadings[0].cases[0].balance.massKg - (534 + 160 + 110 * 0.72)) < 1e-9);
  });

  it('gives range and endurance with the reserve kept, measured speed and given or filled flow', () => {
    const rows = decided.range?.rows ?? [];
    assert.deepEqual(
      rows.map((row) => [row.configuration, row.setting]),
      [
        ['bare', '2450 rpm'],
        ['faired', 'as flown'],
      ],
    );
    // 120 L less 4 L less half an hour at 25 L/h, at 25 L/h and 49 m/s.
    const hours = (120 - 4 - 12.5) / 25;
    assert.ok(Math.abs((rows[0].enduranceS?.value ?? 0) / 3600 - hours) < 1e-9);
    assert.ok(Math.abs((rows[0].rangeM?.value ?? 0) - hours * 3600 * 49) < 1e-6);
    assert.ok(Math.abs((rows[0].cost?.perHour ?? 0) - (25 * 2.4 + 30)) < 1e-9);
    assert.ok(Math.abs(rows[1].fuelFlowM3ps.value * 3.6e6 - 105 / 4.6) < 1e-9);
  });

  it('answers the missions for configurations and, marked as predicted, for candidates', () => {
    const answer = (need: string, id: string) =>
      decided.missions?.find((one) => one.need === need && one.configuration === id);
    assert.equal(answer('river bar', 'bare')?.answer, 'yes');
    assert.equal(answer('postage stamp', 'bare')?.answer, 'no');
    assert.equal(answer('home', 'bare')?.answer, 'yes');
    assert.equal(answer('pass', 'bare')?.answer, 'yes');
    assert.equal(answer('river bar', 'bigger')?.predicted, true);
    assert.equal(answer('river bar', 'bare')?.predicted, false);
  });

  it('flies a leg against the headwind of the fuel section where it states none of its own', () => {
    const { spec: windy } = parseSpec(text.replace('\nfuel:', '\nfuel:\n  headwind: 20 kt'), 'x');
    assert.ok(windy?.decision?.fuel?.headwind !== undefined);
    const home = (one: DecisionResult): number | undefined =>
      one.missions?.find(({ need, configuration }) => need === 'home' && configuration === 'bare')?.takes?.value;
    const [still, against] = [home(decided), home(decide(windy, result, flights(windy)))];
    assert.ok(still !== undefined && against !== undefined && against < still * 0.85, `${against} of ${still}`);
  });

  it('predicts the candidates, with what was measured since beside it', () => {
    const bigger = decided.candidates?.find((one) => one.id === 'bigger');
    const paint = decided.candidates?.find((one) => one.id === 'paint');
    assert.ok(bigger && paint);
    const roll = bigger.rows.find((row) => row.metric === 'ground-roll');
    assert.ok(roll?.change && roll.change.value < -0.05 && roll.measured?.value === 168);
    // Measured as the comparison says it, with its own interval; the climb too.
    assert.deepEqual(roll.measured, { value: 168, low: 160, high: 176 });
    const climb = bigger.rows.find((row) => row.metric === 'rate-of-climb');
    assert.deepEqual([climb?.measured?.value, climb?.measured?.high], [3.9, 4.1]);
    assert.equal(paint.rows.find((row) => row.metric === 'rate-of-climb')?.measured, undefined);
    assert.ok((bigger.cgM ?? 1) < 0.418, 'the engine is ahead of the CG');
    assert.ok(bigger.remarks.some((remark) => remark.includes('static rpm')));
    const speed = paint.rows.find((row) => row.metric === 'level-speed');
    assert.ok(speed?.change && speed.change.low > 0 && speed.change.high < 0.03);
    assert.ok(!paint.remarks.some((remark) => remark.includes('static rpm')));
  });

  it('says whether what was measured since agrees with the prediction, by the change where there is one', () => {
    const changed = (percent: number) => ({
      ...metric('ground-roll', 'm', 170, 170 * (1 + percent / 100), 8, 10),
      changes: [
        {
          from: 'bare',
          to: 'faired',
          verdict: 'shorter' as const,
          moreDays: 0,
          percent: { value: percent, low: percent - 3, high: percent + 3 },
          sentence: '',
          warnings: [],
        },
      ],
    });
    const found = (percent: number) => {
      const metrics = [changed(percent), ...result.metrics.slice(1)];
      const one = decide(spec, { ...result, metrics }, flights(spec)).candidates?.find(({ id }) => id === 'bigger');
      return one?.rows.find((row) => row.metric === 'ground-roll');
    };
    assert.equal(found(-15)?.found, 'as predicted');
    assert.equal(found(30)?.found, 'more than predicted');
    assert.equal(found(-60)?.found, 'less than predicted');
    assert.ok(Math.abs((found(-15)?.measuredChange?.low ?? 0) + 0.18) < 1e-12);
    assert.equal(decided.candidates?.find(({ id }) => id === 'paint')?.rows[0].found, undefined);
  });

  it('predicts the distance over the obstacle, and nothing where nothing is stated', () => {
    const bigger = decided.candidates?.find(({ id }) => id === 'bigger');
    const over = bigger?.rows.find((row) => row.metric === 'distance-over-15m');
    assert.ok(over?.change && over.change.value < 0 && over.measured?.value === 396);
    const { spec: idle } = parseSpec(text.replace('paint: { drag: -3 % }', 'paint: { price: 1 EUR }'), 'x');
    assert.ok(idle);
    const paint = decide(idle, result, flights(idle)).candidates?.find(({ id }) => id === 'paint');
    assert.deepEqual(paint?.rows, []);
    assert.ok(paint.remarks.some((remark) => remark.startsWith('Nothing is stated')));
  });

  it('more removed than there is, or heavier empty than allowed, is told and nothing breaks', () => {
    const changedTo = (written: string): DecisionResult => {
      const { spec: odd } = parseSpec(text.replace('paint: { drag: -3 % }', `paint: { ${written} }`), 'x');
      assert.ok(odd);
      return decide(odd, result, flights(odd));
    };
    const remarks = (one: DecisionResult): string =>
      one.candidates?.find(({ id }) => id === 'paint')?.remarks.join(' ') ?? '';
    assert.match(remarks(changedTo('removed: [{ item: all, weight: 600 kg, arm: 0 mm }]')), /More is removed/);
    assert.match(
      remarks(changedTo('installed: [{ item: anvil, weight: 400 kg, arm: 0 mm }]')),
      /nothing can be carried/,
    );
  });

  it('flights on short and on long grass stand for short grass, whose mean they only lengthen; for long grass they do not', () => {
    const long =
      '  - { track: c.gpx, configuration: bare, runway: { heading: 133 deg, elevation: 300 ft, surface: long grass }, air-temperature: 15 degC, altimeter-setting: 1013 hPa, wind: calm, weight: 790 kg }\nquestions:';
    const asked = text.replace('questions:', long);
    const answerOf = (written: string): string | undefined => {
      const { spec: mixed } = parseSpec(written, 'x');
      assert.ok(mixed);
      const all = decide(mixed, result, flights(mixed)).missions;
      return all?.find(({ need, configuration: id }) => need === 'river bar' && id === 'bare')?.answer;
    };
    assert.equal(answerOf(asked), 'yes');
    assert.equal(answerOf(asked.replace('20 degC, surface: grass', '20 degC, surface: long grass')), 'not enough data');
  });

  it('a headwind as strong as the airspeed is told as that', () => {
    const { spec: windy } = parseSpec(
      text
        .replace('payload: 180 kg }', 'payload: 180 kg, headwind: 60 kt }')
        .replace(
          '    - { configuration: bare, setting: 2450 rpm, flow',
          '    - { configuration: bare, setting: 2450 rpm, speed: 55 kt, flow',
        ),
      'x',
    );
    assert.ok(windy);
    const home = decide(windy, result, flights(windy)).missions?.find(({ need }) => need === 'home');
    assert.equal(home?.answer, 'no');
    assert.match(home.why.join(), /headwind is as strong/);
  });

  it('answers no leg for a candidate that may hardly climb', () => {
    const { spec: weak } = parseSpec(text.replace('paint: { drag: -3 % }', 'paint: { rated-power: 70 hp }'), 'x');
    assert.ok(weak);
    const one = decide(weak, result, flights(weak));
    const home = one.missions?.find(({ need, configuration }) => need === 'home' && configuration === 'paint');
    assert.ok(home === undefined || home.answer === 'not enough data', home?.answer);
    assert.ok(
      one.candidates
        ?.find(({ id }) => id === 'paint')
        ?.remarks.some((remark) => /hardly climb|none flies/.test(remark)),
    );
  });

  it('sets the prediction, which carries what the change weighs, against what was measured at equal load', () => {
    const atLoad = { ...metric('ground-roll', 'm', 170, 175, 8, 10), conditions: 'equal-load' as const };
    const loaded = decide(spec, { ...result, metrics: [...result.metrics, atLoad] }, flights(spec));
    const rows = loaded.candidates?.find((one) => one.id === 'bigger')?.rows;
    assert.equal(rows?.find((row) => row.metric === 'ground-roll')?.measured?.value, 175);
  });

  it('counts the weight of a candidate once: at the load that its own weight leaves, nothing is corrected', () => {
    const bigger = decided.candidates?.find((one) => one.id === 'bigger');
    assert.ok(bigger?.performance?.takeoff);
    assert.ok(Math.abs(bigger.performance.takeoff.massKg - (790 + 12)) < 1e-9);
    assert.ok(Math.abs((bigger.performance.climb?.massKg ?? 0) - (790 + 12)) < 1e-9);
  });

  it('plans: asks for hot days before and cool days after, says how many days, prints a card', () => {
    const plan = decided.plan;
    assert.ok(plan);
    assert.equal(plan.configuration, 'faired');
    assert.deepEqual(
      plan.conditions.map((one) => [one.kind, one.configuration]),
      [
        ['density-altitude', 'faired'],
        ['density-altitude', 'bare'],
        ['headwind', 'faired'],
        ['headwind', 'bare'],
      ],
    );
    assert.equal(plan.days.length, 4);
    assert.match(plan.card, /4 more flying days/);
    assert.match(plan.sheet, /Altimeter setting/);
  });

  it('without flights gives what can be had without: loading, and reasons for the rest', () => {
    const alone = decide(spec, undefined, []);
    assert.ok(alone.loading?.states.every((state) => state.empty !== undefined));
    assert.deepEqual(alone.range?.rows, []);
    assert.ok(alone.range?.missing.length === 2);
    assert.ok(alone.missions?.every((one) => one.answer === 'not enough data'));
    assert.ok(
      alone.candidates?.every(
        (one) => one.rows.length === 0 && one.remarks.some((remark) => remark.includes('measured')),
      ),
    );
  });

  it('a spec without these sections decides nothing', () => {
    assert.deepEqual(decide({ ...spec, decision: undefined }, result, []), {});
  });
});
