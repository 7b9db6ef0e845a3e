import { formatList } from '../../../shared/format.ts';
import { type MetricResult, type PairStanding, standingOf, toldIds } from '../compare/index.ts';
import { answering } from './sections/answer.ts';

/** Two configurations of which each is shown better in something. */
export interface Exchange {
  readonly between: readonly [string, string];
  /** Metrics in which the first is shown better, and in which the second is. */
  readonly firstBetter: readonly string[];
  readonly secondBetter: readonly string[];
}

/** What one configuration gains and another loses, over all metrics of which a direction is the good one. */
export interface Trade {
  /** One result a metric, on the first footing that was asked for; two or more. */
  readonly results: readonly MetricResult[];
  /** Configurations with an estimate in two of them or more, in the order of the spec. */
  readonly ids: readonly string[];
  readonly exchanges: readonly Exchange[];
  /** Shown better than each other configuration in something, and shown worse than none in anything. */
  readonly leader?: string;
}

/** Undefined without two metrics, or without two configurations that are known in two of them. */
export function tradeOf(metrics: readonly MetricResult[]): Trade | undefined {
  const seen = new Set<string>();
  const results = answering(metrics).filter((result) => {
    if (seen.has(result.metric) || result.smallerIsBetter === undefined || toldIds(result).length < 2) return false;
    seen.add(result.metric);
    return true;
  });
  const all = results[0]?.configurations.map(({ id }) => id) ?? [];
  const ids = all.filter((id) => results.filter((result) => toldIds(result).includes(id)).length >= 2);
  if (results.length < 2 || ids.length < 2) return undefined;
  const better = results.map((result) => ({
    metric: result.metric,
    pairs: standingOf(result).pairs.filter(
      (pair): pair is PairStanding & { readonly kind: 'better' } => pair.kind === 'better',
    ),
  }));
  const betterIn = (a: string, b: string): string[] =>
    better.flatMap(({ metric, pairs }) =>
      pairs.some((pair) => pair.better === a && pair.worse === b) ? [metric] : [],
    );
  const exchanges = ids.flatMap((a, i) =>
    ids.slice(i + 1).flatMap((b): Exchange[] => {
      const [firstBetter, secondBetter] = [betterIn(a, b), betterIn(b, a)];
      return firstBetter.length > 0 && secondBetter.length > 0 ? [{ between: [a, b], firstBetter, secondBetter }] : [];
    }),
  );
  const leader = ids.find((id) =>
    ids.every((other) => other === id || (betterIn(id, other).length > 0 && betterIn(other, id).length === 0)),
  );
  return { results, ids, exchanges, ...(leader === undefined ? {} : { leader }) };
}

/** What the trade comes to, in plain sentences; `titleOf` names a metric. It says no more than the verdicts of the pairs do. */
export function tradeSentences(
  { results, ids, exchanges, leader }: Trade,
  titleOf: (metric: string) => string,
): readonly string[] {
  const titles = (metrics: readonly string[]): string =>
    formatList(metrics.map((metric) => lowerFirst(titleOf(metric))));
  const sentences = exchanges.map(
    ({ between: [a, b], firstBetter, secondBetter }) =>
      `Between "${a}" and "${b}" it is a trade: "${a}" is shown better in ${titles(firstBetter)}, "${b}" in ${titles(secondBetter)}.`,
  );
  if (leader !== undefined) {
    const others = ids.length === 2 ? 'the other configuration' : 'each other configuration';
    sentences.push(
      `"${leader}" is shown better than ${others} in at least one of these ${results.length} metrics, and shown worse in none; not shown is not the same as none.`,
    );
  } else if (exchanges.length === 0) {
    sentences.push('No configuration is shown to pay in one of these metrics for what it gains in another.');
  }
  return sentences;
}

const lowerFirst = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1);
