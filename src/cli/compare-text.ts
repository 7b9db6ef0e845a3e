import type { DisplayUnits } from '../../shared/display-units.ts';
import { formatCount, formatInterval } from '../../shared/format.ts';
import type { Change, MetricResult } from '../engine/compare/result.ts';
import type { Evaluation } from '../engine/evaluate/index.ts';
import {
  answering,
  cautionsOf,
  changeText,
  footingTitles,
  groupLeftOut,
  isStricter,
  judgement,
  metricWords,
  naiveText,
} from '../engine/report/index.ts';
import type { Spec } from '../engine/spec/index.ts';
import { indented, textTable } from './text-table.ts';

function row(metric: MetricResult, change: Change, spec: Spec, units: DisplayUnits): string[] {
  const words = metricWords(metric, spec, units);
  const mean = (id: string): string => {
    const found = metric.configurations.find((configuration) => configuration.id === id);
    if (found?.mean === undefined) return '-';
    return `${formatInterval(found.mean, words.kind, units)}, ${formatCount(found.days, 'day')}`;
  };
  const several = spec.configurations.length > 2;
  const more = change.moreDays === null ? '' : `; about ${formatCount(change.moreDays, 'more day')} each would tell`;
  return [
    `${metric.primary ? '* ' : '  '}${words.title}, ${footingTitles[metric.conditions]}`,
    several ? `${change.from}: ${mean(change.from)}` : mean(change.from),
    several ? `${change.to}: ${mean(change.to)}` : mean(change.to),
    changeText(change, words, units),
    naiveText(change, words),
    `${change.verdict}${judgement(change, metric)}${more}`,
  ];
}

/** The answer on a terminal: the table of the report, the cautions of the primary question, and what was left out. */
export function comparisonText(evaluation: Evaluation, units: DisplayUnits): string {
  const { spec, result } = evaluation;
  if (spec === undefined || result === undefined) return '';
  const shown = answering(result.metrics);
  const rows = shown.flatMap((metric) => metric.changes.map((change) => row(metric, change, spec, units)));
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
  const stricter = shown.some((metric) => metric.changes.some(isStricter));
  const lines = [
    `${result.title}\n\n`,
    rows.length === 0 ? 'No question could be answered from these recordings.\n' : textTable(head, rows),
    `\n${used} of ${formatCount(evaluation.flights.length, 'recording')} read. Brackets hold 95 % intervals; * is the primary question.\n`,
    stricter
      ? 'Several questions are asked at once: a verdict needs more than its own 95 % interval beyond zero.\n'
      : '',
  ];
  const [main] = shown.filter(({ primary }) => primary).concat(shown);
  const warnings = cautionsOf(main?.changes ?? []);
  if (main !== undefined && warnings.length > 0) {
    const words = metricWords(main, spec, units);
    lines.push(
      `\nCautions for ${words.title.toLowerCase()}, ${footingTitles[main.conditions]} (the others stand in the report):\n`,
    );
    lines.push(...warnings.map((warning) => `  - ${warning}\n`));
  }
  const left = groupLeftOut(result.leftOut).map(({ file, numbers, metrics, by, reason }) => [
    `${file}${numbers.length === 0 ? '' : ` no. ${numbers.join(', ')}`}`,
    metrics.length === 0 ? 'all' : metrics.join(', '),
    by === 'pilot' ? `${reason} (the spec)` : reason,
  ]);
  if (left.length > 0) lines.push('\nLeft out:\n', indented(textTable(['recording', 'metric', 'reason'], left), '  '));
  lines.push('\nNot approved performance data: the flight manual rules.\n');
  return lines.join('');
}
