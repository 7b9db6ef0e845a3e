import type { DisplayUnits } from '../../../shared/display-units.ts';
import { formatInterval, formatPercent, formatPercentInterval } from '../../../shared/format.ts';
import type { Interval } from '../../../shared/measured.ts';
import type { Change, MetricResult, Verdict } from '../compare/result.ts';
import type { MetricWords } from './metric-words.ts';

const found: ReadonlySet<Verdict> = new Set(['shorter', 'longer', 'higher', 'lower']);

/**
 * The cautions of the changes of a metric, each once. Of three or more configurations, a caution that does not hold for
 * every pair names those for which it does.
 */
export function cautionsOf(changes: readonly Change[]): readonly string[] {
  const pairs = new Map<string, string[]>();
  for (const { from, to, warnings } of changes) {
    for (const warning of new Set(warnings))
      pairs.set(warning, [...(pairs.get(warning) ?? []), `"${from}" and "${to}"`]);
  }
  return [...pairs].map(([warning, where]) => {
    if (where.length === changes.length) return warning;
    const limited = ` (${where.join('; ')})`;
    return warning.endsWith('.') ? `${warning.slice(0, -1)}${limited}.` : `${warning}${limited}`;
  });
}

/** " (better)" or " (worse)" beside a direction, where one of the two is. */
export function judgement(change: Change, result: MetricResult): string {
  if (!found.has(change.verdict) || result.smallerIsBetter === undefined) return '';
  const smaller = change.verdict === 'shorter' || change.verdict === 'lower';
  return smaller === result.smallerIsBetter ? ' (better)' : ' (worse)';
}

/** The change in per cent at 95 %, whatever level the verdict was found at. */
export function percent95(change: Change): Interval | undefined {
  return change.percentAlone ?? change.percent;
}

/** The change with its 95 % interval: in per cent, or in its unit where a percentage would mean nothing. */
export function changeText(change: Change, words: MetricWords, units: DisplayUnits): string {
  const percent = percent95(change);
  if (percent !== undefined) return formatPercentInterval(percent);
  const difference = change.differenceAlone ?? change.difference;
  return difference === undefined ? '-' : formatInterval(difference, words.kind, units, true);
}

/** The plain averages, where they can be compared at all: an altitude is only given at a weight. */
export function naiveText(change: Change, words: MetricWords): string {
  const { naivePercent } = change;
  if (naivePercent === undefined || !Number.isFinite(naivePercent) || words.kind === 'altitude') return '-';
  return formatPercent(naivePercent);
}

/** True where the verdict was found at a stricter level than 95 %, because several questions were asked. */
export function isStricter(change: Change): boolean {
  return change.confidence !== undefined && change.confidence > 0.9501;
}

/** What the plain averages would have said, where it lies outside the answer. */
export function naiveRemark(change: Change): string | undefined {
  const percent = percent95(change);
  const { naivePercent } = change;
  if (naivePercent === undefined || percent === undefined || !Number.isFinite(naivePercent)) return undefined;
  if (naivePercent >= percent.low && naivePercent <= percent.high) return undefined;
  const seen = Math.abs(naivePercent) < 0.5 ? 'hardly differ' : `differ by ${formatPercent(naivePercent)}`;
  return `The plain averages of what was flown ${seen}: the rest is weather, weight and wind.`;
}
