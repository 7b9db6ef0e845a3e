import type { DisplayUnits } from '../../../shared/display-units.ts';
import { formatList, formatPercent, formatValue } from '../../../shared/format.ts';
import { daysNeeded } from '../stats/days-needed.ts';
import { cautionsOf, permutationOf } from './cautions.ts';
import {
  asStudent,
  commonSigmaOf,
  type Contrast,
  detectableDifferenceOf,
  differenceOf,
  equivalenceP,
  type Estimate,
  estimate,
  contrastOf,
  meanOf,
  percentOf,
} from './estimate.ts';
import type { MetricKind } from './metric-kind.ts';
import { confidenceText, type Level } from './questions.ts';
import type { Change, ConfigurationResult, Footing, Verdict } from './result.ts';
import { amountText, sentenceOf, toldInUnit } from './sentence.ts';
import type { Question } from '../spec/types.ts';

/** More days than this in each configuration are no advice. */
const mostMoreDays = 60;

export interface ChangeRequest {
  readonly kind: MetricKind;
  readonly title: string;
  readonly footing: Footing;
  readonly question: Question;
  readonly units: DisplayUnits;
  readonly configurations: readonly ConfigurationResult[];
  readonly from: string;
  readonly to: string;
  /** Absent where nothing could be estimated: then `because` says why. */
  readonly contrast?: Contrast;
  readonly because?: string;
  readonly pValue?: number;
  readonly level?: Level;
  readonly outliers: readonly (string | undefined)[];
  /** Sentences that belong to every change of the metric. */
  readonly remarks: readonly string[];
}

type Amount = { readonly value: number; readonly relative: boolean };

/** An amount on the working scale, below and above zero. */
function onScale(amount: Amount, kind: MetricKind, base: number): { readonly low: number; readonly high: number } {
  const relative = amount.relative ? amount.value : amount.value / base;
  if (kind.scale === 'log') return { low: Math.log(Math.max(1e-9, 1 - relative)), high: Math.log1p(relative) };
  const si = amount.relative ? amount.value * Math.abs(base) : amount.value;
  return { low: -si, high: si };
}

function percentText(kind: MetricKind, base: number, size: number, units: DisplayUnits): string {
  if (toldInUnit(kind)) return formatValue(size, kind.facts.kind, units);
  const percent = kind.scale === 'log' ? 100 * Math.expm1(size) : (100 * size) / Math.abs(base);
  return formatPercent(percent, percent >= 5 ? 0 : 1).replace(/^\+/, '');
}

function naivePercentOf(configurations: readonly ConfigurationResult[], from: string, to: string): number | undefined {
  const mean = (id: string): number | undefined =>
    configurations.find((configuration) => configuration.id === id)?.naiveMean;
  const [a, b] = [mean(from), mean(to)];
  return a === undefined || b === undefined || a === 0 ? undefined : 100 * (b / a - 1);
}

/** The change from one configuration to another, with verdict, plan and sentence. */
export function changeOf(request: ChangeRequest): Change {
  const { kind, title, footing, question, units, configurations, from, to, contrast, level, pValue, because } = request;
  const naivePercent = naivePercentOf(configurations, from, to);
  const worthwhile = question.worthwhile ?? kind.worthwhile;
  const descriptive = footing === 'as-flown' && kind.corrected;
  const base = { from, to, ...(naivePercent === undefined ? {} : { naivePercent }) };
  const common = {
    kind,
    title,
    footing,
    from,
    to,
    naivePercent,
    units,
    worthwhile: amountText(worthwhile, kind, units),
  };
  if (descriptive || contrast === undefined || level === undefined || pValue === undefined) {
    const verdict: Verdict = descriptive ? 'no difference shown' : 'too few flights';
    const sentence = sentenceOf({ ...common, verdict, alpha: 0.05, moreDays: null, because });
    const more = descriptive ? null : missingDays(configurations, from, to);
    return { ...base, verdict, moreDays: more, sentence, warnings: [...request.remarks] };
  }
  const { alpha } = level;
  const confidence = 1 - alpha;
  const percent = percentOf(contrast, confidence);
  const alone = percentOf(contrast, 0.95);
  const difference = differenceOf(contrast, confidence);
  const differenceAlone = differenceOf(contrast, 0.95);
  const mean = meanOf(contrast.estimate, from)?.value ?? Number.NaN;
  const size = detectableDifferenceOf(contrast, alpha);
  const detectablePercent = kind.scale === 'log' ? 100 * Math.expm1(size) : (100 * size) / Math.abs(mean);
  const margin = question.margin === undefined ? undefined : onScale(question.margin, kind, mean);
  // Tested at the level of its question: with one question that is the usual 90 % interval inside the margin.
  const pEquivalence = margin === undefined ? undefined : equivalenceP(contrast, margin.low, margin.high);
  const verdict = verdictOf(kind, pValue, difference?.value ?? 0, pEquivalence, alpha);
  const wanted = onScale(worthwhile, kind, mean).high;
  const moreDays = verdict === 'no difference shown' ? moreDaysFor(contrast, wanted, alpha) : null;
  const permutation = permutationOf(contrast);
  const warnings = [
    ...request.remarks,
    ...cautionsOf(contrast, units, request.outliers, footing),
    ...withoutOutliers(contrast, request.outliers, units),
  ];
  if (
    verdict !== 'no difference shown' &&
    verdict !== 'equivalent' &&
    permutation !== undefined &&
    permutation.p > 0.05 &&
    permutation.smallest <= 0.05
  ) {
    warnings.push(
      `Exchanging the days between the configurations gives a difference as large in ${formatPercent(100 * permutation.p, 0).replace('+', '')} of cases: the verdict rests on the weights of the runs and on the corrections.`,
    );
  }
  return {
    ...base,
    ...(difference === undefined ? {} : { difference }),
    ...(differenceAlone === undefined ? {} : { differenceAlone }),
    ...(percent === undefined || toldInUnit(kind) ? {} : { percent }),
    ...(alone === undefined || toldInUnit(kind) ? {} : { percentAlone: alone }),
    confidence,
    verdict,
    pValue,
    pValueAdjusted: level.pAdjusted,
    ...(pEquivalence === undefined ? {} : { pEquivalence }),
    ...(permutation === undefined ? {} : { permutationP: permutation.p }),
    moreDays,
    ...(toldInUnit(kind) ? {} : { detectablePercent }),
    detectable: kind.scale === 'log' ? Math.abs(mean) * Math.expm1(size) : size,
    sentence: sentenceOf({
      ...common,
      verdict,
      ...(percent === undefined ? {} : { percent }),
      ...(difference === undefined ? {} : { difference }),
      alpha,
      detectable: percentText(kind, mean, size, units),
      moreDays,
      ...(question.margin === undefined ? {} : { margin: amountText(question.margin, kind, units) }),
    }),
    warnings,
  };
}

function verdictOf(
  kind: MetricKind,
  pValue: number,
  difference: number,
  pEquivalence: number | undefined,
  alpha: number,
): Verdict {
  // A difference that is shown to be smaller than what matters is "equivalent" even where it is shown not to be zero.
  if (pEquivalence !== undefined && pEquivalence < alpha) return 'equivalent';
  if (!(pValue < alpha)) return 'no difference shown';
  return difference < 0 ? kind.words.less : kind.words.more;
}

/** Days that are missing to two in each configuration. */
function missingDays(configurations: readonly ConfigurationResult[], from: string, to: string): number | null {
  const days = [from, to].map((id) => configurations.find((configuration) => configuration.id === id)?.days ?? 0);
  const missing = 2 - Math.min(...days);
  return missing > 0 ? missing : null;
}

function daysOf(estimate: Estimate, id: string): number {
  return new Set(estimate.day.filter((_, i) => estimate.runs[i].run.configuration === id)).size;
}

/**
 * Further flying days in each configuration with which a difference of `wanted` (working scale) is shown with 80 % power; null when what was flown is enough, or when
 * no reasonable number would do because errors that all runs share are too large.
 */
function moreDaysFor(contrast: Contrast, wanted: number, alpha: number): number | null {
  const { estimate, from, to } = contrast;
  const { standardError } = asStudent(contrast);
  const commonSigma = Math.min(commonSigmaOf(contrast), 0.99 * standardError);
  const [a, b] = [daysOf(estimate, from), daysOf(estimate, to)];
  const harmonic = 2 / (1 / a + 1 / b);
  const dayDeviation = Math.sqrt(((standardError ** 2 - commonSigma ** 2) * harmonic) / 2);
  const needed = daysNeeded(
    wanted,
    { dayDeviation, runDeviation: 0, commonSigma },
    { alpha, mostDays: mostMoreDays + Math.max(a, b) },
  );
  if (needed === undefined) return null;
  const more = needed - Math.min(a, b);
  return more > 0 && more <= mostMoreDays ? more : null;
}

/** What the change would be without the runs that stand out: shown, not used. */
function withoutOutliers(contrast: Contrast, outliers: readonly (string | undefined)[], units: DisplayUnits): string[] {
  const { estimate: whole, from, to } = contrast;
  if (outliers.every((outlier) => outlier === undefined)) return [];
  const kept = whole.runs.filter((_, i) => outliers[i] === undefined);
  const again = estimate(whole.kind, whole.ids, kept, []);
  const other = again === undefined ? undefined : contrastOf(again, from, to);
  if (other === undefined || daysOf(other.estimate, from) < 2 || daysOf(other.estimate, to) < 2) return [];
  const change = toldInUnit(whole.kind) ? differenceOf(other, 0.95) : percentOf(other, 0.95);
  if (change === undefined) return [];
  const write = (value: number): string =>
    toldInUnit(whole.kind) ? formatValue(value, whole.kind.facts.kind, units) : formatPercent(value, 1);
  return [
    `Without the runs that stand out the change would be ${write(change.value)} (${confidenceText(0.05)} interval ${formatList([write(change.low), write(change.high)], 'to')}).`,
  ];
}
