import assert from 'node:assert/strict';
import type { Problem } from '../../../../shared/problem.ts';
import { parseSpec } from '../../../../src/engine/spec/parse.ts';
import type { Spec } from '../../../../src/engine/spec/types.ts';
import { withDate } from '../../../../src/engine/spec/merge.ts';
import { goodSpec } from './good-spec.ts';

function parsed(text: string): Spec {
  const { spec, problems } = parseSpec(text, 'a.modproof.yaml');
  assert.deepEqual(
    problems.filter((problem) => problem.severity === 'error'),
    [],
  );
  assert.ok(spec);
  return spec;
}

function problemsOf(text: string): readonly Problem[] {
  return parseSpec(text, 'a.modproof.yaml').problems;
}

/** Changes one line of the good spec. */
function changed(from: string, to: string): string {
  assert.ok(goodSpec.includes(from), from);
  return goodSpec.replace(from, to);
}

/** The one problem that a change brings, with the text that it marks. */
function only(text: string): { readonly code: string; readonly message: string; readonly marks: string } {
  const { problems, spec } = parseSpec(text, 'a.modproof.yaml');
  assert.equal(problems.length, 1, JSON.stringify(problems, null, 1));
  const [{ code, message, at, severity }] = problems;
  assert.equal(spec === undefined, severity === 'error');
  assert.ok(at?.line !== undefined && at.column !== undefined && at.endLine === at.line && at.endColumn !== undefined);
  assert.equal(at.file, 'a.modproof.yaml');
  return { code, message, marks: text.split('\n')[at.line - 1].slice(at.column - 1, at.endColumn - 1) };
}

describe('the spec: what is understood', () => {
  const spec = parsed(goodSpec);

  it('brings quantities to SI', () => {
    assert.equal(spec.aircraft.referenceMassKg, 790);
    assert.ok(Math.abs((spec.aircraft.usableFuelM3 ?? 0) - 0.12) < 1e-12);
    assert.ok(Math.abs(spec.reference.densityAltitudeM - 304.8) < 1e-9);
    assert.equal(spec.baseline, 'before');
    assert.deepEqual(spec.configurations[0].emptyMassKg, { value: 528, sigma: 1, sigmaStated: true });
    assert.deepEqual(spec.configurations[1].emptyMassKg, { value: 540, sigma: 2, sigmaStated: false });
  });

  it('merges flight over day over configuration over airfield', () => {
    const [first, second] = spec.flights;
    assert.deepEqual(first.conditions.airTemperatureK, { value: 277.15, sigma: 1, sigmaStated: false });
    assert.equal(first.conditions.altimeterSettingPa?.value, 102500);
    assert.equal(first.conditions.technique, 'three-point');
    assert.equal(second.conditions.technique, 'tail-high');
    assert.equal(second.conditions.airTemperatureK, undefined, 'what is not written is not filled');
    assert.equal(first.conditions.runway?.surface?.wet, false);
    assert.equal(second.conditions.runway?.surface?.wet, true);
    assert.ok(Math.abs((first.conditions.runway?.elevationM ?? 0) - 1056 * 0.3048) < 1e-9);
    assert.ok(Math.abs((second.conditions.runway?.elevationM ?? 0) - 1078 * 0.3048) < 1e-9);
    assert.equal(second.conditions.runway?.slope?.value, -0.008);
  });

  it('brings magnetic directions to true north', () => {
    const [, second] = spec.flights;
    assert.ok(Math.abs((second.conditions.runway?.headingRad ?? 0) - (313 * Math.PI) / 180) < 1e-9);
    assert.ok(Math.abs((second.conditions.wind?.fromRad ?? 0) - (353 * Math.PI) / 180) < 1e-9);
  });

  it('keeps what was stated apart from the usual uncertainty', () => {
    const [first, second] = spec.flights;
    assert.equal(second.conditions.wind?.sigmaStated, true);
    assert.ok(Math.abs((second.conditions.wind?.sigmaMps ?? 0) - 1852 / 3600) < 1e-12);
    assert.equal(first.conditions.wind?.sigmaStated, false);
    // 2 kt and a fifth of 3 kt.
    assert.ok(Math.abs((first.conditions.wind?.sigmaMps ?? 0) - Math.hypot(2, 0.6) * (1852 / 3600)) < 1e-12);
    assert.deepEqual(first.conditions.takeoffMassKg, { value: 720, sigma: 10.799999999999999, sigmaStated: false });
  });

  it('finds the day of a recording by its date when the flight names none', () => {
    const { spec: whole, shared } = parseSpec(changed('    day: 2024-04-13\n', ''), 'a');
    assert.ok(whole !== undefined && shared !== undefined);
    const [first] = whole.flights;
    assert.equal(first.conditions.airTemperatureK, undefined);
    assert.equal(withDate(first, shared, '2024-04-13').conditions.airTemperatureK?.value, 277.15);
    assert.equal(withDate(first, shared, '2024-04-15').conditions.airTemperatureK, undefined);
    const evening = parsed(changed('    day: 2024-04-13\n', '    day: 2024-04-14 evening\n')).flights[0];
    assert.equal(evening.date, '2024-04-14');
    assert.ok(Math.abs((evening.conditions.airTemperatureK?.value ?? 0) - 288.15) < 1e-9);
    assert.ok(Math.abs((evening.conditions.airTemperatureK?.sigma ?? 0) - 2 / 1.8) < 1e-9);
  });

  it('reads questions with heights, rates and margins', () => {
    assert.deepEqual(
      spec.questions.ask.map(({ metric, primary, heightM, rateMps, margin }) => ({
        metric,
        primary,
        heightM,
        rateMps,
        margin,
      })),
      [
        { metric: 'ground-roll', primary: false, heightM: undefined, rateMps: undefined, margin: undefined },
        {
          metric: 'distance-over-15m',
          primary: true,
          heightM: 15.24,
          rateMps: undefined,
          margin: { value: 0.05, relative: true },
        },
        {
          metric: 'climb-held-to',
          primary: false,
          heightM: undefined,
          rateMps: 2.54,
          margin: { value: 152.4, relative: false },
        },
      ],
    );
  });

  it('asks the usual questions when none is written', () => {
    const without = parsed(goodSpec.replace(/questions:[\s\S]*?report:/, 'report:'));
    assert.deepEqual(
      without.questions.ask.map((question) => question.metric),
      ['ground-roll', 'distance-over-15m', 'distance-over-30m', 'rate-of-climb', 'level-speed', 'landing-roll'],
    );
  });

  it('reads winds in the ways of the trade', () => {
    const wind = (written: string) =>
      parsed(changed('wind: 080 deg 3 kt', `wind: ${written}`)).flights[0].conditions.wind;
    const knot = 1852 / 3600;
    assert.equal(wind('calm')?.speedMps, 0);
    assert.ok(Math.abs((wind('calm')?.sigmaMps ?? 0) - 2 * knot) < 1e-12, 'calm is not exact');
    const group = wind('08012G20KT');
    assert.ok(
      group && Math.abs(group.speedMps - 12 * knot) < 1e-9 && Math.abs((group.gustMps ?? 0) - 20 * knot) < 1e-9,
    );
    assert.ok(Math.abs((group?.fromRad ?? 0) - (80 * Math.PI) / 180) < 1e-12);
    const variable = wind('variable 4 kt');
    assert.equal(variable?.speedMps, 0);
    assert.ok(Math.abs((variable?.sigmaMps ?? 0) - Math.hypot(2, 4 / Math.SQRT2) * knot) < 1e-9);
    assert.equal(wind('360 deg 9 kt gusting 15 kt +- 3 kt')?.sigmaMps, 3 * knot);
    assert.equal(wind('360 deg at 9 kt')?.fromRad, 0);
  });

  it('takes YAML as it is written: anchors, quotes, comments, Windows line ends, a byte order mark', () => {
    const text = `\ufeff${goodSpec
      .replace('wind: 080 deg 3 kt', 'wind: &w "080 deg 3 kt" # from the tower')
      .replace('air-temperature: 59 degF', 'wind: *w\n    air-temperature: 59 degF')}`.replaceAll('\n', '\r\n');
    assert.equal(parsed(text).flights[0].conditions.wind?.speedMps, 3 * (1852 / 3600));
  });
});

describe('the spec: what is refused, where, and what to do', () => {
  const cases: readonly (readonly [string, string, string, string, RegExp, string])[] = [
    [
      'a quantity without a unit',
      'air-temperature: 4 degC',
      'air-temperature: 4',
      'spec-quantity',
      /no unit.*degC/,
      '4',
    ],
    ['a wrong unit', '720 kg', '720 kt', 'spec-quantity', /unit of a speed.*kg, lb/, '720 kt'],
    ['an ambiguous gallon', '120 L', '30 gal', 'spec-quantity', /US gal/, '30 gal'],
    [
      'an impossible altimeter setting',
      '1025 hPa',
      '29.92 hPa',
      'spec-impossible',
      /Did you mean "29.92 inHg"/,
      '29.92 hPa',
    ],
    [
      'an impossible wind, with no advice to write it as a rate of climb',
      'wind: 080 deg 3 kt',
      'wind: { from: 080 deg, speed: 300 kt }',
      'spec-impossible',
      /cannot be right: expected 0 to 78 kt\.$/,
      '300 kt',
    ],
    ['an impossible heading', '133 deg', '400 deg', 'spec-quantity', /0 to 360/, '400 deg'],
    ['a temperature in the wrong scale', '4 degC', '14 K', 'spec-impossible', /Did you mean "14 degC"/, '14 K'],
    [
      'an unknown key',
      'air-temperature: 4',
      'air-temprature: 4',
      'spec-unknown-key',
      /Did you mean "air-temperature"/,
      'air-temprature',
    ],
    [
      'a key by its other name',
      'altimeter-setting',
      'qnh',
      'spec-unknown-key',
      /Did you mean "altimeter-setting"/,
      'qnh',
    ],
    [
      'a key in camel case',
      'altimeter-setting',
      'altimeterSetting',
      'spec-unknown-key',
      /altimeter-setting/,
      'altimeterSetting',
    ],
    ['a key in the wrong place', 'report: {', 'metric: x\nreport: {', 'spec-unknown-key', /Known here|under/, 'metric'],
    [
      'an unknown configuration',
      'configuration: after',
      'configuration: aftr',
      'spec-unknown-name',
      /Did you mean "after"/,
      'aftr',
    ],
    [
      'an unknown runway',
      'runway: 31',
      'runway: 32',
      'spec-unknown-name',
      /At "Oyster Flats" there is no runway "32"/,
      '32',
    ],
    [
      'an unknown airfield',
      'runway: 31',
      'airfield: Oyster Flat',
      'spec-unknown-name',
      /Did you mean "Oyster Flats"/,
      'Oyster Flat',
    ],
    [
      'a duplicate track',
      'tracks/after/*.gpx',
      './tracks//a.gpx',
      'spec-duplicate-track',
      /line 28/,
      './tracks//a.gpx',
    ],
    [
      'an exclusion without a reason',
      '    because: brakes were dragging\n',
      '',
      'spec-missing-key',
      /because/,
      '- track: tracks/a.gpx'.slice(2),
    ],
    [
      'an exclusion of nothing',
      '- track: tracks/a.gpx\n    metric',
      '- track: tracks/b.gpx\n    metric',
      'spec-unknown-name',
      /no flight/,
      'tracks/b.gpx',
    ],
    ['a missing propeller', '  propeller: fixed-pitch\n', '', 'spec-missing-key', /fixed-pitch/, 'aircraft'],
    ['a wrong word', 'propeller: fixed-pitch', 'propeller: fixed', 'spec-word', /fixed-pitch/, 'fixed'],
    ['no baseline', 'baseline: true, ', '', 'spec-baseline', /baseline: true/, 'configurations'],
    ['two baselines', 'after: { ', 'after: { baseline: true, ', 'spec-baseline', /already/, 'true'],
    ['a day that is none', '    day: 2024-04-13\n', '    day: 2024-02-30\n', 'spec-date', /2024-04-13/, '2024-02-30'],
    [
      'a day that is not defined',
      '    day: 2024-04-13\n',
      '    day: 2024-04-14 noon\n',
      'spec-unknown-name',
      /evening/,
      '2024-04-14 noon',
    ],
    ['a time that is none', '"22:31:13.4"', '"22:61:13.4"', 'spec-time', /10:42:13/, '"22:61:13.4"'],
    ['a wind without units', '080 deg 3 kt', '080/3', 'spec-wind', /units/, '080/3'],
    ['a wind that is none', '080 deg 3 kt', 'light', 'spec-wind', /calm/, 'light'],
    ['a strange surface', 'wet grass', 'wet moss', 'spec-surface', /moss/, 'wet moss'],
    [
      'gusts below the mean',
      'gust: 8 kt',
      'gust: 1 kt',
      'spec-impossible',
      /gusts/,
      '{ from: 350 deg magnetic, speed: 2 kt, gust: 1 kt, uncertainty: 1 kt, source: windsock }',
    ],
    [
      'a dew point above the temperature',
      'air-temperature: 4 degC',
      'air-temperature: 4 degC\n    dew-point: 9 degC',
      'spec-impossible',
      /dew point/,
      '9 degC',
    ],
    [
      'a weight below the empty weight',
      'weight: 720 kg',
      'weight: 500 kg',
      'spec-impossible',
      /empty weight/,
      '500 kg',
    ],
    [
      'degrees of the other scale',
      'air-temperature: 4 degC',
      'air-temperature: 59 degC',
      'spec-improbable',
      /degF/,
      '59 degC',
    ],
    ['a weight above the maximum', 'weight: 720 kg', 'weight: 900 kg', 'spec-improbable', /maximum/, '900 kg'],
    [
      'a question without its height',
      '- ground-roll',
      '- distance-over',
      'spec-question',
      /distance-over: 50 ft/,
      'distance-over',
    ],
    ['a question twice', '- ground-roll', '- distance-over: 50 ft', 'spec-question', /already/, 'distance-over: 50 ft'],
    ['an unknown metric', '- ground-roll', '- groundroll', 'spec-word', /Did you mean "ground-roll"/, 'groundroll'],
    ['a margin in the wrong unit', 'margin: 500 ft', 'margin: 500 kg', 'spec-quantity', /percentage/, '500 kg'],
    [
      'two primary questions',
      'margin: 500 ft',
      'primary: true',
      'spec-question',
      /one question/,
      'climb-held-to: 500 ft/min',
    ],
    ['a report over a recording', 'file: report.md', 'file: tracks/a.gpx', 'spec-name', /replace/, 'tracks/a.gpx'],
    ['a report over the spec', 'file: report.md', 'file: a.modproof.yaml', 'spec-name', /replace/, 'a.modproof.yaml'],
    ['another version', 'modproof: 1', 'modproof: 2', 'spec-version', /modproof: 1/, '2'],
    ['a key twice', '  name: Tern T2', '  name: Tern T2\n  name: Tern T3', 'spec-duplicate-key', /line 4/, 'name'],
    [
      'a list where a value belongs',
      'weight: 720 kg',
      'weight: [720 kg]',
      'spec-wrong-kind',
      /on one line/,
      '[720 kg]',
    ],
    [
      'a value where a block belongs',
      'reference:\n  density-altitude: 1000 ft',
      'reference: 1000 ft',
      'spec-wrong-kind',
      /block of keys/,
      '1000 ft',
    ],
    [
      'slopes of one sign both ways',
      'slope: -0.8 %',
      'slope: 0.8 %',
      'spec-improbable',
      /uphill in the direction/,
      '0.8 %',
    ],
    [
      'a heading that does not fit the name',
      'heading: 133 deg',
      'heading: 313 deg',
      'spec-improbable',
      /Runway 13/,
      '313 deg',
    ],
    ['a merge key', 'days:', 'days:\n  <<: {}', 'spec-date', /no date/, '<<'],
    [
      'magnetic without a variation',
      '    magnetic-variation: 3 deg east\n',
      '',
      'spec-missing-key',
      /magnetic-variation/,
      '',
    ],
    ['a name that is no name', '  after: {', '  __proto__: { }\n  after: {', 'spec-name', /__proto__/, '__proto__'],
    [
      'an uncertainty of a choice',
      'reference-weight: 790 kg',
      'reference-weight: 790 kg +- 5 kg',
      'spec-quantity',
      /choice/,
      '790 kg +- 5 kg',
    ],
  ];
  for (const [name, from, to, code, message, marks] of cases) {
    it(name, () => {
      const text = changed(from, to);
      if (marks === '') {
        const found = problemsOf(text);
        assert.ok(found.length > 0 && found.every((problem) => problem.code === code && message.test(problem.message)));
        return;
      }
      const found = only(text);
      assert.equal(found.code, code, found.message);
      assert.match(found.message, message);
      assert.equal(found.marks, marks);
    });
  }

  it('tells everything at once, in the order of the file', () => {
    let text = goodSpec;
    for (const [from, to] of [
      ['modproof: 1', 'modproof: 3'],
      ['720 kg', '720'],
      ['configuration: after', 'configuration: aftr'],
      ['wet grass', 'moss'],
      ['metric: ground-roll', 'metrc: ground-roll'],
    ] as const) {
      text = text.replace(from, to);
    }
    assert.deepEqual(
      problemsOf(text).map((problem) => problem.code),
      ['spec-version', 'spec-quantity', 'spec-unknown-name', 'spec-surface', 'spec-unknown-key'],
    );
  });

  it('points into the right entry when others were refused before it', () => {
    const text = goodSpec
      .replace('  - track: tracks/a.gpx\n    configuration: before', '  - configuration: before')
      .replace('runway: 31', 'runway: 32');
    const found = problemsOf(text).find((problem) => /"32"/.test(problem.message));
    assert.equal(text.split('\n')[(found?.at?.line ?? 0) - 1], '    runway: 32');
  });

  it('says what is to be filled, and goes on without it', () => {
    const { spec, problems } = parseSpec(
      changed('air-temperature: 4 degC', 'air-temperature: # degC, at the field'),
      'a',
    );
    assert.deepEqual(
      problems.map(({ code, severity, at }) => ({ code, severity, line: at?.line })),
      [{ code: 'spec-blank', severity: 'info', line: 22 }],
    );
    assert.equal(spec?.flights[0].conditions.airTemperatureK, undefined);
    const without = parseSpec(changed('configuration: before', 'configuration:'), 'a');
    assert.deepEqual(
      without.problems.map(({ code, severity }) => `${severity} ${code}`),
      ['warning spec-blank'],
    );
  });
});

describe('the spec: a weight of another unit', () => {
  const said = (weight: string, maximum: string): string[] => {
    const text = goodSpec
      .replace('weight: 720 kg', `weight: ${weight}`)
      .replace('maximum-weight: 850 kg', maximum)
      .replace(/empty-weight: 528 kg \+- 1 kg, /, '');
    return parseSpec(text, 'a.yaml')
      .problems.filter(({ severity }) => severity !== 'info')
      .map(({ message }) => message);
  };

  it('asks whether it is kg or lb', () => {
    // 720 lb are 0.41 times 790 kg; 1,590 kg would be 720 kg read as pounds.
    assert.deepEqual(said('720 lb', ''), ['The weight is 0.41 times the reference weight: is it kg or lb?']);
    assert.match(said('1590 kg', '').join(), /2\.01 times the reference weight/);
    assert.deepEqual(said('560 kg', 'maximum-weight: 850 kg'), []);
  });

  it('says a weight above the maximum once', () => {
    assert.equal(said('1590 kg', 'maximum-weight: 850 kg').length, 1);
  });
});

describe('the spec: tabs', () => {
  it('names the tab and nothing that follows from it', () => {
    const { problems } = parseSpec(goodSpec.replace('    configuration: before', '\tconfiguration: before'), 'a.yaml');
    assert.deepEqual(
      problems.map(({ message, at }) => [message, at?.line]),
      [['A tab stands where YAML wants spaces: indent with spaces.', 29]],
    );
  });
});
