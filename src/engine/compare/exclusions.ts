import type { Problem } from '../../../shared/problem.ts';
import { factsOf } from '../../../shared/metric.ts';
import { globMatcher, isPattern } from '../glob.ts';
import type { Exclusion } from '../spec/types.ts';
import type { LeftOut } from './result.ts';
import type { CollectedRun } from './run.ts';

function matchesTrack(exclusion: Exclusion, file: string): boolean {
  const plain = (path: string): string => path.replace(/\\/g, '/').replace(/^\.\//, '');
  const wanted = plain(exclusion.track);
  return wanted === plain(file) || (isPattern(wanted) && globMatcher(wanted)(plain(file)));
}

function matchesMetric(exclusion: Exclusion, metric: string): boolean {
  return exclusion.metric === undefined || exclusion.metric === metric || exclusion.metric === factsOf(metric)?.name;
}

/** Takes out what the pilot excluded, each with the pilot's reason. `used` collects the exclusions that matched something. */
export function withoutExcluded(
  metric: string,
  runs: readonly CollectedRun[],
  exclusions: readonly Exclusion[],
  used: Set<Exclusion>,
): { readonly runs: readonly CollectedRun[]; readonly leftOut: readonly LeftOut[] } {
  const leftOut: LeftOut[] = [];
  const kept = runs.filter((run) => {
    const found = exclusions.find(
      (exclusion) =>
        matchesTrack(exclusion, run.file) &&
        matchesMetric(exclusion, metric) &&
        (exclusion.number === undefined || exclusion.number === run.number),
    );
    if (found === undefined) return true;
    used.add(found);
    leftOut.push({ file: run.file, metric, number: run.number, reason: found.because, by: 'pilot' });
    return false;
  });
  return { runs: kept, leftOut };
}

/** Whether the whole flight is excluded, with the reason. */
export function wholeFlightExclusion(file: string, exclusions: readonly Exclusion[]): Exclusion | undefined {
  return exclusions.find(
    (exclusion) => exclusion.metric === undefined && exclusion.number === undefined && matchesTrack(exclusion, file),
  );
}

/** Exclusions that took nothing out: most often a slip in the name. */
export function unusedExclusions(exclusions: readonly Exclusion[], used: ReadonlySet<Exclusion>): Problem[] {
  return exclusions
    .filter((exclusion) => !used.has(exclusion))
    .map((exclusion) => ({
      code: 'compare-exclusion-unused',
      severity: 'warning',
      message: `The exclusion of "${exclusion.track}"${exclusion.metric === undefined ? '' : ` for ${exclusion.metric}`}${exclusion.number === undefined ? '' : `, number ${exclusion.number}`} took nothing out: is the name right?`,
      ...(exclusion.at === undefined ? {} : { at: exclusion.at }),
    }));
}
