import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import * as z from 'zod';
import { assistSchemaText, specJsonSchemaText } from '../../src/engine/spec/json-schema.ts';
import { specKeys } from '../../src/engine/spec/key-docs.ts';
import { parse } from 'yaml';
import { goodSpec } from '../unit/engine/spec/good-spec.ts';

const file = 'src/engine/spec/comparison.schema.json';

describe('the JSON Schema of the spec', () => {
  it('is the one that the language gives (else: node --import=tsx test/tools/write-spec-schema.ts)', () => {
    assert.deepEqual(JSON.parse(readFileSync(file, 'utf8')), JSON.parse(specJsonSchemaText()));
  });

  it('knows every key of the language', () => {
    const text = readFileSync(file, 'utf8');
    for (const key of specKeys()) assert.ok(text.includes(`"${key.name}":`), key.path);
  });

  it('accepts a good spec as other YAML readers see it, and refuses a quantity without a unit', () => {
    const schema = z.fromJSONSchema(JSON.parse(readFileSync(file, 'utf8')) as z.core.JSONSchema.JSONSchema);
    const good: unknown = parse(goodSpec);
    assert.deepEqual(schema.safeParse(good).error?.issues, undefined);
    assert.equal(schema.safeParse(parse(goodSpec.replace('720 kg', '720'))).success, false);
    assert.equal(schema.safeParse(parse(goodSpec.replace('weight: 720 kg', 'wieght: 720 kg'))).success, false);
  });

  it('comes in a form that refuses nothing, for editors where the engine tells the problems', () => {
    const text = readFileSync('src/engine/spec/comparison-assist.schema.json', 'utf8');
    assert.deepEqual(JSON.parse(text), JSON.parse(assistSchemaText()));
    for (const key of specKeys()) assert.ok(text.includes(`"${key.name}":`), key.path);
    const schema = z.fromJSONSchema(JSON.parse(text) as z.core.JSONSchema.JSONSchema);
    for (const spoilt of [
      goodSpec,
      goodSpec.replace('720 kg', '720'),
      goodSpec.replace('weight:', 'wieght:'),
      'flights: 3',
      'modproof: 9',
    ])
      assert.equal(schema.safeParse(parse(spoilt)).success, true, spoilt);
    assert.match(text, /"examples": \[\s*"fixed-pitch",\s*"constant-speed"/);
  });
});
