import type * as z from 'zod';
import type { Problem } from '../../../shared/problem.ts';
import { metaOf } from './grammar/key-meta.ts';
import { specShape } from './grammar/language.ts';
import { describeKind, keysOf, shapeAt } from './grammar/walk.ts';
import { nearest } from './nearest.ts';
import type { Path, YamlTree } from './yaml-tree.ts';

type Issue = z.core.$ZodIssue;

/** Path of an issue; symbols cannot occur in YAML. */
export function pathOf(issue: Issue): (string | number)[] {
  return issue.path.map((step): string | number => (typeof step === 'symbol' ? String(step) : step));
}

/** Where a union failed: the branch that fits the kind of what was written, with the path made whole. */
function flatten(issue: Issue): Issue[] {
  if (issue.code !== 'invalid_union') return [issue];
  const branches = issue.errors as Issue[][];
  const wrongKind = (branch: Issue[]): boolean =>
    branch.some((inner) => inner.path.length === 0 && inner.code === 'invalid_type');
  // Of blocks of several kinds the one that was meant is the one that knows most of the keys written.
  const strangers = (branch: Issue[]): number =>
    branch.reduce(
      (sum, inner) => sum + (inner.code === 'unrecognized_keys' && inner.path.length === 0 ? inner.keys.length : 0),
      0,
    );
  const fitting = branches
    .filter((branch) => branch.length > 0 && !wrongKind(branch))
    .sort((a, b) => strangers(a) - strangers(b))
    .at(0);
  if (fitting === undefined) return [{ ...issue, code: 'invalid_type' } as unknown as Issue];
  return fitting.flatMap((inner) => flatten({ ...inner, path: [...issue.path, ...inner.path] }));
}

/** All issues of a failed parse, unions resolved. */
export function flatIssues(error: z.ZodError): Issue[] {
  return error.issues.flatMap((issue) => flatten(issue));
}

function valueAt(root: unknown, path: Path): unknown {
  let value = root;
  for (const step of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, step)) return undefined;
    value = (value as Record<string | number, unknown>)[step];
  }
  return value;
}

/** "in `flights`, entry 3" for a message. */
export function whereabouts(path: Path): string {
  const words = path.map((step) => (typeof step === 'number' ? `entry ${step + 1}` : `"${step}"`));
  return words.length === 0 ? 'at the top' : `in ${words.join(', ')}`;
}

function unknownKey(key: string, parent: Path, tree: YamlTree): Problem {
  const shape = shapeAt(specShape, parent);
  const known = shape === undefined ? [] : keysOf(shape);
  const names = known.map((entry) => entry.name);
  const wanted = key.toLowerCase().replace(/[_\s]+/g, '-');
  const synonym = known.find((entry) => entry.meta.alsoCalled?.includes(wanted))?.name;
  const near = synonym ?? nearest(key, names);
  const elsewhere = near === undefined ? placeElsewhere(wanted) : undefined;
  let advice = ` Known here: ${names.join(', ')}.`;
  if (near !== undefined) advice = ` Did you mean "${near}"?`;
  else if (elsewhere !== undefined) advice = ` It belongs under "${elsewhere}".`;
  else if (key === '<<') advice = ' To share conditions, write them once under "days" or "airfields".';
  return {
    code: 'spec-unknown-key',
    severity: 'error',
    message: `Unknown key "${key}" ${whereabouts(parent)}.${advice}`,
    at: tree.placeOfKey([...parent, key]),
  };
}

/** More unknown keys than this in one block are counted, not told one by one. */
const mostUnknownKeys = 20;

function unknownKeys(keys: readonly string[], parent: Path, tree: YamlTree): Problem[] {
  const told = keys.slice(0, mostUnknownKeys).map((key) => unknownKey(key, parent, tree));
  const rest = keys.slice(mostUnknownKeys);
  if (rest.length === 0) return told;
  const message = `${rest.length} more unknown keys ${whereabouts(parent)}.`;
  const at = tree.placeOfKey([...parent, rest[0]]);
  return [...told, { code: 'spec-unknown-key', severity: 'error', message, at, count: rest.length }];
}

/** The section that has a key of this name, if exactly one has. */
function placeElsewhere(key: string): string | undefined {
  const found = keysOf(specShape).filter((section) => {
    const inside = [section.shape, shapeAt(section.shape, [0]), shapeAt(section.shape, ['x'])];
    return inside.some((shape) => shape !== undefined && keysOf(shape).some((entry) => entry.name === key));
  });
  return found.length === 1 ? found[0].name : undefined;
}

function missingKey(path: Path, tree: YamlTree): Problem {
  const name = String(path[path.length - 1]);
  const parent = path.slice(0, -1);
  const shape = shapeAt(specShape, path);
  const meta = shape && metaOf(shape);
  const example = meta?.example === undefined ? '' : ` Example: "${name}: ${meta.example}".`;
  return {
    code: 'spec-missing-key',
    severity: 'error',
    message: `Missing "${name}" ${whereabouts(parent)}: ${meta?.doc ?? 'it must be written.'}${example}`,
    at: tree.placeOfKey(parent),
  };
}

function wrongWord(
  issue: Issue & { readonly values: readonly unknown[] },
  written: unknown,
  path: Path,
  tree: YamlTree,
): Problem {
  const words = issue.values.map(String);
  const near = typeof written === 'string' ? nearest(written, words) : undefined;
  const advice = near === undefined ? '' : ` Did you mean "${near}"?`;
  return {
    code: 'spec-word',
    severity: 'error',
    message: `"${String(written)}" is not one of ${words.join(', ')}.${advice}`,
    at: tree.placeOf(path),
  };
}

/** Problems in the words of the language, each at its place, from what the shapes refused. */
export function shapeProblems(issues: readonly Issue[], written: unknown, tree: YamlTree): Problem[] {
  const blank = new Set(tree.blanks.map((path) => JSON.stringify(path)));
  return issues.flatMap((issue): Problem[] => {
    const path = pathOf(issue);
    if (blank.has(JSON.stringify(path))) return [];
    const value = valueAt(written, path);
    if (issue.code === 'unrecognized_keys') return unknownKeys(issue.keys, path, tree);
    if (issue.code === 'invalid_value') {
      if (value === undefined) return [missingKey(path, tree)];
      if (typeof value === 'string') return [wrongWord(issue, value, path, tree)];
    }
    if (issue.code === 'custom') {
      const code = (issue.params as { code?: string } | undefined)?.code ?? 'spec-text';
      return [{ code, severity: 'error', message: issue.message, at: tree.placeOf(path) }];
    }
    if ((issue.code === 'invalid_type' || issue.code === 'invalid_value') && value === undefined)
      return [missingKey(path, tree)];
    if (issue.code === 'invalid_type' || issue.code === 'invalid_value') {
      const shape = shapeAt(specShape, path);
      const meta = shape && metaOf(shape);
      const kind = shape === undefined ? 'something else' : describeKind(shape);
      const example = meta?.example === undefined ? '' : ` such as "${meta.example}"`;
      return [
        {
          code: 'spec-wrong-kind',
          severity: 'error',
          message: `Expected ${kind}${example} ${whereabouts(path)}.${meta ? ` ${meta.doc}` : ''}`,
          at: tree.placeOf(path),
        },
      ];
    }
    return [{ code: 'spec-wrong-kind', severity: 'error', message: issue.message, at: tree.placeOf(path) }];
  });
}
