import type { Analysis, AnalysisOptions } from '../analysis.ts';
import type { Track } from '../track/track.ts';
import type { World } from '../world.ts';
import { furtherFiles } from './further.ts';
import { filesOf, type LikelyFlight, likelyFlights, type RecordingOutline } from './one-flight.ts';
import { readFlight, type ReadRecording } from './read-flight.ts';

/** A recording that was read by itself. */
export interface InspectedRecording {
  readonly file: string;
  /** Absent when it could not be read. */
  readonly analysis?: Analysis;
  readonly outline?: RecordingOutline;
}

/** A flight with all its recordings, as a new spec takes it. */
export interface FoundFlight {
  readonly file: string;
  readonly analysis?: Analysis;
  readonly continuedIn?: readonly string[];
  readonly alsoRecordedBy?: readonly { readonly file: string; readonly continuedIn: readonly string[] }[];
}

/** What reads and analyses, and where names start. */
export interface Reading {
  readonly readRecording: ReadRecording;
  readonly analyse: (track: Track, options: AnalysisOptions) => Analysis;
  readonly world: World;
  readonly from?: string;
  readonly signal: AbortSignal;
}

/** Offsets beyond this are a matter for a person: a clock that is minutes off may be that of another flight. */
const mostOffsetS = 120;

/**
 * The flights among recordings: those that are in several of them are read again and joined. Only what is certain is joined:
 * parts that follow each other at once, and recorders that were at the same places and move alike; all else stays a flight
 * of its own. In the order given, of the recordings that come first.
 */
export async function foundFlights(
  inspected: readonly InspectedRecording[],
  reading: Reading,
): Promise<readonly FoundFlight[]> {
  const flights = new Map<string, FoundFlight>();
  const taken = new Set<string>();
  for (const { analysis } of inspected) {
    // What an event file names is in its flight already.
    for (const part of analysis?.recording.parts ?? []) if (part.role !== 'first' && part.joined) taken.add(part.file);
  }
  const alone = inspected.filter(({ file, analysis }) => !taken.has(file) && analysis?.recording.parts === undefined);
  for (const likely of likelyFlights(alone.flatMap(({ outline }) => outline ?? []))) {
    const sure = await certain(likely, reading);
    if (sure === undefined) continue;
    const { file, continuedIn, alsoRecordedBy } = sure.likely;
    flights.set(file, { file, analysis: sure.analysis, continuedIn, alsoRecordedBy });
    for (const one of filesOf(sure.likely)) if (one !== file) taken.add(one);
  }
  return inspected.flatMap(({ file, analysis }): FoundFlight[] =>
    taken.has(file) ? [] : [flights.get(file) ?? { file, ...(analysis === undefined ? {} : { analysis }) }],
  );
}

/** All files of a found flight; one where it is in one. */
export function filesOfFlight({ file, continuedIn = [], alsoRecordedBy = [] }: FoundFlight): readonly string[] {
  return filesOf({ file, continuedIn, alsoRecordedBy });
}

/** What of a likely flight can be joined; nothing when that is the first recording alone. */
async function certain(
  likely: LikelyFlight,
  reading: Reading,
): Promise<{ readonly likely: LikelyFlight; readonly analysis: Analysis } | undefined> {
  const named = (file: string): { readonly file: string } => ({ file });
  const further = {
    continuedIn: likely.continuedIn.map(named),
    alsoRecordedBy: likely.alsoRecordedBy.map(({ file, continuedIn }) => ({
      file,
      continuedIn: continuedIn.map(named),
    })),
  };
  const { readRecording, world, from, signal } = reading;
  const { track } = await readFlight({ file: likely.file, further }, from, readRecording, world, { signal });
  if (track?.parts === undefined) return undefined;
  const doubtful = new Set(
    track.parts.flatMap(({ file, joined, clockOffsetS }) =>
      joined && Math.abs(clockOffsetS?.value ?? 0) <= mostOffsetS ? [] : [file],
    ),
  );
  if (doubtful.size === 0) return { likely, analysis: reading.analyse(track, { signal }) };
  const sure: LikelyFlight = {
    file: likely.file,
    continuedIn: likely.continuedIn.filter((file) => !doubtful.has(file)),
    // A recorder that does not fit takes its parts with it.
    alsoRecordedBy: likely.alsoRecordedBy
      .filter(({ file }) => !doubtful.has(file))
      .map((second) => ({ ...second, continuedIn: second.continuedIn.filter((file) => !doubtful.has(file)) })),
  };
  if (filesOf(sure).length === 1 || filesOf(sure).length === furtherFiles(further).length + 1) return undefined;
  return certain(sure, reading);
}
