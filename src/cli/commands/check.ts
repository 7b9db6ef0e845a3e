import { findTracks } from '../../engine/evaluate/index.ts';
import type { Problem } from '../../../shared/problem.ts';
import { furtherFiles } from '../../engine/recordings/index.ts';
import { parseSpec } from '../../engine/spec/index.ts';
import { exitCodes } from '../exit-codes.ts';
import { failureProblem } from '../failure-json.ts';
import { CommandFailure, type CommandIo } from '../io.ts';
import { readSpec } from '../read-spec.ts';
import { problemJson, problemLine } from '../show-problems.ts';
import { formatCount } from '../../../shared/format.ts';

/** Problems of a spec, and recordings that do not exist. */
async function problemsOf(
  path: string,
  io: CommandIo,
): Promise<{ readonly problems: readonly Problem[]; readonly complete: boolean }> {
  const { spec, problems } = parseSpec(await readSpec(path, io), path);
  if (spec === undefined) return { problems, complete: false };
  const found = await findTracks(spec.flights, io.world, path);
  const absent: Problem[] = [];
  for (const entry of found.entries) {
    await io.world.open(entry.track, path).catch(() => {
      absent.push({
        code: 'track-not-found',
        severity: 'error',
        message: `"${entry.track}" cannot be opened: is the name right, relative to the spec?`,
        at: entry.at,
      });
    });
    for (const { file, at } of furtherFiles(entry.further)) {
      await io.world.open(file, path).catch(() => {
        absent.push({
          code: 'track-not-found',
          severity: 'error',
          message: `"${file}", named as a further recording of "${entry.track}", cannot be opened: is the name right, relative to the spec?`,
          at,
        });
      });
    }
  }
  return { problems: [...problems, ...found.problems, ...absent], complete: true };
}

export async function check(
  paths: readonly string[],
  options: { readonly json: boolean },
  io: CommandIo,
): Promise<number> {
  const all: Problem[] = [];
  let unreadable = false;
  for (const path of paths) {
    const { problems, complete } = await problemsOf(path, io).catch((error: unknown) => {
      // One that cannot be read does not keep the others from being checked.
      if (!(error instanceof CommandFailure)) throw error;
      unreadable = true;
      return {
        problems: [{ ...failureProblem(error.message.replace(`${path}: `, '')), at: { file: path } }],
        complete: false,
      };
    });
    all.push(...problems);
    const errors = problems.filter((problem) => problem.severity === 'error').length;
    const blanks = problems.filter((problem) => problem.code === 'spec-blank').length;
    const verdict = errors > 0 ? formatCount(errors, 'error') : complete ? 'ready to compare' : 'not complete yet';
    io.tell(problems.map((problem) => `${problemLine(problem, path)}\n`).join(''));
    if (!options.json)
      io.write(`${path}: ${verdict}${blanks > 0 ? `, ${formatCount(blanks, 'blank')} to be filled` : ''}\n`);
  }
  if (options.json) io.write(`${JSON.stringify(all.map(problemJson), null, 2)}\n`);
  if (unreadable) return exitCodes.failed;
  return all.some((problem) => problem.severity === 'error') ? exitCodes.problems : exitCodes.ok;
}
