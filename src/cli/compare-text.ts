import type { DisplayUnits } from '../../shared/display-units.ts';
import { formatCount, formatInterval, formatList } from '../../shared/format.ts';
import { standingSentence, toldIds } from '../engine/compare/index.ts';
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
  settingText,
  tradeOf,
  tradeSentences,
} from '../engine/report/index.ts';
import type { Spec } from '../engine/spec/index.ts';
import { indented, textTable } from './text-table.ts';

function meanText(metric: MetricResult, id: string, spec: Spec, units: DisplayUnits): string {
  const found = metric.configurations.find((configuration) => configuration.id === id);
  const { kind } = metricWords(metric, spec, units);
  if (found?.mean === undefined || (kind === 'altitude' && !toldIds(metric).includes(id))) return '-';
  return `${formatInterval(found.mean, kind, units)}, ${formatCount(found.days, 'day')}`;
}

function titleText(metric: MetricResult, spec: Spec, units: DisplayUnits): string {
  return `${metric.primary ? '* ' : '  '}${metricWords(metric, spec, units).title}, ${footingTitles[metric.conditions]}`;
}

function changeCells(metric: MetricResult, change: Change, spec: Spec, units: DisplayUnits): string[] {
  const words = metricWords(metric, spec, units);
  const more = change.moreDays === null ? '' : `; about ${formatCount(change.moreDays, 'more day')} each would tell`;
  return [
    changeText(change, words, units),
    naiveText(change, words),
    `${change.verdict}${judgement(change, metric)}${more}`,
  ];
}

/** One table of two configurations. */
function pairTable(shown: readonly MetricResult[], spec: Spec, units: DisplayUnits): string {
  const other = spec.configurations.find(({ id }) => id !== spec.baseline)?.id ?? 'compared';
  const head = ['', spec.baseline, other, 'change', 'plain averages', 'verdict'];
  const rows = shown.flatMap((metric) =>
    metric.changes.map((change) => [
      titleText(metric, spec, units),
      meanText(metric, change.from, spec, units),
      meanText(metric, change.to, spec, units),
      ...changeCells(metric, change, spec, units),
    ]),
  );
  return textTable(head, rows);
}

/** Three configurations or more: means side by side, a row for every pair, and how they stand to each other. */
function severalTables(shown: readonly MetricResult[], spec: Spec, units: DisplayUnits): string {
  const ids = [spec.baseline, ...spec.configurations.flatMap(({ id }) => (id === spec.baseline ? [] : [id]))];
  const heads = ids.map((id) => {
    const setting = spec.configurations.find((one) => one.id === id)?.setting;
    return `${id}${setting === undefined ? '' : `, ${settingText(setting)}`}`;
  });
  const means = shown.map((metric) => [
    titleText(metric, spec, units),
    ...ids.map((id) => meanText(metric, id, spec, units)),
  ]);
  const first = (metric: MetricResult): MetricResult => shown.find((one) => one.metric === metric.metric) ?? metric;
  const sameAs = (metric: MetricResult, change: Change): boolean =>
    first(metric) !== metric &&
    first(metric).changes.some(
      ({ from, to, verdict }) => from === change.from && to === change.to && verdict === change.verdict,
    );
  const told = shown.map((metric) => ({ metric, changes: metric.changes.filter((one) => !sameAs(metric, one)) }));
  const repeated = told.some(({ metric, changes }) => changes.length < metric.changes.length);
  const pairs = told.flatMap(({ metric, changes }) =>
    changes.map((change) => [
      titleText(metric, spec, units),
      `${change.to} against ${change.from}`,
      ...changeCells(metric, change, spec, units),
    ]),
  );
  const standings = [...new Set(shown.map(({ metric }) => metric))].flatMap((name) => {
    const footings = new Map<string, string[]>();
    const own = shown.filter(({ metric }) => metric === name);
    for (const metric of own) {
      const sentence = standingSentence(metric);
      if (sentence !== '')
        footings.set(sentence, [...(footings.get(sentence) ?? []), footingTitles[metric.conditions]]);
    }
    const { title } = metricWords(own[0], spec, units);
    return [...footings].map(([sentence, where]) => `  - ${title} ${formatList(where)}: ${sentence}\n`);
  });
  const trade = tradeOf(shown);
  const title = (name: string): string => {
    const found = shown.find(({ metric }) => metric === name);
    return found === undefined ? name : metricWords(found, spec, units).title;
  };
  const traded = trade === undefined ? [] : tradeSentences(trade, title).map((sentence) => `  - ${sentence}\n`);
  return [
    textTable(['', ...heads], means),
    '\n',
    textTable(['', 'compared', 'change', 'plain averages', 'verdict'], pairs),
    repeated ? 'A footing whose verdict is the same is not repeated; its figures stand in the report.\n' : '',
    standings.length === 0 ? '' : '\nHow they stand to each other:\n',
    ...standings,
    traded.length === 0 ? '' : '\nWhat is gained and what is paid:\n',
    ...traded,
  ].join('');
}

/** The answer on a terminal: the table of the report, the cautions of the primary question, and what was left out. */
export function comparisonText(evaluation: Evaluation, units: DisplayUnits): string {
  const { spec, result } = evaluation;
  if (spec === undefined || result === undefined) return '';
  const shown = answering(result.metrics);
  const answered = shown.some(({ changes }) => changes.length > 0);
  const table = spec.configurations.length > 2 ? severalTables : pairTable;
  const used = evaluation.flights.filter((flight) => flight.analysis !== undefined).length;
  const stricter = shown.some((metric) => metric.changes.some(isStricter));
  const lines = [
    `${result.title}\n\n`,
    answered ? table(shown, spec, units) : 'No question could be answered from these recordings.\n',
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
