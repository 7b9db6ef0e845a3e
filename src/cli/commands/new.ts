import { dirname, relative, resolve, sep } from 'node:path';
import type { EngineParts } from '../../engine/evaluate/index.ts';
import { filesOfFlight, foundFlights, wrongClocks, wrongClockText } from '../../engine/recordings/index.ts';
import { newSpec, type RecordedFlight } from '../../engine/spec/index.ts';
import { exitCodes } from '../exit-codes.ts';
import { formatList } from '../../../shared/format.ts';
import { inspectFile } from '../inspect-file.ts';
import type { InspectedFile } from '../inspect-json.ts';
import { CommandFailure, type CommandIo } from '../io.ts';
import { progressOn } from '../progress.ts';
import { problemLines } from '../show-problems.ts';
import { listTracks } from '../track-list.ts';
import { writeNew } from '../write-file.ts';

export interface NewOptions {
  readonly output: string;
  readonly title?: string;
  readonly verbose: boolean;
}

/** Configuration by folder, where tracks lie in folders "before" and "after". */
function configurationOf(file: string): string | undefined {
  const folders = file.toLowerCase().split('/').slice(0, -1);
  return (['before', 'after'] as const).find((name) => folders.includes(name));
}

export async function newCommand(
  words: readonly string[],
  options: NewOptions,
  parts: EngineParts,
  io: CommandIo,
): Promise<number> {
  const tracks = await listTracks(words, io);
  const toStdout = options.output === '-';
  const target = resolve(io.workingFolder, toStdout ? 'comparison.modproof.yaml' : options.output);
  const progress = progressOn(io);
  const read: { readonly inspected: InspectedFile; readonly found: boolean }[] = [];
  let errors = false;
  for (const [index, { file, found }] of tracks.entries()) {
    io.signal.throwIfAborted();
    const inspected = await inspectFile(file, parts, io, (fraction) =>
      progress.show((index + fraction) / tracks.length, file),
    );
    progress.clear();
    errors ||= inspected.problems.some((problem) => problem.severity === 'error');
    io.tell(problemLines(inspected.problems, options.verbose, file));
    read.push({ inspected, found });
  }
  const found = await foundFlights(
    read.filter((one) => one.found).map(({ inspected }) => inspected),
    { ...parts, world: io.world, signal: io.signal },
  );
  const fromSpec = (file: string): string =>
    relative(dirname(target), resolve(io.workingFolder, file)).split(sep).join('/');
  const flights = found.map(
    ({ continuedIn, alsoRecordedBy, ...flight }): RecordedFlight => ({
      ...flight,
      file: fromSpec(flight.file),
      ...(continuedIn && { continuedIn: continuedIn.map(fromSpec) }),
      ...(alsoRecordedBy && {
        alsoRecordedBy: alsoRecordedBy.map((second) => ({
          file: fromSpec(second.file),
          continuedIn: second.continuedIn.map(fromSpec),
        })),
      }),
    }),
  );
  if (flights.every((flight) => flight.analysis === undefined))
    throw new CommandFailure('None of these could be read as a recording; nothing was written.', exitCodes.failed);
  const text = newSpec(flights, { ...(options.title === undefined ? {} : { title: options.title }), configurationOf });
  if (toStdout) io.write(text);
  else {
    try {
      await writeNew(target, text);
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
      throw new CommandFailure(
        `${options.output} exists and is not overwritten. Choose another name: --output other.modproof.yaml`,
        exitCodes.failed,
      );
    }
    for (const files of found.map(filesOfFlight))
      if (files.length > 1) io.write(`One flight, as its clocks and places show: ${formatList(files)}.\n`);
    for (const wrong of wrongClocks(read.flatMap(({ inspected }) => inspected.outline ?? [])))
      io.tell(`${wrongClockText(wrong)}\n`);
    io.write(`${options.output} written. Fill in its blanks, then: modproof check ${options.output}\n`);
  }
  return errors ? exitCodes.problems : exitCodes.ok;
}
