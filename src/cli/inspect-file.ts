import { eventFileName, parseEventFile, parseFurther } from '../engine/event-file/index.ts';
import type { EngineParts } from '../engine/evaluate/index.ts';
import type { ReadResult } from '../engine/readers/reader.ts';
import { asOneFlight, furtherBeside, joinFlight, outlineOf, readFlight } from '../engine/recordings/index.ts';
import { recordedSpan } from '../engine/track/summary.ts';
import { isPattern } from '../engine/glob.ts';
import type { CommandIo } from './io.ts';
import type { InspectedFile } from './inspect-json.ts';
import { foldersBelow } from './track-list.ts';
import { IsFolder } from './world-node.ts';

/** The event file beside a recording; undefined where there is none. */
async function eventText(file: string, io: CommandIo): Promise<string | undefined> {
  try {
    const source = await io.world.open(eventFileName(file));
    return new TextDecoder().decode(await source.read(0, source.sizeBytes));
  } catch {
    return undefined;
  }
}

/**
 * Reads and analyses one flight, with the further recordings that the event file beside it names; whatever goes wrong becomes
 * a problem. Rejects only when interrupted.
 */
export async function inspectFile(
  file: string,
  parts: EngineParts,
  io: CommandIo,
  onProgress?: (fraction: number) => void,
): Promise<InspectedFile> {
  try {
    await io.world.open(file);
  } catch (error) {
    return failed(file, 'track-not-found', whyNotFound(file, error));
  }
  try {
    const text = await eventText(file, io);
    const named = text === undefined ? { problems: [] } : parseFurther(text, eventFileName(file));
    const further = named.further && furtherBeside(file, named.further);
    const flight = { file, ...(further && { further }) };
    const read = await readFlight(flight, undefined, parts.readRecording, io.world, { signal: io.signal, onProgress });
    const result = { ...read, problems: [...named.problems, ...read.problems] };
    return inspectTrack(file, result, text, parts, io);
  } catch (error) {
    io.signal.throwIfAborted();
    return failed(file, 'track-failed', whyFailed(error));
  }
}

/** Reads several recordings of one flight, sorts them into recorders, joins and analyses them. As {@link inspectFile}. */
export async function inspectOneFlight(
  files: readonly string[],
  parts: EngineParts,
  io: CommandIo,
  onProgress: (fraction: number, file: string) => void,
): Promise<InspectedFile> {
  const [file] = files;
  const results: { readonly file: string; readonly read?: ReadResult; readonly why?: string }[] = [];
  for (const [index, name] of files.entries()) {
    const progress = (fraction: number): void => onProgress((index + fraction) / files.length, name);
    progress(0);
    try {
      const source = await io.world.open(name).catch((error: unknown) => whyNotFound(name, error));
      if (typeof source === 'string') results.push({ file: name, why: source });
      else {
        const read = await parts.readRecording(source, {
          signal: io.signal,
          onProgress: progress,
          withoutPositions: index > 0,
        });
        const why = read.problems.find(({ severity }) => severity === 'error')?.message ?? 'It holds no usable track.';
        results.push({ file: name, read, ...(read.track === undefined ? { why } : {}) });
      }
    } catch (error) {
      io.signal.throwIfAborted();
      results.push({ file: name, why: whyFailed(error) });
    }
  }
  const [first] = results;
  if (first.read === undefined) return failed(file, 'track-not-found', first.why ?? 'This file cannot be opened.');
  const { first: recorder, others } = asOneFlight(
    results.map(({ file: name, read, why }) => ({
      file: name,
      ...(read?.format && { format: read.format }),
      ...(read?.track && { track: read.track }),
      ...(why === undefined ? {} : { why }),
    })),
  );
  const joined = joinFlight(recorder, others);
  const read: ReadResult = {
    ...first.read,
    ...(joined.track && { track: joined.track }),
    problems: [...results.flatMap((one) => one.read?.problems ?? []), ...joined.problems],
  };
  try {
    return inspectTrack(file, read, await eventText(file, io), parts, io);
  } catch (error) {
    io.signal.throwIfAborted();
    return failed(file, 'track-failed', whyFailed(error));
  }
}

function inspectTrack(
  file: string,
  { format, track, problems, contents }: ReadResult,
  text: string | undefined,
  parts: EngineParts,
  io: CommandIo,
): InspectedFile {
  if (track === undefined) return { file, format, problems, contents };
  const name = eventFileName(file);
  const corrected =
    text === undefined ? { overrides: [], problems: [] } : parseEventFile(text, name, { ...recordedSpan(track), file });
  const options = corrected.overrides.length === 0 ? {} : { overrides: corrected.overrides };
  const analysis = parts.analyse(track, { ...options, signal: io.signal });
  const outline = outlineOf(file, track, format);
  return {
    file,
    format,
    analysis,
    problems: [...problems, ...corrected.problems, ...analysis.problems],
    contents,
    overrides: corrected.overrides,
    ...(outline === undefined ? {} : { outline }),
  };
}

function failed(file: string, code: string, message: string): InspectedFile {
  return { file, problems: [{ code, severity: 'error', message, at: { file } }], contents: [] };
}

function whyFailed(error: unknown): string {
  return `This file could not be analysed: ${error instanceof Error ? error.message : String(error)}.`;
}

/** Why what was named gives no recording: a folder and a pattern are told apart from a file that is not there. */
function whyNotFound(file: string, error: unknown): string {
  if (isPattern(file)) return 'There is no recording of this pattern.';
  if (error instanceof IsFolder)
    return `There is no recording in this folder, nor in those up to ${foldersBelow} below it.`;
  return `This file cannot be opened: ${error instanceof Error ? error.message : String(error)}.`;
}
