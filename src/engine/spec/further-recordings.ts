import type { Place, Problem } from '../../../shared/problem.ts';
import * as z from 'zod';
import { isPattern } from '../glob.ts';
import type { FurtherFile, FurtherRecordings } from '../recordings/index.ts';
import { csvMapping } from './grammar/sections/csv.ts';
import { furtherKeys, type WrittenFurther } from './grammar/sections/further.ts';
import { keysOf } from './grammar/walk.ts';
import { flatIssues, pathOf } from './shape-problems.ts';
import { type Path, readYaml } from './yaml-tree.ts';

/**
 * Further recordings as written, as the engine takes them; `undefined` where none is named.
 *
 * @param placeOf place of a path inside the block that has the keys
 */
export function furtherOf(written: WrittenFurther, placeOf: (path: Path) => Place): FurtherRecordings | undefined {
  const parts = (files: readonly string[] | undefined, path: Path): FurtherFile[] =>
    (files ?? []).map((file, index) => ({ file, at: placeOf([...path, 'continued-in', index]) }));
  const continuedIn = parts(written['continued-in'], []);
  const alsoRecordedBy = (written['also-recorded-by'] ?? []).map((second, index) => {
    const path: Path = ['also-recorded-by', index];
    const { 'clock-offset': offset, csv } = second;
    return {
      file: second.track,
      at: placeOf([...path, 'track']),
      continuedIn: parts(second['continued-in'], path),
      ...(offset === undefined ? {} : { clockOffsetS: { value: offset.value, sigma: offset.sigma } }),
      ...(csv === undefined ? {} : { csv: csvMapping(csv) }),
    };
  });
  return continuedIn.length + alsoRecordedBy.length === 0 ? undefined : { continuedIn, alsoRecordedBy };
}

const furtherShape = z.strictObject(furtherKeys());

/**
 * Reads the keys that name further recordings at the top of another YAML text (an event file); other keys are left to
 * others. A fault is a problem with its line, and nothing comes back then.
 */
export function parseFurtherKeys(
  text: string,
  fileName: string,
  names: readonly string[],
): { readonly further?: FurtherRecordings; readonly problems: readonly Problem[] } {
  const tree = readYaml(text.replace(/^\ufeff/, ''), fileName);
  // Whoever reads the rest tells that it is no YAML.
  if (typeof tree.value !== 'object' || tree.value === null) return { problems: [] };
  const own = Object.fromEntries(Object.entries(tree.value).filter(([name]) => names.includes(name)));
  const result = furtherShape.safeParse(own);
  if (!result.success) {
    const problems = flatIssues(result.error).map((issue): Problem => {
      const path = pathOf(issue);
      const known = keysOf(furtherShape).find(({ name }) => name === path[0])?.meta.example;
      const message =
        issue.code === 'custom'
          ? issue.message
          : issue.code === 'unrecognized_keys'
            ? `Unknown key "${issue.keys[0]}".`
            : `Expected a file, or a list of files${known === undefined ? '' : `, such as "${known}"`}.`;
      return { code: 'event-file-recordings', severity: 'error', message, at: tree.placeOf(path) };
    });
    return { problems };
  }
  const further = furtherOf(result.data, (path) => tree.placeOf(path));
  const unclear = [...(further?.continuedIn ?? []), ...(further?.alsoRecordedBy ?? [])].find(({ file }) =>
    isPattern(file),
  );
  if (unclear !== undefined) {
    const message = 'Name the files of a flight one by one: a pattern may take in those of another.';
    return { problems: [{ code: 'event-file-recordings', severity: 'error', message, at: unclear.at }] };
  }
  return { problems: [], ...(further === undefined ? {} : { further }) };
}
