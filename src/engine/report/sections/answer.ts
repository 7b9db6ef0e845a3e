import { formatIntervalParts, formatList, formatPercentInterval } from '../../../../shared/format.ts';
import { escapeMarkdown, markdownTable } from '../../../../shared/markdown.ts';
import { standingSentence, toldIds } from '../../compare/index.ts';
import type { Change, ConfigurationResult, Footing, MetricResult } from '../../compare/result.ts';
import type { ReportContext } from '../context.ts';
import { type ChangeRow, changesFigure } from '../figures/changes.ts';
import { footingTitles, metricWords, questionOf } from '../metric-words.ts';
import { settingText } from '../setting-text.ts';
import { changeText, isStricter, judgement, naiveRemark, naiveText, percent95 } from '../told-change.ts';

const footingOrder: readonly Footing[] = ['own-weight', 'equal-weight', 'equal-load', 'as-flown'];

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
  const { kind } = metricWords(result, context.spec, context.units);
  // An altitude too far above what was climbed through is a guess, and refused in every comparison: it is not told either.
  const refused = kind === 'altitude' && configuration !== undefined && !toldIds(result).includes(configuration.id);
  if (configuration?.mean === undefined || refused) return '-';
  const parts = formatIntervalParts(configuration.mean, kind, context.units);
  return `${parts.value} ${parts.unit} (${parts.low} to ${parts.high})`;
}

function boldTitle(result: MetricResult, context: ReportContext): string {
  const bold = result.primary ? '**' : '';
  return `${bold}${escapeMarkdown(metricWords(result, context.spec, context.units).title)}${bold}`;
}

function changeRow(change: Change, result: MetricResult, context: ReportContext): string[] {
  const words = metricWords(result, context.spec, context.units);
  const cell = (id: string): string =>
    meanCell(
      result.configurations.find((configuration) => configuration.id === id),
      result,
      context,
    );
  const bold = result.primary ? '**' : '';
  return [
    `${boldTitle(result, context)}, ${footingTitles[result.conditions]}`,
    cell(change.from),
    cell(change.to),
    changeText(change, words, context.units),
    naiveText(change, words),
    `${bold}${change.verdict}${judgement(change, result)}${bold}`,
  ];
}

/** A row a pair of one metric, with a column for each footing. */
function pairRows(
  own: readonly MetricResult[],
  footings: readonly Footing[],
  context: ReportContext,
): readonly (readonly string[])[] {
  const [first] = own;
  const words = metricWords(first, context.spec, context.units);
  const bold = first.primary ? '**' : '';
  return first.changes.map((change) => {
    const cells = footings.map((footing) => {
      const result = own.find(({ conditions }) => conditions === footing);
      const same = result?.changes.find(({ from, to }) => from === change.from && to === change.to);
      if (result === undefined || same === undefined) return '-';
      const amount = changeText(same, words, context.units);
      return `${amount === '-' ? '' : `${amount}: `}${bold}${same.verdict}${judgement(same, result)}${bold}`;
    });
    return [
      boldTitle(first, context),
      escapeMarkdown(`${change.to} against ${change.from}`),
      ...cells,
      naiveText(change, words),
    ];
  });
}

/** Three configurations or more: their means side by side, then a row for every pair. */
function severalTables(results: readonly MetricResult[], context: ReportContext): string[] {
  const { baseline } = context.spec;
  const configurations = [...context.spec.configurations].sort(
    (a, b) => context.seriesOf(a.id) - context.seriesOf(b.id),
  );
  const head = configurations.map(
    ({ id, setting }) =>
      `${escapeMarkdown(id)}${setting === undefined ? '' : `, ${escapeMarkdown(settingText(setting))}`}${id === baseline ? ' (baseline)' : ''}`,
  );
  const means = results.map((result) => [
    `${boldTitle(result, context)}, ${footingTitles[result.conditions]}`,
    ...configurations.map(({ id }) =>
      meanCell(
        result.configurations.find((configuration) => configuration.id === id),
        result,
        context,
      ),
    ),
  ]);
  const footings = footingOrder.filter((footing) => results.some(({ conditions }) => conditions === footing));
  const rows = [...new Set(results.map(questionKey))].flatMap((metric) =>
    pairRows(
      results.filter((result) => questionKey(result) === metric),
      footings,
      context,
    ),
  );
  return [
    markdownTable(['Question', ...head], means, ['left', ...head.map(() => 'right' as const)]),
    markdownTable(
      ['Question', 'Compared', ...footings.map((footing) => `Change ${footingTitles[footing]}`), 'Plain averages'],
      rows,
      ['left', 'left', ...footings.map(() => 'left' as const), 'right'],
    ),
  ];
}

/** One table of two configurations: means, change and verdict in a row. */
function pairTable(results: readonly MetricResult[], context: ReportContext): string {
  const { baseline, configurations } = context.spec;
  const other = configurations.find(({ id }) => id !== baseline);
  const head = [
    'Question',
    `${escapeMarkdown(baseline)} (baseline)`,
    other === undefined ? 'compared' : escapeMarkdown(other.id),
    'Change at the same conditions',
    'Plain averages',
    'Verdict',
  ];
  const rows = results.flatMap((result) => result.changes.map((change) => changeRow(change, result, context)));
  return markdownTable(head, rows, ['left', 'right', 'right', 'right', 'right', 'left']);
}

/** Of three configurations or more on the first footing of each metric only: a picture of fifty rows is none. */
function changeRows(all: readonly MetricResult[], context: ReportContext): ChangeRow[] {
  const first = all.filter((result) => all.find((other) => questionKey(other) === questionKey(result)) === result);
  const results = context.spec.configurations.length > 2 ? first : all;
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
function answerSentence(change: Change, context: ReportContext, nested: boolean): string {
  const sentence = context.names.text(change.sentence);
  const [, subject, rest] = /^([^:]{3,90}):\s*(.*)$/s.exec(sentence) ?? [];
  if (subject === undefined) return escapeMarkdown(sentence);
  // Under a bullet that has the subject already.
  if (nested) return escapeMarkdown(capital(rest));
  return `**${escapeMarkdown(subject)}:** ${escapeMarkdown(rest)}`;
}

/** The sentence of a pair on the first footing, the others in short, and what the averages hid. */
function pairText(
  change: Change,
  first: MetricResult,
  others: readonly MetricResult[],
  context: ReportContext,
  nested: boolean,
): string {
  const words = metricWords(first, context.spec, context.units);
  const parts = [answerSentence(change, context, nested)];
  for (const other of others) {
    const same = other.changes.find(({ from, to }) => from === change.from && to === change.to);
    if (same === undefined) continue;
    const footing = footingTitles[other.conditions];
    const amount = changeText(same, words, context.units);
    parts.push(`${capital(footing)}: ${same.verdict}${judgement(same, other)}${amount === '-' ? '' : `, ${amount}`}.`);
  }
  const naive = naiveRemark(change);
  if (naive !== undefined) parts.push(naive);
  return parts.join(' ');
}

/** Three configurations or more: how they stand to each other, on each footing; a footing that says the same is not told twice. */
function standingLine(results: readonly MetricResult[], context: ReportContext): string | undefined {
  const told = results.flatMap((result) => {
    const sentence = standingSentence(result);
    return sentence === '' ? [] : [{ footing: footingTitles[result.conditions], sentence }];
  });
  const [first, ...others] = told;
  if (first === undefined) return undefined;
  const { title } = metricWords(results[0], context.spec, context.units);
  const differing = others.filter(({ sentence }) => sentence !== first.sentence);
  const same = others.filter(({ sentence }) => sentence === first.sentence).map(({ footing }) => footing);
  const head = `**${escapeMarkdown(title)} ${formatList([first.footing, ...same])}:** ${escapeMarkdown(first.sentence)}`;
  return [head, ...differing.map(({ footing, sentence }) => `${capital(footing)}: ${escapeMarkdown(sentence)}`)].join(
    ' ',
  );
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/**
 * One bullet a question and pair. Of three configurations or more one bullet a question, with how they stand to each other, and under it the
 * pairs: all of the primary question, those with the baseline of the others; the rest stand in the table.
 */
function bullets(results: readonly MetricResult[], context: ReportContext): string[] {
  const lines: string[] = [];
  for (const metric of new Set(results.map(questionKey))) {
    const own = results.filter((result) => questionKey(result) === metric);
    const [first, ...others] = own;
    const standing = context.spec.configurations.length > 2 ? standingLine(own, context) : undefined;
    if (standing !== undefined) lines.push(`- ${standing}`);
    const shown =
      standing === undefined || first.primary
        ? first.changes
        : first.changes.filter(({ from }) => from === context.spec.baseline);
    const nested = standing !== undefined;
    for (const change of shown) {
      const line = `${nested ? '  ' : ''}- ${pairText(change, first, others, context, nested)}`;
      // What keeps one configuration from an answer is the same for every pair with it: told once.
      if (change.verdict !== 'too few flights' || !lines.includes(line)) lines.push(line);
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
  const changes = results.flatMap((result) => result.changes);
  const several = context.spec.configurations.length > 2;
  lines.push(...(several ? severalTables(results, context) : [pairTable(results, context)]));
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
