import { formatIntervalParts, formatPercentInterval } from '../../../../shared/format.ts';
import { escapeMarkdown, markdownTable } from '../../../../shared/markdown.ts';
import type { Change, ConfigurationResult, Footing, MetricResult } from '../../compare/result.ts';
import type { ReportContext } from '../context.ts';
import { type ChangeRow, changesFigure } from '../figures/changes.ts';
import { footingTitles, metricWords, questionOf } from '../metric-words.ts';
import { changeText, isStricter, judgement, naiveRemark, naiveText, percent95 } from '../told-change.ts';

const footingOrder: readonly Footing[] = ['equal-weight', 'equal-load', 'as-flown'];

/** The footings that answer a question: those at equal conditions, and as flown only where there is no other. */
export function answering(metrics: readonly MetricResult[]): readonly MetricResult[] {
  const corrected = new Set(metrics.filter((result) => result.conditions !== 'as-flown').map(questionKey));
  const order = [...new Set(metrics.map(questionKey))];
  const kept = metrics.filter((result) => result.conditions !== 'as-flown' || !corrected.has(questionKey(result)));
  return [...kept].sort(
    (a, b) =>
      Number(b.primary) - Number(a.primary) ||
      order.indexOf(questionKey(a)) - order.indexOf(questionKey(b)) ||
      footingOrder.indexOf(a.conditions) - footingOrder.indexOf(b.conditions),
  );
}

/** One question: a metric; the results of its footings belong together. */
export function questionKey(result: MetricResult): string {
  return result.metric;
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
  const pair = change.from === context.spec.baseline ? change.to : `${change.to} against ${change.from}`;
  const bold = result.primary ? '**' : '';
  return [
    `${bold}${escapeMarkdown(words.title)}${bold}, ${footingTitles[result.conditions]}${several ? `: ${escapeMarkdown(pair)}` : ''}`,
    cell(change.from),
    cell(change.to),
    changeText(change, words, context.units),
    naiveText(change, words),
    `${bold}${change.verdict}${judgement(change, result)}${bold}`,
  ];
}

function changeRows(results: readonly MetricResult[], context: ReportContext): ChangeRow[] {
  return results.flatMap((result) =>
    result.changes.flatMap((change): ChangeRow[] => {
      const percent = percent95(change);
      if (percent === undefined || change.from !== context.spec.baseline) return [];
      const words = metricWords(result, context.spec, context.units);
      const margin = questionOf(result, context.spec)?.margin;
      const several = context.spec.configurations.length > 2;
      return [
        {
          label: `${words.title}, ${footingTitles[result.conditions].replace(/^at /, '')}${several ? `: ${change.to}` : ''}`,
          percent,
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

/** The comparison's own sentence, its subject in bold. */
function answerSentence(change: Change, context: ReportContext): string {
  const sentence = context.names.text(change.sentence);
  const [, subject, rest] = /^([^:]{3,90}):\s*(.*)$/s.exec(sentence) ?? [];
  if (subject === undefined) return escapeMarkdown(sentence);
  return `**${escapeMarkdown(subject)}:** ${escapeMarkdown(rest)}`;
}

/** One bullet a question and pair: the sentence on the first footing, the others in short, and what the averages hid. */
function bullets(results: readonly MetricResult[], context: ReportContext): string[] {
  const lines: string[] = [];
  for (const metric of new Set(results.map(questionKey))) {
    const [first, ...others] = results.filter((result) => questionKey(result) === metric);
    for (const change of first.changes) {
      const words = metricWords(first, context.spec, context.units);
      const parts = [answerSentence(change, context)];
      for (const other of others) {
        const same = other.changes.find(({ from, to }) => from === change.from && to === change.to);
        if (same === undefined) continue;
        const footing = footingTitles[other.conditions];
        const amount = changeText(same, words, context.units);
        parts.push(
          `${footing.charAt(0).toUpperCase()}${footing.slice(1)}: ${same.verdict}${judgement(same, other)}${amount === '-' ? '' : `, ${amount}`}.`,
        );
      }
      const naive = naiveRemark(change);
      if (naive !== undefined) parts.push(naive);
      lines.push(`- ${parts.join(' ')}`);
    }
  }
  return lines;
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
  const changes = results.flatMap((result) => result.changes);
  const rows = results.flatMap((result) => result.changes.map((change) => changeRow(change, result, context)));
  lines.push(markdownTable(head, rows, ['left', 'right', 'right', 'right', 'right', 'left']));
  const notes = ['In brackets: 95 % intervals.', '"Plain averages" is what a look at the raw figures would have said.'];
  if (changes.some(isStricter)) {
    notes.push(
      'Several questions are asked at once, so a verdict needs more than its own 95 % interval beyond zero: the sentences give the level.',
    );
  }
  if (changes.some(({ verdict }) => verdict === 'no difference shown')) {
    notes.push('"No difference shown" is not the same as no difference.');
  }
  if (changes.some(({ warnings }) => warnings.length > 0)) {
    notes.push('Cautions that go with an answer stand under its heading below.');
  }
  lines.push(notes.join(' '), '', ...bullets(results, context), '');
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
