import assert from 'node:assert/strict';
import type { Problem } from '../../../../../shared/problem.ts';
import { type QuickFix, quickFixes } from '../../../../../src/engine/spec/editor/index.ts';
import { parseSpec } from '../../../../../src/engine/spec/parse.ts';
import { goodSpec } from '../good-spec.ts';
import { applied } from './marked.ts';

function problemIn(text: string, code: string): Problem {
  const found = parseSpec(text, 'x').problems.find((problem) => problem.code === code);
  assert.ok(found, `no ${code} in ${JSON.stringify(parseSpec(text, 'x').problems)}`);
  return found;
}

function fixes(text: string, code: string): readonly QuickFix[] {
  return quickFixes(text, problemIn(text, code));
}

function errors(text: string): number {
  return parseSpec(text, 'x').problems.filter(({ severity }) => severity === 'error').length;
}

describe('quick fixes', () => {
  it('mends a misspelt key, in a block and in braces', () => {
    for (const [good, bad] of [
      ['    weight: 720', '    wieght: 720'],
      ['slope: 0.8 %', 'slop: 0.8 %'],
      ['    technique: tail', '    tecnique: tail'],
      ['  usable-fuel:', '  "usable-fule":'],
    ]) {
      const text = goodSpec.replace(good, bad);
      const [fix] = fixes(text, 'spec-unknown-key');
      assert.ok(fix?.preferred, bad);
      assert.equal(errors(applied(text, fix.edits)), 0, applied(text, fix.edits));
    }
  });

  it('leads a synonym to the key, and a blank one, too', () => {
    const text = goodSpec.replace('  - track: tracks/a.gpx', '  - file: tracks/a.gpx');
    assert.equal(fixes(text, 'spec-unknown-key')[0].title, 'Change to "track"');
    const blank = goodSpec.replace('    weight: 720 kg\n', '    wieght:\n');
    assert.equal(fixes(blank, 'spec-unknown-key')[0].title, 'Change to "weight"');
  });

  it('offers each plausible unit where one is missing', () => {
    const text = goodSpec.replace('weight: 720 kg', 'weight: 720');
    const offered = fixes(text, 'spec-quantity');
    assert.deepEqual(
      offered.map(({ title }) => title),
      ['Write "720 kg"', 'Write "720 lb"'],
    );
    for (const fix of offered) assert.equal(errors(applied(text, fix.edits).replace('720 lb', '1720 lb')), 0);
  });

  it('keeps an uncertainty and a comment behind it', () => {
    const text = goodSpec.replace('weight: 720 kg', 'weight: 720 +- 10 # by the scales');
    const [fix] = fixes(text, 'spec-quantity');
    assert.match(applied(text, fix.edits), /weight: 720 \+- 10 kg # by the scales/);
  });

  it('mends a comma and a gallon that may be two', () => {
    const comma = goodSpec.replace('weight: 720 kg', 'weight: 720,5 kg');
    assert.match(applied(comma, fixes(comma, 'spec-quantity')[0].edits), /weight: 720\.5 kg/);
    const gallons = goodSpec.replace('usable-fuel: 120 L', 'usable-fuel: 32 gal');
    assert.ok(fixes(gallons, 'spec-quantity').some(({ title }) => title === 'Write "32 US gal"'));
  });

  it('changes an unknown name to the one that is near, and offers the others', () => {
    const text = goodSpec.replace('configuration: before', 'configuration: befor');
    const offered = fixes(text, 'spec-unknown-name');
    assert.deepEqual(
      offered.map(({ title, preferred }) => [title, preferred]),
      [
        ['Change to "before"', true],
        ['Change to "after"', false],
      ],
    );
    assert.equal(errors(applied(text, offered[0].edits)), 0);
    const word = goodSpec.replace('fixed-pitch', 'fixed pitch');
    assert.match(applied(word, fixes(word, 'spec-word')[0].edits), /propeller: fixed-pitch/);
  });

  it('fills a blank whose answer is one of a few, before its comment', () => {
    const text = goodSpec.replace('configuration: before', 'configuration: # before or after');
    const blank = parseSpec(text, 'x').problems.find(
      ({ code, message }) => code === 'spec-blank' && message.includes('configuration'),
    );
    assert.ok(blank);
    const offered = quickFixes(text, blank);
    assert.deepEqual(
      offered.map(({ title }) => title),
      ['Fill in "before"', 'Fill in "after"'],
    );
    assert.match(applied(text, offered[0].edits), /configuration: before # before or after/);
    assert.equal(errors(applied(text, offered[0].edits)), 0);
  });

  it('adds a key that is missing, and a baseline', () => {
    const text = goodSpec.replace('    configuration: after\n', '');
    const [fix] = fixes(text, 'spec-missing-key');
    assert.match(applied(text, fix.edits), /track: tracks\/after\/\*\.gpx\n {4}configuration:\n/);
    const none = goodSpec.replace('baseline: true, ', '');
    const offered = fixes(none, 'spec-baseline');
    assert.deepEqual(
      offered.map(({ title }) => title),
      ['Make "before" the baseline', 'Make "after" the baseline'],
    );
    assert.equal(errors(applied(none, offered[0].edits)), 0);
    const version = goodSpec.replace('modproof: 1\n', '');
    assert.equal(errors(applied(version, fixes(version, 'spec-missing-key')[0].edits)), 0);
  });

  it('proposes recordings that are there', () => {
    const problem: Problem = {
      code: 'track-not-found',
      severity: 'error',
      message: '',
      at: { line: 22, column: 12, endLine: 22, endColumn: 24 },
    };
    const text = goodSpec;
    const line = text.split('\n').findIndex((one) => one.includes('track: tracks/a.gpx')) + 1;
    const at = { line, column: 12, endLine: line, endColumn: 24 };
    const offered = quickFixes(text, { ...problem, at }, ['tracks/a.igc', 'tracks/b.gpx', 'tracks/aa.gpx']);
    assert.equal(offered[0].title, 'Change to "tracks/a.igc"');
    assert.match(applied(text, offered[0].edits), /track: tracks\/a\.igc\n/);
  });

  it('turns tabs into spaces', () => {
    const text = 'modproof: 1\naircraft:\n\tname: Tern\n';
    const [fix] = fixes(text, 'spec-yaml');
    assert.equal(applied(text, fix.edits), 'modproof: 1\naircraft:\n  name: Tern\n');
  });
});
