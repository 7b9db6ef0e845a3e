import type * as z from 'zod';
import { metaOf } from './grammar/key-meta.ts';
import { specShape, type WrittenSpec } from './grammar/language.ts';
import { shapeAt } from './grammar/walk.ts';
import { flatIssues, pathOf } from './shape-problems.ts';
import type { Path } from './yaml-tree.ts';

type Container = Record<string | number, unknown>;

export interface Mended {
  /** What is left when everything refused is taken away; absent when a section that must be there is. */
  readonly written?: WrittenSpec;
  /** Path in the file of a path in `written`: entries of lists may have been taken away. */
  readonly original: (path: Path) => Path;
}

const mostRounds = 6;

/**
 * Takes away what the shapes refused, so that the rest can still be checked against itself and all problems are told at
 * once. A key that must be there takes its entry with it.
 */
export function mend(value: unknown, first: z.ZodError): Mended {
  const root = structuredClone(value);
  const kept = new WeakMap<object, number[]>();
  const original = (path: Path): Path => {
    const result: (string | number)[] = [];
    let at: unknown = root;
    for (const step of path) {
      const indices = Array.isArray(at) ? kept.get(at) : undefined;
      result.push(typeof step === 'number' && indices !== undefined ? (indices[step] ?? step) : step);
      at = (at as Container | undefined)?.[step];
    }
    return result;
  };
  let error: z.ZodError = first;
  for (let round = 0; round < mostRounds; round++) {
    const doomed = new Map<object, Set<number>>();
    for (const issue of flatIssues(error)) {
      const path = pathOf(issue);
      if (issue.code === 'unrecognized_keys') {
        const parent = containerAt(root, path);
        for (const key of issue.keys) delete parent?.[key];
      } else if (!takeAway(root, path, doomed)) return { original };
    }
    for (const [list, indices] of doomed) dropEntries(list as unknown[], indices, kept);
    const result = specShape.safeParse(root);
    if (result.success) return { written: result.data, original };
    error = result.error;
  }
  return { original };
}

function containerAt(root: unknown, path: Path): Container | undefined {
  let at: unknown = root;
  for (const step of path) at = typeof at === 'object' && at !== null ? (at as Container)[step] : undefined;
  return typeof at === 'object' && at !== null ? (at as Container) : undefined;
}

/** Marks or deletes the value at a path; the entry around it when there is none. False when nothing is left to take. */
function takeAway(root: unknown, path: Path, doomed: Map<object, Set<number>>): boolean {
  if (path.length === 0) return false;
  const step = path[path.length - 1];
  const parent = containerAt(root, path.slice(0, -1));
  if (parent === undefined) return true;
  if (Array.isArray(parent) && typeof step === 'number') {
    doomed.set(parent, (doomed.get(parent) ?? new Set()).add(step));
    return true;
  }
  if (Object.hasOwn(parent, step)) {
    // A wrong value of a key that must be there gives way to its example: the spec is refused anyhow, and only checked on.
    const shape = shapeAt(specShape, path);
    const example = shape && metaOf(shape)?.example;
    const required = shape?.safeParse(undefined).success === false;
    if (required && example !== undefined && parent[step] !== example) parent[step] = example;
    else delete parent[step];
    return true;
  }
  return takeAway(root, path.slice(0, -1), doomed);
}

function dropEntries(list: unknown[], indices: ReadonlySet<number>, kept: WeakMap<object, number[]>): void {
  const before = kept.get(list) ?? list.map((_, index) => index);
  kept.set(
    list,
    before.filter((_, index) => !indices.has(index)),
  );
  const rest = list.filter((_, index) => !indices.has(index));
  list.splice(0, list.length, ...rest);
}
