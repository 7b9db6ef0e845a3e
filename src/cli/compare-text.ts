import type { DisplayUnits } from '../../shared/display-units.ts';
import { formatCount, formatInterval, formatPercent, formatPercentInterval } from '../../shared/format.ts';
import type { Evaluation } from '../engine/evaluate/index.ts';
import { answering, footingTitles, judgement, metricWords } from '../engine/report/index.ts';
import { indented, textTable } from './text-table.ts';

/** The answer on a terminal: the table of the report, and what was left out. */
export function comparisonText(evaluation: Evaluation, units: DisplayUnits): string {
  const { spec, result } = evaluation;
  if (spec === undefined || result === undefined) return '';
  const rows = answering(result.metrics).flatMap((metric) =>
    metric.changes.map((change) => {
      const words = metricWords(metric, spec, units);
      const mean = (id: string): string => {
        const found = metric.configurations.find((configuration) => configuration.id === id);
        if (found?.mean === undefined) return '-';
        return `${formatInterval(found.mean, words.kind, units)}, ${formatCount(found.days, 'day')}`;
      };
      return [
        `${metric.primary ? '* ' : '  '}${words.title}, ${footingTitles[metric.conditions]}`,
        spec.configurations.length > 2 ? `${change.from}: ${mean(change.from)}` : mean(change.from),
        spec.configurations.length > 2 ? `${change.to}: ${mean(change.to)}` : mean(change.to),
        change.percent === undefined ? '-' : formatPercentInterval(change.percent),
        change.naivePercent === undefined ? '-' : formatPercent(change.naivePercent),
        `${change.verdict}${judgement(change, metric)}${change.moreDays === null ? '' : `; about ${formatCount(change.moreDays, 'more day')} would tell`}`,
      ];
    }),
  );
  const others = spec.configurations.filter(({ id }) => id !== spec.baseline);
  const head = [
    '',
    spec.baseline,
    others.length === 1 ? others[0].id : 'compared',
    'change',
    'plain averages',
    'verdict',
  ];
  const used = evaluation.flights.filter((flight) => flight.analysis !== undefined).length;
  const lines = [
    `${result.title}\n`,
    `${formatCount(used, 'recording')} of ${evaluation.flights.length} read. Brackets hold 95 % intervals; * is the primary question.\n\n`,
  ];
  lines.push(rows.length === 0 ? 'No question could be answered from these recordings.\n' : textTable(head, rows));
  const warnings = [
    ...new Set(result.metrics.flatMap((metric) => metric.changes.flatMap((change) => change.warnings))),
  ];
  if (warnings.length > 0) lines.push('\nCautions:\n', ...warnings.map((warning) => `  - ${warning}\n`));
  if (result.leftOut.length > 0) {
    const left = result.leftOut.map((item) => [
      `${item.file}${item.number === undefined ? '' : ` no. ${item.number}`}`,
      item.metric ?? 'all',
      item.reason,
    ]);
    lines.push('\nLeft out:\n', indented(textTable(['recording', 'metric', 'reason'], left), '  '));
  }
  lines.push('\nNot approved performance data: the flight manual rules.\n');
  return lines.join('');
}
