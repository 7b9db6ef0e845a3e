import type { LeftOut } from './result.ts';
import { type CollectedRun, sigmaOf } from './run.ts';

/** Two recorders differ by less than this in the time of one event, s; two take-offs or climbs of one aeroplane lie further apart. */
const sameWithinS = 60;

/** A take-off that two recorders saw is one take-off: the recording that measured it better counts, the other is left out with the reason. */
export function withoutSameEvents(
  metric: string,
  runs: readonly CollectedRun[],
): { readonly runs: readonly CollectedRun[]; readonly leftOut: readonly LeftOut[] } {
  const leftOut: LeftOut[] = [];
  const kept: CollectedRun[] = [];
  const better = [...runs].sort(
    (a, b) => sigmaOf(a.raw) / Math.abs(a.raw.value) - sigmaOf(b.raw) / Math.abs(b.raw.value),
  );
  for (const run of better) {
    const twin = kept.find(
      (other) =>
        other.file !== run.file &&
        other.day === run.day &&
        other.configuration === run.configuration &&
        Math.abs(other.timeS - run.timeS) < sameWithinS,
    );
    if (twin === undefined) kept.push(run);
    else {
      const reason = `The same event as ${twin.file}, number ${twin.number}, which measured it better: it counts once.`;
      leftOut.push({ file: run.file, metric, number: run.number, reason, by: 'engine' });
    }
  }
  return { runs: runs.filter((run) => kept.includes(run)), leftOut };
}
