import { formatList } from '../../../shared/format.ts';
import { metricKind } from './metric-kind.ts';
import type { Change, MetricResult } from './result.ts';

/** What is shown of one pair: which is better, that they are equivalent, or that they cannot be told apart. */
export type PairStanding =
  | { readonly kind: 'better'; readonly better: string; readonly worse: string; readonly change: Change }
  | { readonly kind: 'equivalent'; readonly pair: readonly [string, string]; readonly change: Change }
  | { readonly kind: 'not told apart'; readonly pair: readonly [string, string]; readonly change: Change };

/** How the configurations of a metric stand to each other, as far as that is shown. */
export interface Standing {
  /** Configurations with an estimate, the best mean first; where neither direction is better, the smallest. An order of means, not a finding. */
  readonly order: readonly string[];
  /** Of every pair that was compared and could be judged. */
  readonly pairs: readonly PairStanding[];
  /** The one that is shown to be better than every other, where every pair with it was judged. */
  readonly best?: string;
  /** Configurations that no other one is shown to be better than. */
  readonly unbeaten: readonly string[];
}

const directed: ReadonlySet<string> = new Set(['shorter', 'longer', 'higher', 'lower']);

/** A pair that was judged: estimated, and not merely shown "as flown" beside corrected values. */
function judged(change: Change): boolean {
  return change.verdict !== 'too few flights' && (change.difference ?? change.percent) !== undefined;
}

/** Configurations whose value may be told: estimated, and judged against at least one other. */
export function toldIds(result: MetricResult): readonly string[] {
  const seen = new Set(result.changes.filter(judged).flatMap(({ from, to }) => [from, to]));
  return result.configurations.filter(({ id, mean }) => mean !== undefined && seen.has(id)).map(({ id }) => id);
}

/**
 * The standing of the configurations of a metric. It rests on the verdicts of the pairs and on nothing else: means in an order say nothing, and
 * intervals of means that overlap may belong to a difference that is shown, because the means share errors that the difference has not.
 */
export function standingOf(result: MetricResult): Standing {
  const told = toldIds(result);
  const meanOf = (id: string): number => result.configurations.find((one) => one.id === id)?.mean?.value ?? Number.NaN;
  const sign = result.smallerIsBetter === false ? -1 : 1;
  const order = [...told].sort((a, b) => sign * (meanOf(a) - meanOf(b)));
  const pairs = result.changes.filter(judged).map((change): PairStanding => {
    const { from, to, verdict } = change;
    if (verdict === 'equivalent') return { kind: 'equivalent', pair: [from, to], change };
    if (!directed.has(verdict)) return { kind: 'not told apart', pair: [from, to], change };
    const smaller = verdict === 'shorter' || verdict === 'lower';
    const toIsBetter = smaller === (result.smallerIsBetter ?? true);
    return { kind: 'better', better: toIsBetter ? to : from, worse: toIsBetter ? from : to, change };
  });
  const beaten = new Set(pairs.flatMap((pair) => (pair.kind === 'better' ? [pair.worse] : [])));
  const best = order.find(
    (id) =>
      order.length > 1 &&
      order.every(
        (other) =>
          other === id || pairs.some((pair) => pair.kind === 'better' && pair.better === id && pair.worse === other),
      ),
  );
  return { order, pairs, ...(best === undefined ? {} : { best }), unbeaten: order.filter((id) => !beaten.has(id)) };
}

const quoted = (id: string): string => `"${id}"`;

const superlatives = { shorter: 'shortest', longer: 'longest', lower: 'lowest', higher: 'highest' } as const;

/** "shorter", "higher": the good direction of the metric, or its lesser one where neither is good. */
function goodWord(result: MetricResult): keyof typeof superlatives {
  const words = metricKind(result.metric)?.words ?? ({ less: 'lower', more: 'higher' } as const);
  return result.smallerIsBetter === false ? words.more : words.less;
}

/** Pairs in words: '"a" and "b"; "a" and "c"'. */
function pairList(pairs: readonly { readonly pair: readonly [string, string] }[]): string {
  return pairs.map(({ pair: [a, b] }) => `${quoted(a)} and ${quoted(b)}`).join('; ');
}

/**
 * What is shown of three or more configurations, in a few plain words for use after "Ground roll at equal weight:". Empty with fewer than three
 * configurations that could be judged, and where only the pairs with the baseline were asked for.
 */
export function standingSentence(result: MetricResult): string {
  const { order, pairs, best } = standingOf(result);
  if (order.length < 3 || pairs.length < (order.length * (order.length - 1)) / 2) return '';
  const word = goodWord(result);
  const apart = pairs.filter((pair) => pair.kind === 'better');
  const same = pairs.filter((pair) => pair.kind === 'equivalent');
  const open = pairs.filter((pair) => pair.kind === 'not told apart');
  if (open.length === pairs.length) return `none of the ${order.length} configurations can be told from another.`;
  if (apart.length === pairs.length)
    return `${superlatives[word]} with ${order.map(quoted).join(', then ')}; every step is shown.`;
  const parts = order.flatMap((id) => {
    const worse = order.filter((other) => apart.some((pair) => pair.better === id && pair.worse === other));
    if (worse.length === 0) return [];
    const than = id === best ? 'each of the others' : formatList(worse.map(quoted));
    return [`${word} with ${quoted(id)} than with ${than}`];
  });
  return [
    ...(parts.length === 0 ? [] : [`${parts.join(', ')}.`]),
    ...(same.length === 0 ? [] : [`Equivalent: ${pairList(same)}.`]),
    ...(open.length === 0 ? [] : [`Not told apart: ${pairList(open)}.`]),
  ].join(' ');
}
