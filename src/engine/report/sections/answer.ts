import { formatIntervalParts, formatPercent, formatPercentInterval } from '../../../../shared/format.ts';
import { escapeMarkdown, markdownTable } from '../../../../shared/markdown.ts';
import type { Change, ConfigurationResult, Footing, MetricResult } from '../../compare/result.ts';
import type { ReportContext } from '../context.ts';
import { type ChangeRow, changesFigure } from '../figures/changes.ts';
import { footingTitles, metricWords, questionOf } from '../metric-words.ts';
import { answerSentence, judgement, naiveRemark } from '../sentences.ts';

const footingOrder: readonly Footing[] = ['equal-weight', 'equal-load', 'as-flown'];

/** The footings that answer a question: those at equal conditions, and as flown only where there is no other. */
export function answering(metrics: readonly MetricResult[]): readonly MetricResult[] {
  const corrected = new Set(
    metrics.filter((result) => result.conditions !== 'as-flown').map((result) => result.metric),
  );
  const order = [...new Set(metrics.map((result) => result.metric))];
  const kept = metrics.filter((result) => result.conditions !== 'as-flown' || !corrected.has(result.metric));
  return [...kept].sort(
    (a, b) =>
      Number(b.primary) - Number(a.primary) ||
      order.indexOf(a.metric) - order.indexOf(b.metric) ||
      footingOrder.indexOf(a.conditions) - footingOrder.indexOf(b.conditions),
  );
}

function meanCell(
  configuration: ConfigurationResult | undefined,
  result: MetricResult,
  context: ReportContext,
): string {
  if (configuration?.mean === undefined) return '-';
  const { kind } = metricWords(result, context.spec, context.units);
  const parts = formatIntervalParts(configuration.mean, kind, context.units);
  return `${parts.value} ${parts.unit} (${parts.low} to ${parts.high})`;
}

function changeRow(change: Change, result: MetricResult, context: ReportContext): string[] {
  const words = metricWords(result, context.spec, context.units);
  const cell = (id: string): string =>
    meanCell(
      result.configurations.find((configuration) => configuration.id === id),
      result,
      context,
    );
  const several = context.spec.configurations.length > 2;
  const title = escapeMarkdown(words.title);
  const bold = result.primary ? '**' : '';
  return [
    `${bold}${title}${bold}, ${footingTitles[result.conditions]}${several ? `: ${escapeMarkdown(change.to)}` : ''}`,
    cell(change.from),
    cell(change.to),
    change.percent === undefined ? '-' : formatPercentInterval(change.percent),
    change.naivePercent === undefined ? '-' : formatPercent(change.naivePercent),
    `${bold}${change.verdict}${judgement(change, result)}${bold}`,
  ];
}

function changeRows(results: readonly MetricResult[], context: ReportContext): ChangeRow[] {
  return results.flatMap((result) =>
    result.changes.flatMap((change): ChangeRow[] => {
      if (change.percent === undefined) return [];
      const words = metricWords(result, context.spec, context.units);
      const margin = questionOf(result, context.spec)?.margin;
      const several = context.spec.configurations.length > 2;
      return [
        {
          label: `${words.title}, ${footingTitles[result.conditions].replace(/^at /, '')}${several ? `: ${change.to}` : ''}`,
          percent: change.percent,
          ...(change.naivePercent === undefined ? {} : { naivePercent: change.naivePercent }),
          ...(margin?.relative === true ? { marginPercent: margin.value * 100 } : {}),
          primary: result.primary,
          series: context.seriesOf(change.to),
          verdict: change.verdict,
        },
      ];
    }),
  );
}

/** The answer first: one table, one sentence a question, one figure. */
export function answerSection(context: ReportContext): string {
  const results = answering(context.metrics);
  const lines: string[] = [`${context.heading(2)} Answer`, ''];
  if (results.length === 0) {
    lines.push('No question could be answered from these recordings. Why stands under "Left out".', '');
    return lines.join('\n');
  }
  const { baseline, configurations } = context.spec;
  const others = configurations.filter(({ id }) => id !== baseline);
  const head = [
    'Question',
    `${escapeMarkdown(baseline)} (baseline)`,
    others.length === 1 ? escapeMarkdown(others[0].id) : 'compared',
    'Change at the same conditions',
    'Plain averages',
    'Verdict',
  ];
  const rows = results.flatMap((result) => result.changes.map((change) => changeRow(change, result, context)));
  lines.push(markdownTable(head, rows, ['left', 'right', 'right', 'right', 'right', 'left']));
  lines.push('In brackets: 95 % interval. "Plain averages" is what a look at the raw figures would have said.', '');
  const told = new Set<string>();
  for (const result of results) {
    const words = metricWords(result, context.spec, context.units);
    for (const change of result.changes) {
      const sentence = answerSentence(change, result, words, questionOf(result, context.spec), context.units);
      const pair = `${result.metric} ${change.to}`;
      const naive = told.has(pair) ? undefined : naiveRemark(change);
      if (naive !== undefined) told.add(pair);
      lines.push(`- ${sentence}${naive === undefined ? '' : ` ${naive}`}`);
      for (const warning of change.warnings) lines.push(`  - Caution: ${escapeMarkdown(warning)}`);
    }
  }
  lines.push('');
  const note = severalQuestionsNote(results);
  if (note !== undefined) lines.push(note, '');
  const drawn = changeRows(results, context);
  if (drawn.length > 0) {
    const title = 'Change of each metric in per cent';
    const description = drawn
      .map((row) => `${row.label}: ${formatPercentInterval(row.percent)}, ${row.verdict}.`)
      .join(' ');
    lines.push(
      context.show('changes', title, () => changesFigure(drawn, { title, description })),
      '',
    );
  }
  return lines.join('\n');
}

/** What was done about asking several questions at once, when anything was. */
function severalQuestionsNote(results: readonly MetricResult[]): string | undefined {
  const adjusted = results.flatMap((result) => result.changes).filter((change) => change.pValueAdjusted !== undefined);
  if (adjusted.length < 2) return undefined;
  return `${adjusted.length} comparisons were made at once; the verdicts allow for that.`;
}
