import * as z from 'zod';
import type { KeyMeta } from './grammar/key-meta.ts';
import { specShape } from './grammar/language.ts';
import { alternatives, keysOf } from './grammar/walk.ts';

/** A key of the language with its place in it. */
export interface KeyDoc extends KeyMeta {
  /** `flights[].air-temperature`, `configurations.*.empty-weight`: `[]` is any entry, `*` a name of the writer's own. */
  readonly path: string;
  readonly name: string;
  readonly required: boolean;
}

function collect(shape: z.ZodType, path: string, found: KeyDoc[]): void {
  for (const entry of keysOf(shape)) {
    const inner = path === '' ? entry.name : `${path}.${entry.name}`;
    found.push({ ...entry.meta, path: inner, name: entry.name, required: entry.required });
    inside(entry.shape, inner, found);
  }
}

function inside(shape: z.ZodType, path: string, found: KeyDoc[]): void {
  collect(shape, path, found);
  for (const option of alternatives(shape)) {
    if (option instanceof z.ZodRecord) inside(option.def.valueType as z.ZodType, `${path}.*`, found);
    if (option instanceof z.ZodArray) inside(option.def.element as z.ZodType, `${path}[]`, found);
  }
}

/** Every key of the language, in its order, with its meaning. */
export function specKeys(): readonly KeyDoc[] {
  const found: KeyDoc[] = [];
  collect(specShape, '', found);
  return found;
}
