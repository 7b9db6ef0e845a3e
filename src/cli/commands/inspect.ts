import type { DisplayUnits } from '../../../shared/display-units.ts';
import type { EngineParts } from '../../engine/evaluate/index.ts';
import { exitCodes } from '../exit-codes.ts';
import { inspectFile } from '../inspect-file.ts';
import { inspectionJson } from '../inspect-json.ts';
import { inspectionText } from '../inspect-text.ts';
import type { CommandIo } from '../io.ts';
import { progressOn } from '../progress.ts';
import { problemLines } from '../show-problems.ts';
import { listTracks } from '../track-list.ts';

export interface InspectOptions {
  readonly json: boolean;
  readonly verbose: boolean;
  readonly units: DisplayUnits;
}

export async function inspect(
  words: readonly string[],
  options: InspectOptions,
  parts: EngineParts,
  io: CommandIo,
): Promise<number> {
  const tracks = await listTracks(words, io);
  const progress = progressOn(io);
  let analysed = 0;
  // JSON is written file by file: an array of any length needs no memory.
  if (options.json) io.write('[');
  let first = true;
  let errors = false;
  for (const [index, { file }] of tracks.entries()) {
    io.signal.throwIfAborted();
    progress.show(index / tracks.length, file);
    const inspected = await inspectFile(file, parts, io, (fraction) =>
      progress.show((index + fraction) / tracks.length, file),
    );
    progress.clear();
    errors ||= inspected.problems.some((problem) => problem.severity === 'error');
    io.tell(problemLines(inspected.problems, options.verbose, file));
    if (options.json) io.write(`${first ? '\n' : ',\n'}${JSON.stringify(inspectionJson(inspected))}`);
    else io.write(`${first ? '' : '\n'}${inspectionText(inspected, options.units)}`);
    first = false;
    if (inspected.analysis !== undefined) analysed++;
  }
  if (options.json) io.write('\n]\n');
  if (analysed === 0) return exitCodes.failed;
  return errors ? exitCodes.problems : exitCodes.ok;
}
