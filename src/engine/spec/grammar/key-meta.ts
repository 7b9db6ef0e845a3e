import * as z from 'zod';
import type { Dimension } from '../../../../shared/units.ts';

/** What a person needs to know of a key of the language. Diagnostics, completion, hover and the JSON Schema use it. */
export interface KeyMeta {
  /** One sentence. */
  readonly doc: string;
  /** As it would be written after the colon. */
  readonly example?: string;
  /** For a quantity. */
  readonly dimension?: Dimension;
  /** For a closed list of words: what each means. */
  readonly words?: Readonly<Record<string, string>>;
  /** What other people call it; leads an unknown key to this one. */
  readonly alsoCalled?: readonly string[];
  /** The value is a name that is defined elsewhere in the spec. */
  readonly names?: 'configurations' | 'airfields' | 'runways' | 'days' | 'tracks' | 'metrics';
  /** The keys of the block are names that are defined elsewhere in the spec. */
  readonly keyNames?: 'stations';
  /** How other YAML editors see the value, where it is not text (the spec itself is read as text throughout). */
  readonly jsonSchema?: Readonly<Record<string, unknown>>;
}

export const keyMeta = z.registry<KeyMeta>();

/** A key of the language: its shape and its meaning in one place. Shapes come from factories, so each is registered once. */
export function key<S extends z.ZodType>(shape: S, meta: KeyMeta): S {
  keyMeta.add(shape, meta);
  return shape;
}

/** The meaning of a shape, looking through `optional`. */
export function metaOf(shape: z.ZodType): KeyMeta | undefined {
  const found = keyMeta.get(shape);
  if (found !== undefined) return found;
  return shape instanceof z.ZodOptional ? metaOf(shape.unwrap() as z.ZodType) : undefined;
}
