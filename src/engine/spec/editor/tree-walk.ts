import type * as z from 'zod';
import type { Place } from '../../../../shared/problem.ts';
import { type KeyMeta, metaOf } from '../grammar/key-meta.ts';
import { specShape } from '../grammar/language.ts';
import { alternatives, shapeInside } from '../grammar/walk.ts';
import type { Path, YamlTree } from '../yaml-tree.ts';

/** Something written in a spec, with what the language says of it. */
export interface WrittenNode {
  readonly path: Path;
  readonly value: unknown;
  /** Absent under an unknown key. */
  readonly shape?: z.ZodType;
  /** The kind of name it is, if it is one: its own, or that of the list it stands in. */
  readonly names?: KeyMeta['names'];
}

function namesOf(shape: z.ZodType | undefined): KeyMeta['names'] {
  if (shape === undefined) return undefined;
  return metaOf(shape)?.names ?? alternatives(shape).flatMap((option) => metaOf(option)?.names ?? [])[0];
}

/** Visits everything that is written, outside in. */
export function walkTree(tree: YamlTree, visit: (node: WrittenNode) => void): void {
  const step = (value: unknown, path: Path, shape: z.ZodType | undefined, inherited: KeyMeta['names']): void => {
    const names = namesOf(shape) ?? inherited;
    visit({ path, value, ...(shape === undefined ? {} : { shape }), ...(names === undefined ? {} : { names }) });
    const inside = (key: string | number, inner: unknown): void =>
      step(inner, [...path, key], shape && shapeInside(shape, key), Array.isArray(value) ? names : undefined);
    if (Array.isArray(value)) value.forEach((inner, index) => inside(index, inner));
    else if (typeof value === 'object' && value !== null)
      for (const [key, inner] of Object.entries(value)) inside(key, inner);
  };
  step(tree.value, [], specShape, undefined);
}

/** True when a position (from 1) lies on a place, its end included: the cursor stands behind the last letter, too. */
export function covers(place: Place, line: number, column: number): boolean {
  return place.line === line && column >= (place.column ?? 1) && column <= (place.endColumn ?? place.column ?? 1);
}

/** The place without the name of its file. */
export function bare({ line, column, endLine, endColumn }: Place): Place {
  return { line, column, endLine, endColumn };
}
