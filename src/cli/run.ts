import { parseArgs } from 'node:util';
import {
  type DisplayUnits,
  type DisplayUnitSet,
  displayUnitSets,
  defaultDisplayUnits,
} from '../../shared/display-units.ts';
import { formatList } from '../../shared/format.ts';
import type { EngineParts } from '../engine/evaluate/index.ts';
import { nearest } from '../engine/spec/index.ts';
import { engineVersion } from '../engine/version.ts';
import { aroundCommand } from './commands/around.ts';
import { check } from './commands/check.ts';
import { compareCommand } from './commands/compare.ts';
import { inspect } from './commands/inspect.ts';
import { newCommand } from './commands/new.ts';
import { shareCommand } from './commands/share.ts';
import { exitCodes } from './exit-codes.ts';
import { failureJson, failureProblem } from './failure-json.ts';
import { helpTexts } from './help.ts';
import { CommandFailure, type CommandIo } from './io.ts';

const boolean = { type: 'boolean' } as const;
const string = { type: 'string' } as const;

const around = { json: boolean, units: string, 'no-cache': boolean, verbose: boolean, help: boolean } as const;

/** Options of each command; those of no command are in no other. */
const optionsOf = {
  inspect: { json: boolean, 'one-flight': boolean, units: string, verbose: boolean, help: boolean },
  compare: {
    json: boolean,
    output: string,
    'no-report': boolean,
    'hide-positions': boolean,
    units: string,
    'no-cache': boolean,
    force: boolean,
    verbose: boolean,
    help: boolean,
  },
  check: { json: boolean, help: boolean },
  new: { output: string, title: string, verbose: boolean, help: boolean },
  share: {
    json: boolean,
    output: string,
    cut: string,
    around: { type: 'string', multiple: true },
    heights: string,
    dates: string,
    format: string,
    secret: string,
    verbose: boolean,
    help: boolean,
  },
  loading: around,
  range: around,
  candidates: around,
  missions: around,
  plan: { ...around, output: string },
} as const;

type CommandName = keyof typeof optionsOf;
const commandNames = Object.keys(optionsOf) as CommandName[];

function wrong(message: string): CommandFailure {
  return new CommandFailure(`${message}\nSee: modproof --help`, exitCodes.usage);
}

function unitsOf(name: string | undefined): DisplayUnits | undefined {
  if (name === undefined) return undefined;
  if (Object.hasOwn(displayUnitSets, name)) return displayUnitSets[name as DisplayUnitSet];
  throw wrong(`--units ${name}: expected ${formatList(Object.keys(displayUnitSets), 'or')}.`);
}

interface Parsed {
  readonly values: Readonly<Record<string, string | boolean | readonly string[] | undefined>>;
  readonly words: readonly string[];
}

function parse(command: CommandName, rest: readonly string[]): Parsed {
  try {
    const { values, positionals } = parseArgs({
      args: [...rest],
      options: optionsOf[command],
      allowPositionals: true,
      strict: true,
    });
    return { values: values as Parsed['values'], words: positionals };
  } catch (error) {
    const name = /'--?([\w-]+)/.exec(error instanceof Error ? error.message : '')?.[1] ?? '';
    const near = nearest(name, Object.keys(optionsOf[command]));
    const advice = near === undefined || near === name ? '' : ` Did you mean --${near}?`;
    throw wrong(`${error instanceof Error ? error.message.split('.')[0] : String(error)}.${advice}`);
  }
}

async function dispatch(
  command: CommandName,
  { values, words }: Parsed,
  parts: EngineParts,
  io: CommandIo,
): Promise<number> {
  const [json, verbose] = [values.json === true, values.verbose === true];
  const units = unitsOf(values.units as string | undefined);
  const output = values.output as string | undefined;
  if (words.length === 0)
    throw wrong(
      `modproof ${command}: name a ${command === 'inspect' || command === 'new' ? 'recording' : command === 'share' ? 'recording or a spec' : 'spec'}.`,
    );
  switch (command) {
    case 'inspect':
      return inspect(
        words,
        { json, verbose, units: units ?? defaultDisplayUnits, oneFlight: values['one-flight'] === true },
        parts,
        io,
      );
    case 'check':
      return check(words, { json }, io);
    case 'new':
      return newCommand(
        words,
        { output: output ?? 'comparison.modproof.yaml', title: values.title as string | undefined, verbose },
        parts,
        io,
      );
    case 'share': {
      const { cut, heights, dates, format, secret } = values as Readonly<Record<string, string | undefined>>;
      const around = (values.around ?? []) as readonly string[];
      return shareCommand(words, { json, verbose, output, cut, around, heights, dates, format, secret }, parts, io);
    }
    case 'compare':
      if (words.length > 1) throw wrong('modproof compare takes one spec.');
      if (output !== undefined && !/\.(?:md|markdown)$/i.test(output))
        throw wrong(`--output ${output}: expected a name that ends in ".md": the report is Markdown.`);
      return compareCommand(
        words[0],
        {
          json,
          verbose,
          units,
          output,
          report: values['no-report'] !== true,
          cache: values['no-cache'] !== true,
          force: values.force === true,
          hidePositions: values['hide-positions'] === true,
        },
        parts,
        io,
      );
    default:
      if (words.length > 1) throw wrong(`modproof ${command} takes one spec.`);
      return aroundCommand(
        command,
        words[0],
        { json, verbose, units, output, cache: values['no-cache'] !== true },
        parts,
        io,
      );
  }
}

/** Runs one command line; gives the exit code. Only programmer mistakes are thrown. */
export async function run(args: readonly string[], parts: EngineParts, terminal: CommandIo): Promise<number> {
  let silent = true;
  const io: CommandIo = {
    ...terminal,
    write: (text) => {
      silent = false;
      terminal.write(text);
    },
  };
  /** Tells why nothing was done; a script that asked for JSON gets some. */
  const fail = (message: string, exitCode: number): number => {
    io.tell(`modproof: ${message}\n`);
    const command = commandNames.find((name) => name === args[0]);
    if (silent && command !== undefined && command !== 'new' && args.includes('--json'))
      io.write(failureJson(command, [failureProblem(message)]));
    return exitCode;
  };
  try {
    const [first, ...rest] = args;
    if (first === undefined || first === '--help' || first === '-h' || first === 'help') {
      const about = rest.find((word) => Object.hasOwn(optionsOf, word)) ?? '';
      (first === undefined ? io.tell : io.write)(helpTexts[about]);
      return first === undefined ? exitCodes.usage : exitCodes.ok;
    }
    if (first === '--version') {
      io.write(`${engineVersion}\n`);
      return exitCodes.ok;
    }
    const command = commandNames.find((name) => name === first);
    if (command === undefined) {
      const near = nearest(first, commandNames);
      throw wrong(
        `"${first}" is no command: ${formatList(commandNames, 'or')}.${near === undefined ? '' : ` Did you mean "${near}"?`}`,
      );
    }
    const parsed = parse(
      command,
      rest.map((word) => (word === '-h' ? '--help' : word)),
    );
    if (parsed.values.help === true) {
      io.write(helpTexts[command]);
      return exitCodes.ok;
    }
    return await dispatch(command, parsed, parts, io);
  } catch (error) {
    if (io.signal.aborted) {
      io.tell('\nInterrupted.\n');
      return exitCodes.interrupted;
    }
    if (error instanceof CommandFailure) return fail(error.message, error.exitCode);
    const code = (error as NodeJS.ErrnoException | undefined)?.code;
    if (typeof code === 'string' && /^E[A-Z]+$/.test(code)) return fail((error as Error).message, exitCodes.failed);
    throw error;
  }
}
