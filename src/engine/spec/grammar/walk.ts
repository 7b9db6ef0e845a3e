import * as z from 'zod';
import { type KeyMeta, metaOf } from './key-meta.ts';

/** Looks through what does not change how a value is written: optional, transforms. */
export function bare(shape: z.ZodType): z.ZodType {
  if (shape instanceof z.ZodOptional) return bare(shape.unwrap() as z.ZodType);
  if (shape instanceof z.ZodPipe) return bare(shape.def.in as z.ZodType);
  return shape;
}

/** The ways a value may be written: one, or those of a union. */
export function alternatives(shape: z.ZodType): readonly z.ZodType[] {
  const inner = bare(shape);
  if (inner instanceof z.ZodUnion)
    return (inner.def.options as readonly z.ZodType[]).flatMap((option) => alternatives(option));
  return [inner];
}

export interface KnownKey {
  readonly name: string;
  readonly shape: z.ZodType;
  readonly meta: KeyMeta;
  readonly required: boolean;
}

const nothing: KeyMeta = { doc: '' };

/** The keys that a mapping of this shape may have; empty where the names are the writer's own or it is no mapping. */
export function keysOf(shape: z.ZodType): readonly KnownKey[] {
  return alternatives(shape).flatMap((option) => {
    if (!(option instanceof z.ZodObject)) return [];
    return Object.entries(option.shape as Record<string, z.ZodType>).map(([name, inner]) => ({
      name,
      shape: inner,
      meta: metaOf(inner) ?? nothing,
      required: !(inner instanceof z.ZodOptional),
    }));
  });
}

/** The shape one step further in: by key, by a name of the writer's own, or by index. */
export function shapeInside(shape: z.ZodType, step: string | number): z.ZodType | undefined {
  for (const option of alternatives(shape)) {
    if (option instanceof z.ZodObject) {
      const inner = (option.shape as Record<string, z.ZodType>)[String(step)];
      if (inner !== undefined && Object.hasOwn(option.shape, step)) return inner;
    } else if (option instanceof z.ZodRecord) return option.def.valueType as z.ZodType;
    else if (option instanceof z.ZodArray && typeof step === 'number') return option.def.element as z.ZodType;
  }
  return undefined;
}

export function shapeAt(root: z.ZodType, path: readonly (string | number)[]): z.ZodType | undefined {
  let shape: z.ZodType | undefined = root;
  for (const step of path) shape = shape && shapeInside(shape, step);
  return shape;
}

/** "a mapping of keys", "a list", "one line of text", or several joined by "or". */
export function describeKind(shape: z.ZodType): string {
  const words = alternatives(shape).map((option) => {
    if (option instanceof z.ZodObject) return 'a block of keys';
    if (option instanceof z.ZodRecord) return 'a block of named entries';
    if (option instanceof z.ZodArray) return 'a list';
    return 'a value on one line';
  });
  return [...new Set(words)].join(' or ');
}
