import assert from 'node:assert/strict';
import type { Analysis } from '../../../../src/engine/analysis.ts';
import { newSpec } from '../../../../src/engine/spec/new-spec.ts';
import { parseSpec } from '../../../../src/engine/spec/parse.ts';

function analysis(startS: number, headingDeg: number, rollingStart: boolean, latDeg = 0): Analysis {
  return {
    recording: {
      startS,
      endS: startS + 1800,
      samples: 1800,
      rateHz: 1,
      gaps: [],
      altitudeKinds: ['msl'],
      speedSource: 'receiver',
    },
    phases: [],
    takeoffs: [
      {
        outcome: 'flown',
        rollStart: { timeS: startS + 300, sigmaS: 0.5, origin: 'found' },
        rollingStart,
        startSpeedMps: 0,
        headingRad: (headingDeg * Math.PI) / 180,
        latDeg,
        lonDeg: 0,
        screens: [],
        remarks: [],
      },
    ],
    landings: [],
    climbs: [],
    levelRuns: [],
    winds: [],
    problems: [],
  };
}

describe('a spec to start from', () => {
  const text = newSpec([
    { file: 'tracks/b.gpx', analysis: analysis(1713135600, 311, true) },
    { file: 'tracks/a [1].gpx', analysis: analysis(1713049200, 132, false) },
    { file: 'tracks/: broken #.gpx' },
  ]);

  it('fills in what the recordings know, in the order of time', () => {
    assert.ok(text.indexOf('tracks/a [1].gpx') < text.indexOf('tracks/b.gpx'));
    assert.match(text, /take-off 23:05:00 UTC, heading 132 deg/);
    assert.match(text, /start: rolling/);
    assert.match(text, /"13":\n {8}heading: 132 deg/);
    assert.match(text, / {2}2024-04-13:\n {4}air-temperature: #/);
    assert.match(text, /could not be read/);
    assert.match(text, /a \[1\]\.gpx[\s\S]*?runway: "13" # by the recorded heading/);
    assert.doesNotMatch(text, /airfield:/);
  });

  it('is valid and asks only to be filled', () => {
    const { problems } = parseSpec(text, 'new.modproof.yaml');
    assert.ok(problems.length > 10);
    assert.deepEqual([...new Set(problems.map((problem) => problem.code))], ['spec-blank']);
  });

  it('becomes a spec when the blanks are filled', () => {
    const answers: Readonly<Record<string, string>> = {
      title: 'Fairings',
      name: 'Tern',
      propeller: 'fixed-pitch',
      weight: '700 kg',
      runway: '"13"',
      'reference-weight': '700 kg',
      'maximum-weight': '850 kg',
      'empty-weight': '500 kg',
      elevation: '100 ft',
      'air-temperature': '14 degC',
      'altimeter-setting': '1016 hPa',
      wind: 'calm',
      slope: '0.5 %',
      surface: 'grass',
      description: 'as it was',
      'density-altitude': '0 ft',
    };
    let count = 0;
    const filled = text
      .replace(/^(\s*)([a-z-]+): #.*$/gm, (whole, indent: string, key: string) =>
        Object.hasOwn(answers, key) ? `${indent}${key}: ${answers[key]}` : whole,
      )
      .replace(/configuration: #.*/g, () => `configuration: ${count++ === 0 ? 'before' : 'after'}`);
    const { spec, problems } = parseSpec(filled, 'new.modproof.yaml');
    assert.deepEqual(
      problems.filter((problem) => problem.code !== 'spec-improbable'),
      [],
    );
    assert.equal(spec?.flights.length, 3);
    assert.equal(spec?.flights[2].track, 'tracks/: broken #.gpx');
  });

  it('tells airfields apart that are far from each other', () => {
    const two = newSpec([
      { file: 'a.gpx', analysis: analysis(1713049200, 132, false) },
      { file: 'b.gpx', analysis: analysis(1713135600, 132, false, 1) },
    ]);
    assert.match(two, / {2}home:\n[\s\S]*? {2}field 2:\n/);
    assert.match(two, /b\.gpx[\s\S]*airfield: field 2\n/);
    assert.deepEqual([...new Set(parseSpec(two, 'a').problems.map((problem) => problem.code))], ['spec-blank']);
  });

  it('is valid with no recordings at all', () => {
    assert.deepEqual([...new Set(parseSpec(newSpec([]), 'a').problems.map((problem) => problem.code))], ['spec-blank']);
  });
});
