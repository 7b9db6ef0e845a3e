import { dirname, join, relative, resolve } from 'node:path';
import type { DisplayUnits } from '../../../shared/display-units.ts';
import { type EngineParts, type Evaluation } from '../../engine/evaluate/index.ts';
import { withHiddenPlaces } from '../../engine/report/index.ts';
import { comparisonJson } from '../compare-json.ts';
import { comparisonText } from '../compare-text.ts';
import { exitCodes } from '../exit-codes.ts';
import type { CommandIo } from '../io.ts';
import { evaluateSpec } from '../evaluate-spec.ts';
import { readSpec } from '../read-spec.ts';
import { insertReport, putReport } from '../put-report.ts';
import { problemLines } from '../show-problems.ts';

export interface CompareOptions {
  readonly json: boolean;
  readonly output?: string;
  readonly report: boolean;
  /** Instead of the spec's. */
  readonly units?: DisplayUnits;
  readonly cache: boolean;
  readonly force: boolean;
  /** Whatever the spec says. */
  readonly hidePositions: boolean;
  readonly verbose: boolean;
}

export async function compareCommand(
  path: string,
  options: CompareOptions,
  parts: EngineParts,
  io: CommandIo,
): Promise<number> {
  const specText = await readSpec(path, io);
  const evaluated = await evaluateSpec(path, specText, options, parts, io);
  const evaluation = options.hidePositions ? withHiddenPlaces(evaluated) : evaluated;
  io.tell(problemLines(evaluation.problems, options.verbose || evaluation.spec === undefined, path));
  const errors = evaluation.problems.some((problem) => problem.severity === 'error');
  if (evaluation.spec === undefined) {
    if (options.json) io.write(`${JSON.stringify(comparisonJson(evaluation), null, 2)}\n`);
    else io.tell(errors ? '' : `${path} is not complete yet: fill in the blanks.\n`);
    return errors ? exitCodes.problems : exitCodes.failed;
  }
  const { units } = evaluation.spec.report;
  // The report is written before anything is said, so that a message never promises what is not there.
  const written = await writeReports(path, evaluation, units, options, io);
  if (options.json) io.write(`${JSON.stringify(comparisonJson(evaluation), null, 2)}\n`);
  else {
    io.write(comparisonText(evaluation, units));
    for (const name of written) io.write(`\nReport: ${name}\n`);
    if (written.length === 0 && options.report)
      io.write('\nNo report was written: name one with --output report.md, or in the spec under "report".\n');
  }
  return errors ? exitCodes.problems : exitCodes.ok;
}

/** Writes what the spec or the command line asks for; gives the names of what was written, as seen from here. */
async function writeReports(
  path: string,
  evaluation: Evaluation,
  units: DisplayUnits,
  options: CompareOptions,
  io: CommandIo,
): Promise<readonly string[]> {
  const besideSpec = (name: string): string => join(dirname(resolve(io.workingFolder, path)), name);
  const shown = (target: string): string => relative(io.workingFolder, target) || target;
  const written: string[] = [];
  if (options.output !== undefined) {
    const target = resolve(io.workingFolder, options.output);
    await putReport(target, evaluation, units, options.force);
    return [shown(target)];
  }
  if (!options.report || options.json) return [];
  const { file, insertInto } = evaluation.spec?.report ?? {};
  if (file !== undefined) {
    await putReport(besideSpec(file), evaluation, units, options.force);
    written.push(shown(besideSpec(file)));
  }
  if (insertInto !== undefined) {
    await insertReport(besideSpec(insertInto), evaluation, units);
    written.push(shown(besideSpec(insertInto)));
  }
  return written;
}
