import type { Analysis } from '../engine/analysis.ts';
import type { EngineParts } from '../engine/evaluate/index.ts';
import { filesOf, furtherFiles, type LikelyFlight, likelyFlights, readFlight } from '../engine/recordings/index.ts';
import type { InspectedFile } from './inspect-json.ts';
import type { CommandIo } from './io.ts';

export interface JoinedFlights {
  /** By the recording that comes first. */
  readonly flights: ReadonlyMap<string, { readonly likely: LikelyFlight; readonly analysis: Analysis }>;
  /** Files that belong to one of them, or to a flight whose event file names them. */
  readonly taken: ReadonlySet<string>;
}

/** Offsets beyond this are a matter for a person: a clock that is minutes off may be that of another flight. */
const mostOffsetS = 120;

/**
 * The flights among recordings that are in several of them, read again and joined. Only what is certain: parts that follow
 * each other at once, and recorders that were at the same places and move alike; all else stays a flight of its own.
 */
export async function joinedFlights(
  inspected: readonly InspectedFile[],
  parts: EngineParts,
  io: CommandIo,
): Promise<JoinedFlights> {
  const flights = new Map<string, { readonly likely: LikelyFlight; readonly analysis: Analysis }>();
  const taken = new Set<string>();
  for (const { analysis } of inspected) {
    for (const part of analysis?.recording.parts ?? []) if (part.role !== 'first' && part.joined) taken.add(part.file);
  }
  const alone = inspected.filter(({ file, analysis }) => !taken.has(file) && analysis?.recording.parts === undefined);
  for (const likely of likelyFlights(alone.flatMap(({ outline }) => outline ?? []))) {
    const sure = await certain(likely, parts, io);
    if (sure === undefined) continue;
    flights.set(likely.file, sure);
    for (const file of filesOf(sure.likely)) if (file !== likely.file) taken.add(file);
  }
  return { flights, taken };
}

/** What of a likely flight can be joined; nothing when that is the first recording alone. */
async function certain(
  likely: LikelyFlight,
  parts: EngineParts,
  io: CommandIo,
): Promise<{ readonly likely: LikelyFlight; readonly analysis: Analysis } | undefined> {
  const named = (file: string): { readonly file: string } => ({ file });
  const further = {
    continuedIn: likely.continuedIn.map(named),
    alsoRecordedBy: likely.alsoRecordedBy.map(({ file, continuedIn }) => ({
      file,
      continuedIn: continuedIn.map(named),
    })),
  };
  const { track } = await readFlight({ file: likely.file, further }, undefined, parts.readRecording, io.world, {
    signal: io.signal,
  });
  if (track?.parts === undefined) return undefined;
  const doubtful = new Set(
    track.parts.flatMap(({ file, joined, clockOffsetS }) =>
      joined && Math.abs(clockOffsetS?.value ?? 0) <= mostOffsetS ? [] : [file],
    ),
  );
  if (doubtful.size === 0) return { likely, analysis: parts.analyse(track, { signal: io.signal }) };
  const sure: LikelyFlight = {
    file: likely.file,
    continuedIn: likely.continuedIn.filter((file) => !doubtful.has(file)),
    // A recorder that does not fit takes its parts with it.
    alsoRecordedBy: likely.alsoRecordedBy
      .filter(({ file }) => !doubtful.has(file))
      .map((second) => ({ ...second, continuedIn: second.continuedIn.filter((file) => !doubtful.has(file)) })),
  };
  if (filesOf(sure).length === 1 || filesOf(sure).length === furtherFiles(further).length + 1) return undefined;
  return certain(sure, parts, io);
}
