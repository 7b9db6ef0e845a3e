import * as z from 'zod';
import { keyMeta } from './grammar/key-meta.ts';
import { specShape } from './grammar/language.ts';
import { quantityPattern } from './grammar/shapes.ts';

/**
 * JSON Schema (draft 2020-12) of the language, for editors that know YAML but not this engine. It is weaker than
 * `parseSpec`: names and values are not checked against each other. Committed as `comparison.schema.json`.
 */
export function specJsonSchema(): Record<string, unknown> {
  const schema = z.toJSONSchema(specShape, {
    io: 'input',
    metadata: z.registry<Record<string, unknown>>(),
    unrepresentable: 'any',
    override: ({ zodSchema, jsonSchema }) => {
      const meta = keyMeta.get(zodSchema as unknown as z.ZodType);
      if (meta === undefined) return;
      const target = jsonSchema as Record<string, unknown>;
      if (meta.doc !== '') target.description = meta.doc;
      if (meta.example !== undefined && target.type === 'string')
        target.examples = [meta.example.replace(/^"(.*)"$/, '$1')];
      if (meta.dimension !== undefined && target.type === 'string' && meta.dimension !== 'angle') {
        target.pattern = quantityPattern(meta.dimension);
      }
      if (meta.jsonSchema !== undefined) {
        for (const key of ['type', 'anyOf', 'examples', 'pattern']) delete target[key];
        Object.assign(target, meta.jsonSchema);
      }
    },
  });
  return {
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    title: 'Modproof comparison spec (*.modproof.yaml)',
    ...schema,
  };
}

/** The text of the committed file. */
export function specJsonSchemaText(): string {
  return `${JSON.stringify(specJsonSchema(), null, 2)}\n`;
}
