import {
  formatFixed,
  formatIntervalParts,
  formatPercent,
  formatSigned,
  inShownUnit,
  shownUnit,
} from '../../../../shared/format.ts';
import { codeSpan, escapeMarkdown, markdownTable } from '../../../../shared/markdown.ts';
import type { AppliedCorrection, MetricResult, RunValue } from '../../compare/result.ts';
import type { ReportContext } from '../context.ts';
import { againstConditionFigure } from '../figures/against-condition.ts';
import { runsFigure } from '../figures/runs.ts';
import { takeoffsFigure } from '../figures/take-offs.ts';
import { footingTitles, type MetricWords, metricWords } from '../metric-words.ts';
import { answering } from './answer.ts';

/** "x 0.93", "+12 ft/min": one correction beside the raw value. */
function correctionCell(correction: AppliedCorrection | undefined, words: MetricWords, context: ReportContext): string {
  if (correction === undefined) return '';
  const parts: string[] = [];
  if (correction.factor !== undefined) parts.push(`x ${formatFixed(correction.factor, 3)}`);
  if (correction.addend !== undefined) {
    const zero = inShownUnit(0, words.kind, context.units);
    const decimals = shownUnit(words.kind, context.units).decimals;
    parts.push(formatSigned(inShownUnit(correction.addend, words.kind, context.units) - zero, decimals));
  }
  return `${parts.join(' ')}${correction.warning === undefined ? '' : ' !'}`;
}

function remarks(run: RunValue): string {
  const warnings = run.corrections.flatMap((correction) =>
    correction.warning === undefined ? [] : [`${correction.name}: ${correction.warning}`],
  );
  const weight = run.weight < 0.995 ? [`counts for ${formatPercent(run.weight * 100, 0).replace('+', '')}`] : [];
  return [...(run.outlier === undefined ? [] : [`stands out: ${run.outlier}`]), ...warnings, ...weight].join('; ');
}

function runsTable(result: MetricResult, words: MetricWords, context: ReportContext): string {
  const runs = result.configurations.flatMap((configuration) =>
    configuration.values.map((run) => ({ configuration: configuration.id, run })),
  );
  runs.sort(
    (a, b) =>
      context.seriesOf(a.configuration) - context.seriesOf(b.configuration) ||
      a.run.timeS - b.run.timeS ||
      a.run.number - b.run.number,
  );
  const corrected = result.conditions !== 'as-flown';
  const used = [...new Set(runs.flatMap(({ run }) => run.corrections.map((correction) => correction.name)))];
  const several = new Set(runs.filter(({ run }) => run.number > 1).map(({ run }) => run.file));
  const unit = shownUnit(words.kind, context.units).symbol;
  const head = [
    'Day',
    'Recording',
    'Configuration',
    `As measured, ${unit}`,
    ...(corrected ? [...used, `${footingTitles[result.conditions]}, ${unit}`] : []),
    'Remarks',
  ];
  const rows = runs.map(({ configuration, run }) => {
    const raw = formatIntervalParts(run.raw, words.kind, context.units);
    const value = formatIntervalParts(run, words.kind, context.units);
    return [
      run.day,
      `${codeSpan(context.names.file(run.file))}${several.has(run.file) ? ` no. ${run.number}` : ''}`,
      escapeMarkdown(configuration),
      `${raw.value} (${raw.low} to ${raw.high})`,
      ...(corrected
        ? [
            ...used.map((name) =>
              correctionCell(
                run.corrections.find((correction) => correction.name === name),
                words,
                context,
              ),
            ),
            `${value.value} (${value.low} to ${value.high})`,
          ]
        : []),
      escapeMarkdown(remarks(run)),
    ];
  });
  return markdownTable(head, rows, [
    'left',
    'left',
    'left',
    'right',
    ...(corrected ? [...used.map(() => 'right' as const), 'right' as const] : []),
  ]);
}

function figureOf(result: MetricResult, words: MetricWords, context: ReportContext): string {
  const footing = footingTitles[result.conditions];
  const title = `${words.title}, ${footing}: every run, by configuration and day`;
  const description = result.configurations
    .map((configuration) => {
      const runs = `${configuration.runs} runs on ${configuration.days} days`;
      if (configuration.mean === undefined) return `${configuration.id}: ${runs}.`;
      const mean = formatIntervalParts(configuration.mean, words.kind, context.units);
      return `${configuration.id}: mean ${mean.value} ${mean.unit}, 95 % interval ${mean.low} to ${mean.high}, ${runs}.`;
    })
    .join(' ');
  return context.show(`${words.slug}-${result.conditions}`, title, () =>
    runsFigure({
      result,
      kind: words.kind,
      units: context.units,
      seriesOf: context.seriesOf,
      words: { title, description },
      at: `${footing.charAt(0).toUpperCase()}${footing.slice(1)}`,
    }),
  );
}

function againstFigure(result: MetricResult, words: MetricWords, context: ReportContext): string {
  const seen = result.seenAgainst;
  if (seen === undefined || seen.configurations.every(({ points }) => points.length === 0)) return '';
  const title = `${words.title} against density altitude`;
  const counts = seen.configurations.map(({ id, points }) => `${id}: ${points.length} points.`);
  const description = `${counts.join(' ')} The numbers stand in the tables.`;
  return context.show(`${words.slug}-against-density-altitude`, title, () =>
    againstConditionFigure(seen, words.kind, context.units, context.seriesOf, { title, description }),
  );
}

/** One section a metric: what it is, at which conditions, figures, and every run raw and corrected. */
export function metricSection(metric: string, context: ReportContext): string {
  const results = answering(context.metrics).filter((result) => result.metric === metric);
  const all = context.metrics.filter((result) => result.metric === metric);
  if (all.length === 0) return '';
  const words = metricWords(all[0], context.spec, context.units);
  const lines = [`${context.heading(2)} ${escapeMarkdown(words.title)}`, '', words.doc, ''];
  const against = all.find((result) => result.seenAgainst !== undefined);
  if (against !== undefined) lines.push(againstFigure(against, words, context), '');
  for (const result of results) {
    if (results.length > 1)
      lines.push(`${context.heading(3)} ${escapeMarkdown(words.title)} ${footingTitles[result.conditions]}`, '');
    if (result.at !== '') lines.push(escapeMarkdown(result.at), '');
    lines.push(figureOf(result, words, context), '', runsTable(result, words, context));
    const marked = result.configurations.some(({ values }) =>
      values.some(({ corrections }) => corrections.some(({ warning }) => warning !== undefined)),
    );
    if (marked) lines.push('"!" marks a correction that is large or outside its range: see the remarks.', '');
  }
  return `${lines.filter((line, index) => line !== '' || lines[index - 1] !== '').join('\n')}\n`;
}

/** Height and speed against distance of all take-offs, once. */
export function takeoffsSection(context: ReportContext): string {
  const { flights } = context.evaluation;
  const drawn = flights.flatMap((flight) =>
    flight.profiles.flatMap((profile, index) => {
      const takeoff = flight.analysis?.takeoffs[index];
      const compared =
        takeoff?.outcome === 'flown' && context.spec.configurations.some(({ id }) => id === flight.entry.configuration);
      return profile !== undefined && compared
        ? [{ profile, series: context.seriesOf(flight.entry.configuration) }]
        : [];
    }),
  );
  const asked = context.metrics.some((result) => /^(?:ground-roll|distance-over)/.test(result.metric));
  if (drawn.length === 0 || !asked) return '';
  const title = 'Height and ground speed against distance, every take-off';
  const heights = context.spec.questions.ask.flatMap((question) => question.heightM ?? []);
  const configurations = context.spec.configurations.map(({ id }) => ({ id, series: context.seriesOf(id) }));
  const figure = context.show('take-offs', title, () =>
    takeoffsFigure(drawn, heights, configurations, context.units, {
      title,
      description: `${drawn.length} take-offs as recorded, not corrected for wind, weight or density. Symbols mark lift-off.`,
    }),
  );
  return figure === '' ? '' : `${context.heading(2)} Take-offs as recorded\n\n${figure}\n`;
}
