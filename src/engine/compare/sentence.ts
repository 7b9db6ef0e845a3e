import type { DisplayUnits } from '../../../shared/display-units.ts';
import {
  decimalsFor,
  formatCount,
  formatFixed,
  formatPercent,
  formatValue,
  inShownUnit,
  shownUnit,
} from '../../../shared/format.ts';
import type { Interval } from '../../../shared/measured.ts';
import type { MetricKind } from './metric-kind.ts';
import { confidenceText } from './questions.ts';
import type { Footing, Verdict } from './result.ts';

const footingWords: Readonly<Record<Footing, string>> = {
  'as-flown': 'as flown',
  'equal-weight': 'at equal weight',
  'equal-load': 'at equal load',
  'own-weight': 'at own weight',
};

export interface SentenceParts {
  readonly kind: MetricKind;
  /** Title with its height or rate. */
  readonly title: string;
  readonly footing: Footing;
  readonly from: string;
  readonly to: string;
  readonly verdict: Verdict;
  readonly percent?: Interval;
  readonly difference?: Interval;
  readonly naivePercent?: number;
  readonly alpha: number;
  /** Per cent, or SI for a metric that is not given in per cent. */
  readonly detectable?: string;
  readonly moreDays: number | null;
  readonly worthwhile: string;
  /** Equivalence margin in words. */
  readonly margin?: string;
  /** Why there is no answer, as a sentence. */
  readonly because?: string;
  readonly units: DisplayUnits;
}

/** Changes of an altitude are told in its unit: a percentage of a height above sea level means nothing. */
export function toldInUnit(kind: MetricKind): boolean {
  return kind.facts.kind === 'altitude' || kind.facts.kind === 'mass';
}

interface Told {
  readonly unit: string;
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

function told({ kind, percent, difference, units }: SentenceParts): Told | undefined {
  if (!toldInUnit(kind)) return percent === undefined ? undefined : { unit: '%', ...percent };
  if (difference === undefined) return undefined;
  const shift = inShownUnit(0, kind.facts.kind, units);
  const scale = (value: number): number => inShownUnit(value, kind.facts.kind, units) - shift;
  return {
    unit: shownUnit(kind.facts.kind, units).symbol,
    value: scale(difference.value),
    low: scale(difference.low),
    high: scale(difference.high),
  };
}

/** Decimals for a change: as its interval deserves, and one more where a limit beside zero would read as zero. */
function decimalsOf(change: Told): number {
  const decimals = Math.min(1, decimalsFor((change.high - change.low) / 2));
  const near = Math.min(Math.abs(change.low), Math.abs(change.high));
  return near > 0 && near < 0.5 * 10 ** -decimals ? decimals + 1 : decimals;
}

function rangeText(change: Told, kind: MetricKind): string {
  const decimals = decimalsOf(change);
  const { less, more } = kind.words;
  const size = (value: number): string => formatFixed(Math.abs(value), decimals);
  const word = (value: number): string => (value < 0 ? less : more);
  if (change.low < 0 === change.high < 0) {
    const [near, far] = change.low < 0 ? [change.high, change.low] : [change.low, change.high];
    return `${size(near)} to ${size(far)} ${change.unit} ${word(far)}`;
  }
  return `${size(change.low)} ${change.unit} ${less} to ${size(change.high)} ${change.unit} ${more}`;
}

/** One plain sentence (two where the plan of further flights belongs to it). */
export function sentenceOf(parts: SentenceParts): string {
  const { kind, title, footing, from, to, verdict, alpha, moreDays } = parts;
  const head = `${title} ${footingWords[footing]}`;
  const pair = `with "${to}" than with "${from}"`;
  if (footing === 'as-flown' && kind.corrected) {
    const { naivePercent } = parts;
    if (naivePercent === undefined) return `${head}: no runs with both "${from}" and "${to}".`;
    const word = naivePercent < 0 ? kind.words.less : kind.words.more;
    return `${head}: ${formatFixed(Math.abs(naivePercent), 1)} % ${word} ${pair} on average, with the weather, weight and technique of those days in it: no verdict on the modification.`;
  }
  const change = told(parts);
  if (verdict === 'too few flights' || change === undefined) {
    return `${head}: ${verdict}. ${parts.because ?? 'At least two flying days in each configuration are needed.'}`;
  }
  const size = formatFixed(Math.abs(change.value), decimalsOf(change));
  const word = change.value < 0 ? kind.words.less : kind.words.more;
  const interval = `${confidenceText(alpha)} interval ${rangeText(change, kind)}`;
  if (verdict === 'equivalent') {
    return `${head}: equivalent within ${parts.margin ?? 'the margin'} (${size} ${change.unit} ${word} ${pair}; ${interval}).`;
  }
  if (verdict === 'no difference shown') {
    const could = parts.detectable === undefined ? '' : `; flights like these would have shown ${parts.detectable}`;
    const plan =
      moreDays === null
        ? ''
        : ` About ${formatCount(moreDays, 'more flying day')} in each configuration would show a change of ${parts.worthwhile}.`;
    return `${head}: no difference shown between "${from}" and "${to}" (${interval}${could}).${plan}`;
  }
  return `${head}: ${size} ${change.unit} ${word} ${pair} (${interval}).`;
}

/** A difference in words: "10 %" or "1000 ft". */
export function amountText(
  amount: { readonly value: number; readonly relative: boolean },
  kind: MetricKind,
  units: DisplayUnits,
): string {
  if (amount.relative) return formatPercent(100 * amount.value, 100 * amount.value >= 5 ? 0 : 1).replace(/^\+/, '');
  return formatValue(amount.value, kind.facts.kind, units);
}
