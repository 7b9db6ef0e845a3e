import { formatIntervalParts } from '../../../../shared/format.ts';
import { escapeMarkdown } from '../../../../shared/markdown.ts';
import type { MetricResult } from '../../compare/result.ts';
import type { ReportContext } from '../context.ts';
import { againstConditionFigure } from '../figures/against-condition.ts';
import { runsFigure } from '../figures/runs.ts';
import { takeoffsFigure } from '../figures/take-offs.ts';
import { footingTitles, type MetricWords, metricWords } from '../metric-words.ts';
import { cautionsOf } from '../told-change.ts';
import { answering, questionKey } from './answer.ts';
import { runsTable } from './runs-table.ts';

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
  return context.show(words.slug, title, () =>
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
  const title = `${words.title} against density altitude, ${footingTitles[result.conditions]}`;
  const counts = seen.configurations.map(({ id, points }) => `${id}: ${points.length} points.`);
  const description = `${counts.join(' ')} The numbers stand in the tables.`;
  return context.show(`${words.slug}-against-density-altitude`, title, () =>
    againstConditionFigure(seen, words.kind, context.units, context.seriesOf, footingTitles[result.conditions], {
      title,
      description,
    }),
  );
}

/** Cautions of all changes of a metric, each once, with the footing where it holds for one only. */
function cautions(results: readonly MetricResult[], context: ReportContext): string[] {
  const footings = new Map<string, Set<string>>();
  for (const result of results) {
    for (const warning of cautionsOf(result.changes)) {
      footings.set(warning, (footings.get(warning) ?? new Set()).add(footingTitles[result.conditions]));
    }
  }
  return [...footings].map(([warning, where]) => {
    const text = escapeMarkdown(context.names.text(warning));
    if (where.size === results.length) return `- ${text}`;
    const limited = ` (${[...where].join(', ')})`;
    return text.endsWith('.') ? `- ${text.slice(0, -1)}${limited}.` : `- ${text}${limited}`;
  });
}

/** One section a metric: what it is, at which conditions, figures, every run raw and corrected, cautions. */
export function metricSection(metric: string, context: ReportContext): string {
  const results = answering(context.metrics).filter((result) => questionKey(result) === metric);
  if (results.length === 0) return '';
  const words = metricWords(results[0], context.spec, context.units);
  const lines = [`${context.heading(2)} ${escapeMarkdown(words.title)}`, '', words.doc, ''];
  for (const result of results) {
    if (result.at === '') continue;
    const footing = footingTitles[result.conditions];
    const prefix = results.length > 1 ? `*${footing.charAt(0).toUpperCase()}${footing.slice(1)}:* ` : '';
    const sentence = results.length > 1 ? result.at.charAt(0).toLowerCase() + result.at.slice(1) : result.at;
    lines.push(`${prefix}${escapeMarkdown(sentence)}`, '');
  }
  const against = results.find((result) => result.seenAgainst !== undefined);
  if (against !== undefined) lines.push(againstFigure(against, words, context), '');
  if (results[0].configurations.some(({ values }) => values.length > 0)) {
    lines.push(figureOf(results[0], words, context), '', runsTable(results, words, context));
  }
  const warned = cautions(results, context);
  if (warned.length > 0) lines.push('Cautions for this answer:', '', ...warned, '');
  return `${lines.filter((line, index) => line !== '' || lines[index - 1] !== '').join('\n')}\n`;
}

/** Height and speed against distance of all take-offs, once. */
export function takeoffsSection(context: ReportContext): string {
  const { flights } = context.evaluation;
  const drawn = flights.flatMap((flight) =>
    flight.profiles.flatMap((profile, index) => {
      const takeoff = flight.analysis?.takeoffs[index];
      const known = context.spec.configurations.some(({ id }) => id === flight.entry.configuration);
      return profile !== undefined && takeoff?.outcome === 'flown' && known
        ? [{ profile, series: context.seriesOf(flight.entry.configuration) }]
        : [];
    }),
  );
  const asked = context.metrics.some((result) => /^(?:ground-roll|distance-over)/.test(result.metric));
  if (drawn.length === 0 || !asked) return '';
  const title = 'Height and ground speed against distance, every take-off';
  const heights = [...new Set(context.spec.questions.ask.flatMap((question) => question.heightM ?? []))];
  const configurations = context.spec.configurations.map(({ id }) => ({ id, series: context.seriesOf(id) }));
  const figure = context.show('take-offs', title, () =>
    takeoffsFigure(drawn, heights, configurations, context.units, {
      title,
      description: `${drawn.length} take-offs as recorded, not corrected for wind, weight or density. Symbols mark lift-off.`,
    }),
  );
  return figure === '' ? '' : `${context.heading(2)} Take-offs as recorded\n\n${figure}\n`;
}
