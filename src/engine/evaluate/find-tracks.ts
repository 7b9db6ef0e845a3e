import type { Problem } from '../../../shared/problem.ts';
import { eventFileName, parseFurther } from '../event-file/index.ts';
import { isPattern } from '../glob.ts';
import { type FurtherRecordings, furtherBeside, furtherFiles } from '../recordings/index.ts';
import { type FlightEntry, trackKey } from '../spec/index.ts';
import type { World } from '../world.ts';

export interface FoundTracks {
  /** One entry a recording, patterns expanded, in the order of the spec. */
  readonly entries: readonly FlightEntry[];
  readonly problems: readonly Problem[];
}

/** Lie beside recordings and are none: notes, specs, event files, reports and their figures. */
const passedOver = /\.(?:ya?ml|md|markdown|txt|svg|png|jpe?g|json|pdf|html?|docx?|xlsx?|ods)$/i;

function lastName(path: string): string | undefined {
  return trackKey(path).split('/').pop();
}

/** What a track stands for; a name that looks like a pattern and matches nothing may still be the name of a file. */
async function matches(track: string, world: World, specPath: string): Promise<readonly string[]> {
  const found = await world.list(track, specPath);
  if (found.length > 0 || !isPattern(track)) return found;
  const exists = await world.open(track, specPath).then(
    () => true,
    () => false,
  );
  return exists ? [track] : [];
}

/** Further recordings that the event file beside a recording names, as they would be written in the spec. */
async function furtherOfEventFile(
  track: string,
  world: World,
  specPath: string,
): Promise<{ readonly further?: FurtherRecordings; readonly problems: readonly Problem[] }> {
  const name = eventFileName(track);
  let text: string;
  try {
    const source = await world.open(name, specPath);
    text = new TextDecoder().decode(await source.read(0, source.sizeBytes));
  } catch {
    return { problems: [] };
  }
  const { further, problems } = parseFurther(text, name);
  return { problems, ...(further === undefined ? {} : { further: furtherBeside(track, further) }) };
}

/**
 * Expands patterns and folders. A recording that is listed by itself takes its own entry; the first pattern wins. Further
 * recordings of a flight, named in its entry or in the event file beside its first recording, are no flights of their own.
 */
export async function findTracks(
  entries: readonly FlightEntry[],
  world: World,
  specPath: string,
): Promise<FoundTracks> {
  const problems: Problem[] = [];
  const found = await Promise.all(entries.map((entry) => matches(entry.track, world, specPath)));
  const single = (index: number): boolean =>
    found[index].length === 1 && lastName(found[index][0]) === lastName(entries[index].track);
  const listed = new Set(entries.flatMap((entry, index) => (single(index) ? [trackKey(entry.track)] : [])));
  const taken = new Map<string, FlightEntry>();
  const expanded: { readonly entry: FlightEntry; readonly byPattern: boolean }[] = [];
  entries.forEach((entry, index) => {
    if (single(index) || (found[index].length === 0 && !isPattern(entry.track))) {
      expanded.push({ entry, byPattern: false });
      return;
    }
    const files = found[index].filter((file) => !passedOver.test(file));
    if (files.length === 0) {
      problems.push({
        code: 'track-pattern-empty',
        severity: 'error',
        message: `"${entry.track}" matches no recording.`,
        at: entry.at,
      });
    }
    const [further] = furtherFiles(entry.further);
    if (further !== undefined) {
      problems.push({
        code: 'recording-of-which',
        severity: 'error',
        message: `"${entry.track}" stands for ${files.length} recordings, and which of them was recorded in "${further.file}" as well cannot be told: it is not used. Write an entry of its own for that flight.`,
        at: further.at ?? entry.at,
      });
    }
    for (const file of files) {
      const key = trackKey(file);
      if (listed.has(key)) continue;
      const earlier = taken.get(key);
      if (earlier !== undefined) {
        problems.push({
          code: 'track-matched-twice',
          severity: 'warning',
          message: `"${file}" matches "${entry.track}" and "${earlier.track}" (line ${earlier.at?.line}); the first counts.`,
          at: entry.at,
        });
        continue;
      }
      taken.set(key, entry);
      const { further: _, ...own } = entry;
      expanded.push({ entry: { ...own, track: file }, byPattern: true });
    }
  });
  const joined = await withEventFiles(expanded, world, specPath);
  return { entries: joined.entries, problems: [...problems, ...joined.problems] };
}

/** Takes in what event files name, and takes out what a pattern found that is a further recording of another flight. */
async function withEventFiles(
  found: readonly { readonly entry: FlightEntry; readonly byPattern: boolean }[],
  world: World,
  specPath: string,
): Promise<FoundTracks> {
  const problems: Problem[] = [];
  const named = await Promise.all(
    found.map(async ({ entry, byPattern }) => {
      if (entry.further !== undefined) return { entry, byPattern };
      const { further, problems: faults } = await furtherOfEventFile(entry.track, world, specPath);
      return { entry: further === undefined ? entry : { ...entry, further }, byPattern, faults };
    }),
  );
  const belongsTo = new Map<string, string>();
  for (const { entry } of named) {
    for (const { file } of furtherFiles(entry.further))
      if (!belongsTo.has(trackKey(file))) belongsTo.set(trackKey(file), entry.track);
  }
  const flights = new Set(named.filter(({ byPattern }) => !byPattern).map(({ entry }) => trackKey(entry.track)));
  const entries = named.flatMap(({ entry, byPattern, faults }): FlightEntry[] => {
    if (byPattern && belongsTo.has(trackKey(entry.track))) return [];
    problems.push(...(faults ?? []));
    if (entry.further === undefined) return [entry];
    // One file, one flight: what is a flight of its own in the spec, or belongs to another already, does not count here.
    const clash = furtherFiles(entry.further).find(
      ({ file }) => flights.has(trackKey(file)) || belongsTo.get(trackKey(file)) !== entry.track,
    );
    if (clash === undefined) return [entry];
    const { further: _, ...alone } = entry;
    problems.push({
      code: 'recording-of-which',
      severity: 'warning',
      message: `"${clash.file}" is named as a further recording of "${entry.track}", but it is ${flights.has(trackKey(clash.file)) ? 'a flight of its own in the comparison' : `one of "${belongsTo.get(trackKey(clash.file))}"`}. "${entry.track}" is used without further recordings.`,
      at: clash.at ?? entry.at,
    });
    return [alone];
  });
  return { entries, problems };
}
