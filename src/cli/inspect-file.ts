import type { Problem } from '../../shared/problem.ts';
import { eventFileName, parseEventFile, type RecordedSpan } from '../engine/event-file/index.ts';
import type { EngineParts } from '../engine/evaluate/index.ts';
import type { EventOverride } from '../engine/analysis.ts';
import { recordedSpan } from '../engine/track/summary.ts';
import { isPattern } from '../engine/glob.ts';
import type { CommandIo } from './io.ts';
import type { InspectedFile } from './inspect-json.ts';
import { foldersBelow } from './track-list.ts';
import { IsFolder } from './world-node.ts';

async function eventOverrides(
  file: string,
  recorded: RecordedSpan,
  io: CommandIo,
): Promise<{ readonly overrides: readonly EventOverride[]; readonly problems: readonly Problem[] }> {
  const name = eventFileName(file);
  try {
    const source = await io.world.open(name);
    return parseEventFile(new TextDecoder().decode(await source.read(0, source.sizeBytes)), name, recorded);
  } catch {
    return { overrides: [], problems: [] };
  }
}

/** Reads and analyses one recording; whatever goes wrong becomes a problem. Rejects only when interrupted. */
export async function inspectFile(
  file: string,
  parts: EngineParts,
  io: CommandIo,
  onProgress?: (fraction: number) => void,
): Promise<InspectedFile> {
  const failed = (code: string, message: string): InspectedFile => ({
    file,
    problems: [{ code, severity: 'error', message, at: { file } }],
    contents: [],
  });
  let source;
  try {
    source = await io.world.open(file);
  } catch (error) {
    return failed('track-not-found', whyNotFound(file, error));
  }
  try {
    const read = await parts.readRecording(source, { signal: io.signal, onProgress });
    if (read.track === undefined)
      return { file, format: read.format, problems: read.problems, contents: read.contents };
    const corrected = await eventOverrides(file, recordedSpan(read.track), io);
    const options = corrected.overrides.length === 0 ? {} : { overrides: corrected.overrides };
    const analysis = parts.analyse(read.track, { ...options, signal: io.signal });
    return {
      file,
      format: read.format,
      analysis,
      problems: [...read.problems, ...corrected.problems, ...analysis.problems],
      contents: read.contents,
      overrides: corrected.overrides,
    };
  } catch (error) {
    io.signal.throwIfAborted();
    return failed(
      'track-failed',
      `This file could not be analysed: ${error instanceof Error ? error.message : String(error)}.`,
    );
  }
}

/** Why what was named gives no recording: a folder and a pattern are told apart from a file that is not there. */
function whyNotFound(file: string, error: unknown): string {
  if (isPattern(file)) return 'There is no recording of this pattern.';
  if (error instanceof IsFolder)
    return `There is no recording in this folder, nor in those up to ${foldersBelow} below it.`;
  return `This file cannot be opened: ${error instanceof Error ? error.message : String(error)}.`;
}
