import type { DisplayUnits } from '../../../shared/display-units.ts';
import {
  decimalsFor,
  formatCount,
  formatFixed,
  formatIntervalParts,
  formatPercent,
  formatPercentInterval,
  type QuantityKind,
} from '../../../shared/format.ts';
import { escapeMarkdown } from '../../../shared/markdown.ts';
import type { Change, MetricResult, Verdict } from '../compare/result.ts';
import type { Question } from '../spec/index.ts';
import { footingTitles, type MetricWords } from './metric-words.ts';

const found: ReadonlySet<Verdict> = new Set(['shorter', 'longer', 'higher', 'lower']);

/** "(better)" or "(worse)" beside a direction, where one of the two is. */
export function judgement(change: Change, result: MetricResult): string {
  if (!found.has(change.verdict) || result.smallerIsBetter === undefined) return '';
  const smaller = change.verdict === 'shorter' || change.verdict === 'lower';
  return smaller === result.smallerIsBetter ? ' (better)' : ' (worse)';
}

/** "12 % (5 to 19 %)": the size of a change whose direction is said in words. */
function size(change: Change): string {
  const { percent } = change;
  if (percent === undefined) return '';
  const ends = [Math.abs(percent.low), Math.abs(percent.high)].sort((a, b) => a - b);
  const decimals = Math.min(1, decimalsFor((percent.high - percent.low) / 2));
  return `${formatFixed(Math.abs(percent.value), decimals)} % (95 % interval ${formatFixed(ends[0], decimals)} to ${formatFixed(ends[1], decimals)} %)`;
}

function margin(question: Question | undefined): string {
  if (question?.margin === undefined) return 'the margin';
  return question.margin.relative
    ? `the margin of ${formatFixed(question.margin.value * 100, 1).replace(/\.0$/, '')} %`
    : 'the margin';
}

function means(change: Change, result: MetricResult, kind: QuantityKind, units: DisplayUnits): string {
  const after = result.configurations.find((configuration) => configuration.id === change.to);
  const before = result.configurations.find((configuration) => configuration.id === change.from);
  if (after?.mean === undefined || before?.mean === undefined) return '';
  const [a, b] = [formatIntervalParts(after.mean, kind, units), formatIntervalParts(before.mean, kind, units)];
  return `: ${a.value} ${a.unit} against ${b.value} ${b.unit}`;
}

/** How much was flown: "before: 6 days, after: 7 days". */
function basis(change: Change, result: MetricResult): string {
  const days = [change.from, change.to].map((id) => {
    const flown = result.configurations.find((configuration) => configuration.id === id)?.days ?? 0;
    return `${escapeMarkdown(id)}: ${formatCount(flown, 'day')}`;
  });
  return days.join(', ');
}

function more(change: Change): string {
  if (change.moreDays === null) return '';
  if (change.moreDays <= 0) return '';
  return ` About ${formatCount(change.moreDays, 'more flying day')} in each configuration would settle it.`;
}

/** One sentence a question: what the flights show, how surely, and what would settle what they do not. */
export function answerSentence(
  change: Change,
  result: MetricResult,
  words: MetricWords,
  question: Question | undefined,
  units: DisplayUnits,
): string {
  const subject = `**${escapeMarkdown(words.title)}** ${footingTitles[result.conditions]}`;
  const tail = `(${basis(change, result)}).`;
  if (found.has(change.verdict) && change.percent !== undefined) {
    return `${subject}: *${escapeMarkdown(change.to)}* is ${size(change)} ${change.verdict} than *${escapeMarkdown(change.from)}*${judgement(change, result)}${means(change, result, words.kind, units)} ${tail}`;
  }
  const amount = change.percent === undefined ? '' : ` ${formatPercentInterval(change.percent)}`;
  if (change.verdict === 'equivalent') {
    return `${subject}: *${escapeMarkdown(change.to)}* and *${escapeMarkdown(change.from)}* are equivalent within ${margin(question)}:${amount} ${tail}`;
  }
  if (change.verdict === 'no difference shown') {
    const reach =
      change.detectablePercent === undefined || !Number.isFinite(change.detectablePercent)
        ? ''
        : ` These flights could have shown a change of ${formatFixed(change.detectablePercent, change.detectablePercent < 10 ? 1 : 0)} % or more.`;
    return `${subject}: no difference shown between *${escapeMarkdown(change.to)}* and *${escapeMarkdown(change.from)}*:${amount} ${tail} This is not the same as no change.${reach}${more(change)}`;
  }
  return `${subject}: too few flights to tell *${escapeMarkdown(change.to)}* from *${escapeMarkdown(change.from)}*${amount === '' ? '' : `:${amount}`} ${tail}${more(change)}`;
}

/** What the plain averages would have said, where it differs from the answer. */
export function naiveRemark(change: Change): string | undefined {
  const { naivePercent, percent } = change;
  if (naivePercent === undefined || percent === undefined || !Number.isFinite(naivePercent)) return undefined;
  if (naivePercent >= percent.low && naivePercent <= percent.high) return undefined;
  return `The plain averages of what was flown differ by ${formatPercent(naivePercent)}; at the same conditions the difference is ${formatPercentInterval(percent)}. The rest is weather, weight and wind.`;
}
