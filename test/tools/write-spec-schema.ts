// Writes the JSON Schema of the spec from the language: node --import=tsx test/tools/write-spec-schema.ts
import { writeFileSync } from 'node:fs';
import { specJsonSchemaText } from '../../src/engine/spec/json-schema.ts';

writeFileSync('src/engine/spec/comparison.schema.json', specJsonSchemaText());
