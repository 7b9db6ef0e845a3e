import type { Problem } from '../../../shared/problem.ts';
import { isPattern } from '../glob.ts';
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

/** Expands patterns and folders. A recording that is listed by itself takes its own entry; the first pattern wins. */
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
  const expanded: FlightEntry[] = [];
  entries.forEach((entry, index) => {
    if (single(index) || (found[index].length === 0 && !isPattern(entry.track))) {
      expanded.push(entry);
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
      expanded.push({ ...entry, track: file });
    }
  });
  return { entries: expanded, problems };
}
