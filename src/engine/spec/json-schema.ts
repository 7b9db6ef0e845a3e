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

/** What a schema may say without ever refusing anything. */
const harmless = new Set(['title', 'description', 'examples', '$ref']);

/**
 * The schema for editors where this engine runs, too: it proposes and explains, and refuses nothing, because what is wrong
 * is told by the engine, and should be told once. Committed as `comparison-assist.schema.json`.
 */
export function assistSchema(schema: unknown = specJsonSchema()): Record<string, unknown> {
  const result: Record<string, unknown> = {};
  for (const [key, value] of Object.entries(schema as Record<string, unknown>)) {
    const nested = typeof value === 'object' && value !== null;
    if (key === 'enum' || key === 'const') result.examples = key === 'enum' ? value : [value];
    else if (harmless.has(key)) result[key] ??= value;
    else if ((key === 'properties' || key === '$defs') && nested)
      result[key] = Object.fromEntries(Object.entries(value).map(([name, inner]) => [name, assistSchema(inner)]));
    else if ((key === 'items' || key === 'additionalProperties') && nested) result[key] = assistSchema(value);
    else if ((key === 'anyOf' || key === 'oneOf') && Array.isArray(value))
      result.anyOf = value.map((one) => assistSchema(one));
  }
  return result;
}

export function assistSchemaText(): string {
  return `${JSON.stringify(assistSchema(), null, 2)}\n`;
}
