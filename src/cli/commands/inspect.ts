import type { DisplayUnits } from '../../../shared/display-units.ts';
import type { EngineParts } from '../../engine/evaluate/index.ts';
import { exitCodes } from '../exit-codes.ts';
import { formatCount } from '../../../shared/format.ts';
import {
  filesOf,
  type LikelyFlight,
  likelyFlights,
  type RecordingOutline,
  wrongClocks,
  wrongClockText,
} from '../../engine/recordings/index.ts';
import { inspectFile, inspectOneFlight } from '../inspect-file.ts';
import { inspectionJson } from '../inspect-json.ts';
import { inspectionText } from '../inspect-text.ts';
import type { CommandIo } from '../io.ts';
import { progressOn } from '../progress.ts';
import { problemLines } from '../show-problems.ts';
import { type ListedTrack, listTracks } from '../track-list.ts';

export interface InspectOptions {
  readonly json: boolean;
  readonly verbose: boolean;
  readonly units: DisplayUnits;
  /** The files are recordings of one flight. */
  readonly oneFlight: boolean;
}

export async function inspect(
  words: readonly string[],
  options: InspectOptions,
  parts: EngineParts,
  io: CommandIo,
): Promise<number> {
  const tracks = await listTracks(words, io);
  if (options.oneFlight) return inspectTogether(tracks, options, parts, io);
  const progress = progressOn(io);
  const outlines: RecordingOutline[] = [];
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
    // What names its further recordings is joined already.
    if (inspected.outline !== undefined && inspected.analysis?.recording.parts === undefined)
      outlines.push(inspected.outline);
    if (inspected.analysis !== undefined) analysed++;
  }
  if (options.json) io.write('\n]\n');
  for (const likely of likelyFlights(outlines)) io.tell(hintOf(likely));
  for (const wrong of wrongClocks(outlines)) io.tell(`${wrongClockText(wrong)}\n`);
  if (analysed === 0) return exitCodes.failed;
  return errors ? exitCodes.problems : exitCodes.ok;
}

function quoted(file: string): string {
  return /^[\w./-]+$/.test(file) ? file : JSON.stringify(file);
}

/** That some of the files are one flight, and what to do about it. */
function hintOf(likely: LikelyFlight): string {
  const files = filesOf(likely).map(quoted).join(' ');
  return `${formatCount(filesOf(likely).length, 'of these recordings is', 'of these recordings are')} of one flight, it seems; joined: modproof inspect --one-flight ${files}\n`;
}

async function inspectTogether(
  tracks: readonly ListedTrack[],
  options: InspectOptions,
  parts: EngineParts,
  io: CommandIo,
): Promise<number> {
  const files = tracks.map(({ file }) => file);
  const progress = progressOn(io);
  const inspected = await inspectOneFlight(files, parts, io, (fraction, file) => progress.show(fraction, file));
  progress.clear();
  io.tell(problemLines(inspected.problems, options.verbose, files[0]));
  if (options.json) io.write(`[\n${JSON.stringify(inspectionJson(inspected))}\n]\n`);
  else io.write(inspectionText(inspected, options.units));
  if (inspected.analysis === undefined) return exitCodes.failed;
  const errors = inspected.problems.some(({ severity }) => severity === 'error');
  const apart = inspected.analysis.recording.parts?.some(({ joined }) => !joined) === true;
  return errors || apart ? exitCodes.problems : exitCodes.ok;
}
