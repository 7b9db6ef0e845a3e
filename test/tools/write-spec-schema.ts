// Writes the JSON Schemas of the spec from the language: node --import=tsx test/tools/write-spec-schema.ts
import { writeFileSync } from 'node:fs';
import { assistSchemaText, specJsonSchemaText } from '../../src/engine/spec/json-schema.ts';

writeFileSync('src/engine/spec/comparison.schema.json', specJsonSchemaText());
writeFileSync('src/engine/spec/comparison-assist.schema.json', assistSchemaText());
