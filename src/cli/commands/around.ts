import { dirname, join, relative, resolve } from 'node:path';
import type { DisplayUnits } from '../../../shared/display-units.ts';
import type { DecisionResult } from '../../engine/decision/index.ts';
import { type EngineParts } from '../../engine/evaluate/index.ts';
import {
  type AroundContext,
  candidatesSection,
  loadingSection,
  missionsSection,
  planSection,
  rangeSection,
} from '../../engine/report/index.ts';
import { decisionJson, shortNumbers } from '../decision-json.ts';
import { exitCodes } from '../exit-codes.ts';
import { failureJson } from '../failure-json.ts';
import { CommandFailure, type CommandIo } from '../io.ts';
import { evaluateSpec } from '../evaluate-spec.ts';
import { readSpec } from '../read-spec.ts';
import { problemLines } from '../show-problems.ts';
import { writeNew } from '../write-file.ts';

/** The parts of the job around the flights, by the name of their section in the spec. */
export const aroundCommands = {
  loading: 'loading',
  range: 'fuel',
  candidates: 'candidates',
  missions: 'missions',
  plan: 'plan',
} as const;

export type AroundCommand = keyof typeof aroundCommands;

export interface AroundOptions {
  readonly json: boolean;
  readonly units?: DisplayUnits;
  readonly cache: boolean;
  readonly verbose: boolean;
  /** `plan` only: where the test card goes, instead of the spec's `card`. */
  readonly output?: string;
}

function textOf(command: AroundCommand, decided: DecisionResult, context: AroundContext): string | undefined {
  switch (command) {
    case 'loading':
      return decided.loading && loadingSection(decided.loading, context);
    case 'range':
      return decided.range && rangeSection(decided.range, context);
    case 'candidates':
      return decided.candidates && candidatesSection(decided.candidates, context);
    case 'missions':
      return decided.missions && missionsSection(decided.missions, context);
    default:
      return decided.plan && planSection(decided.plan, context);
  }
}

/** Prints one part as Markdown (or JSON); `plan` also writes the test card, never over an existing file. */
export async function aroundCommand(
  command: AroundCommand,
  path: string,
  options: AroundOptions,
  parts: EngineParts,
  io: CommandIo,
): Promise<number> {
  const specText = await readSpec(path, io);
  const evaluation = await evaluateSpec(path, specText, options, parts, io);
  io.tell(problemLines(evaluation.problems, options.verbose || evaluation.spec === undefined, path));
  const errors = evaluation.problems.some((problem) => problem.severity === 'error');
  const { spec, decision } = evaluation;
  if (spec === undefined && options.json) io.write(failureJson(command, evaluation.problems));
  if (spec === undefined) return errors ? exitCodes.problems : exitCodes.failed;
  const context: AroundContext = {
    units: options.units ?? spec.report.units,
    heading: (level) => '#'.repeat(Math.max(1, level - 1)),
    show: () => '',
  };
  const text = decision && textOf(command, decision, context);
  if (decision === undefined || text === undefined) {
    throw new CommandFailure(
      `${path} has no section "${aroundCommands[command]}". The language is described in src/engine/spec/README.md.`,
      exitCodes.failed,
    );
  }
  if (options.json) {
    io.write(`${JSON.stringify(decisionJson(decision)[command], shortNumbers, 2)}\n`);
  } else io.write(`${text.trimEnd()}\n`);
  if (command === 'plan' && decision.plan !== undefined && !options.json) {
    const target = options.output ?? spec.decision?.plan?.card;
    if (target === undefined) io.write(`\n${decision.plan.card}\n${decision.plan.sheet}`);
    else {
      const beside = options.output === undefined ? dirname(resolve(io.workingFolder, path)) : io.workingFolder;
      const file = resolve(beside, join(target));
      await writeCard(file, `${decision.plan.card}\n${decision.plan.sheet}`, target);
      io.write(`\nTest card: ${relative(io.workingFolder, file) || file}\n`);
    }
  }
  return errors ? exitCodes.problems : exitCodes.ok;
}

async function writeCard(file: string, text: string, named: string): Promise<void> {
  try {
    await writeNew(file, text);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    throw new CommandFailure(
      `${named} exists already and is left as it is: name another card with --output, or move it away.`,
      exitCodes.failed,
    );
  }
}
