import { formatList } from '../../../shared/format.ts';
import type { LeftOut } from './result.ts';
import type { CollectedRun } from './run.ts';

/** A shift of the runs of another kind, estimated with the comparison. */
export interface KindShift {
  /** What differs, e.g. "rolling start". */
  readonly name: string;
  /** Its usual size, a fraction. */
  readonly usualShift: number;
  readonly has: (run: CollectedRun) => boolean;
}

export interface LikeRuns {
  readonly runs: readonly CollectedRun[];
  readonly shifts: readonly KindShift[];
  readonly leftOut: readonly LeftOut[];
  /** Sentences: what was compared with what. */
  readonly remarks: readonly string[];
}

/**
 * Compares like with like.
 *
 * Strict kinds (runway surface, power setting, way of measuring) are never pooled: the kind of which the scarcer configuration has most runs is kept.
 * Soft kinds (rolling start, wet or long grass, technique) that were flown in every configuration stay, with a shift of their own that is
 * estimated from the data (before any data: none, give or take its usual size); a soft kind that some configuration lacks is left out, because its shift
 * would pass for a change. What was not noted counts as the usual kind.
 */
export function likeWithLike(metric: string, runs: readonly CollectedRun[]): LikeRuns {
  const leftOut: LeftOut[] = [];
  const remarks: string[] = [];
  const drop = (run: CollectedRun, reason: string): void => {
    leftOut.push({ file: run.file, metric, number: run.number, reason, by: 'engine' });
  };
  let kept = [...runs];
  const strictNames = [...new Set(runs.flatMap((run) => Object.keys(run.kinds.strict)))];
  for (const name of strictNames) {
    const wanted = commonest(kept, (run) => run.kinds.strict[name]);
    if (wanted === undefined) continue;
    const others = kept.filter((run) => run.kinds.strict[name] !== wanted);
    if (others.length === 0) continue;
    for (const run of others)
      drop(run, `Another ${name} (${run.kinds.strict[name]}) than most runs (${wanted}); they are not pooled.`);
    kept = kept.filter((run) => run.kinds.strict[name] === wanted);
    remarks.push(`Only runs with ${name} "${wanted}" are compared.`);
  }
  const shifts: KindShift[] = [];
  const included: string[] = [];
  const softNames = [...new Set(runs.flatMap((run) => Object.keys(run.kinds.soft)))];
  for (const name of softNames) {
    const usual = commonest(kept, (run) => run.kinds.soft[name]?.value);
    if (usual === undefined) continue;
    const others = new Set(kept.flatMap((run) => run.kinds.soft[name]?.value ?? []).filter((value) => value !== usual));
    const shifted: string[] = [];
    for (const other of others) {
      const own = kept.filter((run) => run.kinds.soft[name]?.value === other);
      const configurations = new Set(kept.map((run) => run.configuration));
      const having = new Set(own.map((run) => run.configuration));
      if (having.size < configurations.size) {
        const lacking = [...configurations].filter((id) => !having.has(id));
        for (const run of own) {
          drop(
            run,
            `${capital(name)}: ${other}, which was not flown in ${formatList(lacking.map((id) => `"${id}"`))}.`,
          );
        }
        kept = kept.filter((run) => !own.includes(run));
      } else {
        shifted.push(other);
        shifts.push({
          name: other,
          usualShift: own[0]?.kinds.soft[name]?.usualShift ?? 0.1,
          has: (run) => run.kinds.soft[name]?.value === other,
        });
      }
    }
    if (shifted.length > 0) included.push(`${formatList(shifted)} beside ${usual}`);
  }
  if (included.length > 0) {
    remarks.push(`Runs of several kinds are compared, each kind with a shift of its own: ${formatList(included)}.`);
  }
  return { runs: kept, shifts, leftOut, remarks };
}

/** The kind of which the configuration that has fewest has most; ties by number in all, then by name. Unnoted runs do not vote. */
function commonest(runs: readonly CollectedRun[], of: (run: CollectedRun) => string | undefined): string | undefined {
  const configurations = [...new Set(runs.map((run) => run.configuration))];
  const kinds = [...new Set(runs.flatMap((run) => of(run) ?? []))].sort();
  let best: { kind: string; least: number; all: number } | undefined;
  for (const kind of kinds) {
    const own = runs.filter((run) => of(run) === kind);
    const least = Math.min(...configurations.map((id) => own.filter((run) => run.configuration === id).length));
    if (best === undefined || least > best.least || (least === best.least && own.length > best.all)) {
      best = { kind, least, all: own.length };
    }
  }
  return best?.kind;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
