import { formatInterval, formatList, formatShort, formatSigned } from '../../../../shared/format.ts';
import type { Interval } from '../../../../shared/measured.ts';
import { escapeMarkdown } from '../../../../shared/markdown.ts';
import { type AlongSetting, type MetricResult, standingOf, toldIds } from '../../compare/index.ts';
import type { ReportContext } from '../context.ts';
import { againstSettingFigure, type SettingPanel } from '../figures/against-setting.ts';
import { tradeFigure, type TradeMetric } from '../figures/trade.ts';
import { footingTitles, metricWords } from '../metric-words.ts';
import { settingAxis, settingText } from '../setting-text.ts';
import { type Trade, tradeOf, tradeSentences } from '../trade.ts';
import { answering } from './answer.ts';

/** More panels than this are no picture; the rest stands in the tables. */
const mostPanels = 6;

function meansOf(result: MetricResult): ReadonlyMap<string, Interval> {
  const told = toldIds(result);
  return new Map(
    result.configurations.flatMap(({ id, mean }) =>
      mean === undefined || !told.includes(id) ? [] : [[id, mean] as const],
    ),
  );
}

/** Trades that are shown by default: of three configurations or more; of two, the table says it. */
export function shownTrade(context: Pick<ReportContext, 'spec' | 'metrics'>): Trade | undefined {
  const wanted = context.spec.report.trade ?? context.spec.configurations.length > 2;
  return wanted ? tradeOf(context.metrics) : undefined;
}

function tradeLines(trade: Trade, context: ReportContext): string[] {
  const { units, spec } = context;
  const words = (result: MetricResult) => metricWords(result, spec, units);
  const metric = (result: MetricResult): TradeMetric => {
    const { title, kind } = words(result);
    return { title, kind, smallerIsBetter: result.smallerIsBetter === true, means: meansOf(result) };
  };
  const [first, ...rest] = trade.results;
  // A panel shows those that are known in both of its metrics.
  const others = rest.filter((other) => toldIds(other).filter((id) => toldIds(first).includes(id)).length >= 2);
  const drawn = others.slice(0, mostPanels);
  const sentences = tradeSentences(trade, (name) => {
    const found = trade.results.find((result) => result.metric === name);
    return found === undefined ? name : words(found).title;
  });
  const title = `${words(first).title} against ${formatList(drawn.map((result) => words(result).title.toLowerCase()))}, by configuration`;
  const values = trade.results.map((result) => {
    const { title, kind } = words(result);
    const each = [...meansOf(result)].map(([id, mean]) => `${id} ${formatInterval(mean, kind, units)}`);
    return `${title} ${footingTitles[result.conditions]}: ${each.join('; ')}.`;
  });
  const figure =
    drawn.length === 0
      ? ''
      : context.show('trade', title, () =>
          tradeFigure({
            across: metric(first),
            up: drawn.map(metric),
            configurations: trade.ids.map((id) => ({ id, series: context.seriesOf(id) })),
            units,
            words: { title, description: [...sentences, ...values].join(' ') },
          }),
        );
  const left = others.length - drawn.length;
  return [
    ...sentences.flatMap((sentence) => [`- ${escapeMarkdown(sentence)}`]),
    '',
    figure,
    '',
    ...(left > 0 ? [`Drawn are the first ${mostPanels}; the other metrics stand in the tables.`, ''] : []),
  ];
}

/** "rises by 1.2 to 3.4 % per deg": the slope of a metric along the setting, in words. */
function slopeText(along: AlongSetting, result: MetricResult, unit: string, context: ReportContext): string {
  const { slope, slopeIn } = along;
  const size = Math.max(Math.abs(slope.low), Math.abs(slope.high));
  const decimals = size >= 20 ? 0 : size >= 2 ? 1 : 2;
  const { kind } = metricWords(result, context.spec, context.units);
  const amount =
    slopeIn === 'percent'
      ? `${formatSigned(slope.value, decimals)} % (${formatSigned(slope.low, decimals)} to ${formatSigned(slope.high, decimals)})`
      : formatInterval(slope, kind, context.units, true);
  return `${amount} per ${unit}`;
}

/** The neighbours of a configuration between whose settings its own lies. */
function neighbours(id: string, settings: AlongSetting['settings']): readonly [string, string] | undefined {
  const own = settings.find((setting) => setting.id === id)?.value;
  if (own === undefined) return undefined;
  const below = settings.filter(({ value }) => value < own).at(-1);
  const above = settings.find(({ value }) => value > own);
  return below === undefined || above === undefined ? undefined : [below.id, above.id];
}

/** What is shown along the settings, a sentence a metric. A best setting between others is named only where both neighbours are shown worse. */
function alongLine(result: MetricResult, along: AlongSetting, context: ReportContext): string {
  const { spec } = context;
  const unit = spec.configurations.find(({ setting }) => setting !== undefined)?.setting?.unit ?? '';
  const { title } = metricWords(result, spec, context.units);
  const lowest = along.settings[0];
  const highest = along.settings[along.settings.length - 1];
  const span = `${formatShort(lowest.value, 4)} to ${settingText({ value: highest.value, unit })}`;
  const count = new Set(along.settings.map(({ value }) => value)).size;
  const head = `${title} ${footingTitles[result.conditions]}`;
  const { pairs } = standingOf(result);
  const better = (a: string, b: string): boolean =>
    pairs.some((pair) => pair.kind === 'better' && pair.better === a && pair.worse === b);
  const peak = along.settings.find(({ id }) => {
    const beside = neighbours(id, along.settings);
    return beside !== undefined && beside.every((other) => better(id, other));
  });
  const inner =
    peak === undefined || result.smallerIsBetter === undefined
      ? ''
      : ` "${peak.id}" (${settingText({ value: peak.value, unit })}) is shown better than the settings on both sides of it; where between them the best one lies, ${count} settings do not tell.`;
  if (along.bends)
    return `${head}: the change from setting to setting (${span}) is shown not to be constant: no slope is given.${inner}`;
  const flat = along.slope.low < 0 && along.slope.high > 0;
  const sentence = flat
    ? `no slope is shown over ${span}: ${slopeText(along, result, unit, context)}, taken as constant through ${count} settings.`
    : `${slopeText(along, result, unit, context)} over ${span}, taken as constant through ${count} settings.`;
  return `${head}: ${sentence}${inner}`;
}

function settingLines(results: readonly MetricResult[], context: ReportContext): string[] {
  const { spec, units } = context;
  const axis = settingAxis(spec);
  if (axis === undefined) return [];
  const settingOf = new Map(spec.configurations.flatMap(({ id, setting }) => (setting ? [[id, setting.value]] : [])));
  const metrics = new Set<string>();
  const panels = results.flatMap((result): (SettingPanel & { readonly result: MetricResult })[] => {
    if (metrics.has(result.metric)) return [];
    const points = [...meansOf(result)].flatMap(([id, mean]) => {
      const setting = settingOf.get(id);
      return setting === undefined ? [] : [{ id, series: context.seriesOf(id), setting, mean }];
    });
    if (new Set(points.map(({ setting }) => setting)).size < 2) return [];
    metrics.add(result.metric);
    const { title, kind } = metricWords(result, spec, units);
    const along = result.alongSetting;
    return [{ title, kind, points, result, ...(along === undefined ? {} : { along }) }];
  });
  if (panels.length === 0) return [];
  const lines = panels.flatMap(({ along, result }) => (along === undefined ? [] : [alongLine(result, along, context)]));
  const title = `Metrics against ${spec.settingOf ?? 'setting'}`;
  const values = panels.map(
    ({ title, kind, points }) =>
      `${title}: ${points.map(({ setting, mean }) => `${formatShort(setting, 4)}: ${formatInterval(mean, kind, units)}`).join('; ')}.`,
  );
  const figure = context.show('against-setting', title, () =>
    againstSettingFigure({
      axis,
      panels: panels.slice(0, mostPanels),
      units,
      words: { title, description: [...lines, ...values].join(' ') },
    }),
  );
  return [
    ...(lines.length === 0
      ? ['Fewer than three settings: no line is laid through them.', '']
      : [
          ...lines.map((line) => `- ${escapeMarkdown(line)}`),
          '',
          'Slopes are 95 % intervals of one question each, and hold between the settings flown, not beyond.',
          '',
        ]),
    figure,
    '',
  ];
}

/** The configurations beside each other: what one gains and another loses, and how the metrics go with the setting of the adjustable part. */
export function sideBySideSection(context: ReportContext): string {
  const trade = shownTrade(context);
  const along = settingLines(answering(context.metrics), context);
  if (trade === undefined && along.length === 0) return '';
  const lines = [`${context.heading(2)} The configurations side by side`, ''];
  if (trade !== undefined) lines.push(...tradeLines(trade, context));
  if (along.length > 0) {
    const of = context.spec.settingOf ?? 'setting';
    lines.push(`${context.heading(3)} Against ${escapeMarkdown(of)}`, '', ...along);
  }
  return `${lines.filter((line, index) => line !== '' || lines[index - 1] !== '').join('\n')}\n`;
}
