import assert from 'node:assert/strict';
import * as fc from 'fast-check';
import { parseSpec } from '../../../../src/engine/spec/parse.ts';
import { goodSpec } from './good-spec.ts';

/** A refusal is quick, has a place inside the text and gives no spec. */
function refused(text: string, code: string): void {
  const started = process.hrtime.bigint();
  const { spec, problems } = parseSpec(text, 'a');
  const tookMs = Number(process.hrtime.bigint() - started) / 1e6;
  assert.equal(spec, undefined);
  assert.ok(
    problems.some((problem) => problem.code === code && problem.severity === 'error'),
    JSON.stringify(problems.slice(0, 3)),
  );
  for (const problem of problems) assert.ok((problem.at?.line ?? 0) >= 1 && (problem.at?.column ?? 0) >= 1);
  assert.ok(tookMs < 2000, `took ${tookMs} ms`);
}

function levels(count: number): string {
  return Array.from({ length: count }, (_, depth) => `${' '.repeat(depth)}a:\n`).join('');
}

describe('hostile YAML', () => {
  const aliases = [
    'a0: &a0 [x, x, x, x, x, x, x, x, x, x]',
    ...Array.from({ length: 12 }, (_, i) => `a${i + 1}: &a${i + 1} [${Array(10).fill(`*a${i}`).join(', ')}]`),
  ].join('\n');
  const cases: readonly (readonly [string, string, string])[] = [
    ['an alias bomb', aliases, 'spec-too-large'],
    ['an alias of itself', 'a: &a\n  b: *a\n', 'spec-yaml'],
    ['an alias of nothing', 'a: *b\n', 'spec-yaml'],
    ['a hundred thousand open brackets', `a: ${'['.repeat(100_000)}`, 'spec-too-large'],
    ['a hundred thousand open braces', `a: ${'{a: '.repeat(100_000)}`, 'spec-too-large'],
    ['a hundred thousand list marks', '- '.repeat(100_000), 'spec-too-large'],
    ['ten thousand explicit keys', '? '.repeat(10_000), 'spec-too-large'],
    ['a hundred thousand tags', `a: ${'!a '.repeat(100_000)}x`, 'spec-too-large'],
    ['a thousand levels', levels(1000), 'spec-too-large'],
    ['three hundred levels', levels(300), 'spec-unknown-key'],
    ['twenty megabytes', 'x'.repeat(20_000_000), 'spec-too-large'],
    ['one very long line', `title: ${'x'.repeat(500_000)}`, 'spec-text'],
    ['fifty thousand keys', Array.from({ length: 50_000 }, (_, i) => `k${i}: 1`).join('\n'), 'spec-unknown-key'],
    ['a zero byte', 'modproof: 1\u0000', 'spec-too-large'],
    ['nothing', '', 'spec-yaml'],
    ['comments only', '# a\n# b\n', 'spec-yaml'],
    ['one word', 'hello', 'spec-wrong-kind'],
    ['a list', '- a\n- b\n', 'spec-wrong-kind'],
    ['two documents', `${goodSpec}\n---\n${goodSpec}`, 'spec-yaml'],
    ['a tab as indentation', goodSpec.replace('  name:', '\tname:'), 'spec-yaml'],
    ['an open quote', goodSpec.replace('title: Wheel', 'title: "Wheel'), 'spec-yaml'],
    ['an open brace', goodSpec.replace('{ empty-weight: 540 kg }', '{ empty-weight: 540 kg '), 'spec-yaml'],
    ['a key that is a list', `${goodSpec}? [a, b]\n: c\n`, 'spec-yaml'],
    ['XML', '<?xml version="1.0"?><gpx></gpx>', 'spec-wrong-kind'],
  ];
  for (const [name, text, code] of cases) {
    it(`${name} is refused`, () => refused(text, code));
  }

  it('is read in time that grows no faster than its length', () => {
    const entry =
      '  - track: tracks/N.gpx\n    configuration: after\n    air-temperature: 14 degC\n    wind: 080 deg 4 kt\n';
    const spec = (count: number): string =>
      goodSpec.replace(
        'flights:\n',
        `flights:\n${Array.from({ length: count }, (_, i) => entry.replace('N', `t${i}`)).join('')}`,
      );
    const time = (text: string): number => {
      const started = process.hrtime.bigint();
      assert.ok(parseSpec(text, 'a').spec);
      return Number(process.hrtime.bigint() - started) / 1e6;
    };
    time(spec(50));
    const [small, large] = [time(spec(400)), time(spec(1600))];
    assert.ok(large < 16 * Math.max(small, 5), `${small} ms for 400 flights, ${large} ms for 1600`);
  });

  it('survives mutations: no throw, every place is in the text, errors and a spec exclude each other', () => {
    const piece = fc.constantFrom(
      '',
      ' ',
      '\n',
      ':',
      '- ',
      '{',
      '}',
      '[',
      ']',
      '"',
      "'",
      '#',
      '&a ',
      '*a',
      '!!int ',
      '|',
      '>',
      '?',
      '%',
      '@',
      '\t',

      '<<: *a',
      '\u0001',
      '\ud800',
      '999999999999',
      'null',
      '~',
      '± 1',
      '-',
      '.inf',
      '0x10',
      'constructor',
      '\u2028',
    );
    const edit = fc.tuple(fc.nat({ max: goodSpec.length }), fc.nat({ max: 12 }), piece);
    fc.assert(
      fc.property(fc.array(edit, { minLength: 1, maxLength: 4 }), (edits) => {
        let text = goodSpec;
        for (const [at, cut, put] of edits) text = text.slice(0, at) + put + text.slice(at + cut);
        const { spec, problems } = parseSpec(text, 'a');
        const lines = text.split('\n').length;
        for (const { at, message, code } of problems) {
          assert.ok(message.length > 0 && code.startsWith('spec-'));
          assert.ok(at?.line !== undefined && at.line >= 1 && at.line <= lines, `${code} ${at?.line}`);
          assert.ok((at.column ?? 0) >= 1 && (at.endLine ?? 0) >= at.line);
          assert.ok(at.endLine !== at.line || (at.endColumn ?? 0) >= (at.column ?? 0));
        }
        const errors = problems.some((problem) => problem.severity === 'error');
        assert.ok(!(errors && spec !== undefined));
        assert.ok(errors || spec !== undefined || problems.some((problem) => problem.code === 'spec-blank'));
      }),
      { seed: 20260503, numRuns: 400 },
    );
  });

  it('survives any text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 200 }), (text) => {
        assert.ok(parseSpec(text, 'a').spec === undefined);
      }),
      { seed: 11, numRuns: 300 },
    );
  });
});
