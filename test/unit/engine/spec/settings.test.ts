import assert from 'node:assert/strict';
import { parseSpec } from '../../../../src/engine/spec/index.ts';
import { quickFixes } from '../../../../src/engine/spec/editor/index.ts';

const text = `modproof: 1
aircraft: { propeller: fixed-pitch }
configurations:
  fine: { setting: { of: blade angle, value: 14.5 deg } }
  middle: { baseline: true, setting: 17 deg }
  coarse: { setting: 0.34 rad }
flights:
  - { track: a.gpx, configuration: fine }
  - { track: b.gpx, configuration: middle }
  - { track: c.gpx, configuration: coarse }
reference: { pairs: against-baseline }
report: { trade: true }
`;
const changed = (from: string, to: string) => {
  assert.ok(text.includes(from), from);
  return parseSpec(text.replace(from, to), 'x');
};
const told = (from: string, to: string): string[] =>
  changed(from, to).problems.map(({ code, severity, at }) => `${at?.line} ${severity} ${code}`);

describe('settings of an adjustable part', () => {
  it('are told in one unit, that of the first', () => {
    const { spec, problems } = parseSpec(text, 'x');
    assert.deepEqual(problems, []);
    assert.equal(spec?.settingOf, 'blade angle');
    assert.deepEqual(
      spec?.configurations.map(({ setting }) => setting),
      [
        { value: 14.5, unit: 'deg' },
        { value: 17, unit: 'deg' },
        // 0.34 rad x 180/pi
        { value: 19.480565, unit: 'deg' },
      ],
    );
    assert.equal(spec?.questions.pairs, 'against-baseline');
    assert.equal(spec?.report.trade, true);
  });

  it('may count something that has no unit', () => {
    const { spec, problems } = parseSpec(
      text.replace('14.5 deg', '1 hole').replace('17 deg', '2 hole').replace('0.34 rad', '3 hole'),
      'x',
    );
    assert.deepEqual(problems, []);
    assert.deepEqual(spec?.configurations[2].setting, { value: 3, unit: 'hole' });
    assert.equal(parseSpec(text.replace(/ {4}?setting: 17 deg/, ''), 'x').spec?.questions.pairs, 'against-baseline');
  });

  it('need a unit, a point, and no uncertainty', () => {
    assert.deepEqual(told('setting: 17 deg', 'setting: 17'), ['5 error spec-quantity']);
    assert.deepEqual(told('setting: 17 deg', 'setting: "17,5 deg"'), ['5 error spec-quantity']);
    assert.deepEqual(told('setting: 17 deg', 'setting: 17 deg +- 1 deg'), ['5 error spec-quantity']);
    assert.deepEqual(told('setting: 17 deg', 'setting: fine'), ['5 error spec-quantity']);
    assert.match(changed('setting: 17 deg', 'setting: 17').problems[0].message, /"14\.5 deg".*"3 holes"/);
  });

  it('must be of one part and in units that can be compared; the same twice and none at all are said', () => {
    assert.deepEqual(told('setting: 0.34 rad', 'setting: 3 holes'), ['6 error spec-impossible']);
    assert.deepEqual(told('setting: 17 deg', 'setting: { of: flap, value: 17 deg }'), ['5 error spec-impossible']);
    assert.deepEqual(told('setting: 17 deg', 'setting: 14.5 deg'), ['5 info spec-improbable']);
    assert.deepEqual(told(', setting: 17 deg', ''), ['5 info spec-improbable']);
  });

  it('a misspelt key and a wrong word have their quick fix', () => {
    const wrong = text.replace('pairs: against-baseline', 'pairs: against-baselin');
    const [problem] = parseSpec(wrong, 'x').problems;
    assert.equal(problem.code, 'spec-word');
    assert.equal(quickFixes(wrong, problem)[0].title, 'Change to "against-baseline"');
    const key = text.replace('{ setting: 0.34 rad }', '{ blade-angle: 0.34 rad }');
    const [unknown] = parseSpec(key, 'x').problems;
    assert.equal(quickFixes(key, unknown)[0].title, 'Change to "setting"');
  });
});

describe('a weight of a configuration', () => {
  const heavy = text.replace('{ setting: 0.34 rad }', '{ setting: 0.34 rad, weight: 850 kg, empty-weight: 528 kg }');

  it('asks for a comparison at own weight, unless another is asked for', () => {
    const { spec, problems } = parseSpec(heavy, 'x');
    assert.deepEqual(problems, []);
    assert.equal(spec?.configurations[2].massKg, 850);
    assert.deepEqual(spec?.questions.at, ['own-weight', 'equal-weight']);
    assert.deepEqual(parseSpec(text, 'x').spec?.questions.at, ['equal-weight', 'equal-load']);
    const asked = heavy.replace('reference: {', 'reference: { compare-at: [equal-weight],');
    assert.deepEqual(parseSpec(asked, 'x').spec?.questions.at, ['equal-weight']);
  });

  it('lies between the empty weight and the maximum weight', () => {
    const codes = (from: string, to: string) =>
      parseSpec(heavy.replace(from, to), 'x').problems.map(({ code, severity }) => `${severity} ${code}`);
    assert.deepEqual(codes('weight: 850 kg', 'weight: 500 kg'), ['error spec-impossible']);
    assert.deepEqual(codes('fixed-pitch', 'fixed-pitch, maximum-weight: 800 kg'), ['warning spec-improbable']);
  });
});
