import type { LeftOut } from '../compare/result.ts';

export interface LeftOutGroup {
  readonly file: string;
  /** Which take-offs, climbs or landings; empty: of the whole recording. */
  readonly numbers: readonly number[];
  /** Empty: all metrics. */
  readonly metrics: readonly string[];
  readonly by: LeftOut['by'];
  readonly reason: string;
}

/** What was left out, one entry a recording and reason; the pilot's own first. */
export function groupLeftOut(items: readonly LeftOut[]): readonly LeftOutGroup[] {
  const groups = new Map<string, LeftOut[]>();
  for (const item of items) {
    const key = JSON.stringify([item.by, item.file, item.reason]);
    groups.set(key, [...(groups.get(key) ?? []), item]);
  }
  return [...groups.values()]
    .map((members): LeftOutGroup => {
      const [{ file, by, reason }] = members;
      const numbers = [...new Set(members.flatMap((item) => item.number ?? []))].sort((a, b) => a - b);
      const metrics = [...new Set(members.flatMap((item) => item.metric ?? []))];
      return { file, by, reason, numbers, metrics };
    })
    .sort((a, b) => Number(a.by === 'engine') - Number(b.by === 'engine'));
}
