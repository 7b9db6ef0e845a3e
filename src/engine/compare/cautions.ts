import type { DisplayUnits } from '../../../shared/display-units.ts';
import { formatCount, formatFixed, formatList, formatValue } from '../../../shared/format.ts';
import { choose, permuteLabels } from '../stats/permutation.ts';
import { type Contrast, isLasting, sharedPartsOf, asStudent } from './estimate.ts';
import type { Footing } from './result.ts';
import type { CollectedRun } from './run.ts';

/** Smaller gaps between the ranges flown are left to the corrections: 150 m of density altitude, 2 % of weight, 1 m/s of wind (own choice). */
const tolerated = { densityAltitudeM: 150, massKg: 15, headwindMps: 1 } as const;

const words = {
  densityAltitudeM: { name: 'density altitude', kind: 'altitude' },
  massKg: { name: 'weight', kind: 'mass' },
  headwindMps: { name: 'headwind', kind: 'speed' },
} as const;

function rangeOf(runs: readonly CollectedRun[], key: keyof typeof words): readonly [number, number] | undefined {
  const values = runs.flatMap((run) => run.conditions[key] ?? []);
  return values.length === 0 ? undefined : [Math.min(...values), Math.max(...values)];
}

/** What a reader must know before believing a change: conditions that do not overlap, corrections that carry it, odd runs, few days. */
export function cautionsOf(
  contrast: Contrast,
  units: DisplayUnits,
  outliers: readonly (string | undefined)[],
  footing: Footing,
): string[] {
  const { estimate, from, to } = contrast;
  const own = (id: string): CollectedRun[] =>
    estimate.runs.flatMap(({ run }) => (run.configuration === id ? [run] : []));
  const cautions: string[] = [];
  for (const key of Object.keys(words) as (keyof typeof words)[]) {
    const a = rangeOf(own(from), key);
    const b = rangeOf(own(to), key);
    if (a === undefined || b === undefined) continue;
    const gap = Math.max(a[0], b[0]) - Math.min(a[1], b[1]);
    // At own weight nothing is brought from one weight to the other.
    if (gap <= tolerated[key] || (key === 'massKg' && footing === 'own-weight')) continue;
    const { name, kind } = words[key];
    const text = ([low, high]: readonly [number, number]): string =>
      `${formatValue(low, kind, units)} to ${formatValue(high, kind, units)}`;
    cautions.push(
      `The ranges of ${name} do not overlap ("${from}" ${text(a)}, "${to}" ${text(b)}): the answer rests on the correction for it.`,
    );
  }
  const total = asStudent(contrast).standardError;
  const carried = sharedPartsOf(contrast).filter(
    ({ name, sigma }) => isLasting(estimate, name) && sigma > 0.35 * total,
  );
  for (const { name, sigma } of carried) {
    const size =
      estimate.kind.scale === 'log'
        ? `${formatFixed(100 * sigma, 1)} %`
        : `${formatFixed((100 * sigma) / total, 0)} % of the width`;
    cautions.push(
      `Much of the uncertainty is that of a correction (${name}: ${size}, one standard deviation): more flights in the same weather do not help, flights in matching conditions do.`,
    );
  }
  const pair = estimate.runs.filter(({ run }) => run.configuration === from || run.configuration === to);
  const large = pair.filter(
    ({ run, reduced }) => Math.abs(reduced.value / run.raw.value - 1) > 0.1 && reduced.corrections.length > 0,
  );
  if (estimate.kind.scale === 'log' && large.length > 0) {
    cautions.push(
      `${formatCount(large.length, 'run')} of ${pair.length} ${large.length === 1 ? 'is' : 'are'} corrected by more than 10 %.`,
    );
  }
  const odd = estimate.runs.filter(
    ({ run }, i) => outliers[i] !== undefined && pair.some((other) => other.run === run),
  );
  if (odd.length > 0) {
    cautions.push(
      `${formatCount(odd.length, 'run')} ${odd.length === 1 ? 'stands' : 'stand'} out (${formatList(odd.map(({ run }) => `${run.file} ${run.number}`))}): counted all the same.`,
    );
  }
  const check = permutationOf(contrast);
  if (check !== undefined && check.smallest > 0.05) {
    cautions.push(
      `With ${formatCount(check.daysFrom, 'day')} and ${formatCount(check.daysTo, 'day')} even the clearest order of the days would come about by chance in ${formatFixed(100 * check.smallest, 0)} % of cases: the days alone prove nothing, and the answer leans on how much such flights usually scatter.`,
    );
  }
  return cautions;
}

/** Exact permutation of the labels of days, as a check that needs no model: p of the plain day means of the corrected values. */
export function permutationOf(
  contrast: Contrast,
): { readonly p: number; readonly smallest: number; readonly daysFrom: number; readonly daysTo: number } | undefined {
  const { estimate, from, to } = contrast;
  const means = (id: string): Map<number, number> => {
    const byDay = new Map<number, number[]>();
    estimate.runs.forEach(({ run }, i) => {
      if (run.configuration === id) byDay.set(estimate.day[i], [...(byDay.get(estimate.day[i]) ?? []), estimate.y[i]]);
    });
    return new Map(
      [...byDay].map(([day, values]) => [day, values.reduce((sum, value) => sum + value, 0) / values.length]),
    );
  };
  const a = means(from);
  const b = means(to);
  if (a.size === 0 || b.size === 0) return undefined;
  // Days on which both were flown are pairs, and their labels are not exchangeable with those of other days.
  if ([...a.keys()].some((day) => b.has(day))) return undefined;
  const test = permuteLabels([...b.values()], [...a.values()]);
  const sides = a.size === b.size ? 2 : 1;
  return { p: test.twoSidedP, smallest: sides / choose(a.size + b.size, a.size), daysFrom: a.size, daysTo: b.size };
}
