import type { QuantityKind } from '../../../../shared/format.ts';
import { formatCount, inShownUnit, shownUnit } from '../../../../shared/format.ts';
import type { DisplayUnits } from '../../../../shared/display-units.ts';
import type { ConfigurationResult, MetricResult } from '../../compare/result.ts';
import { element, line, type Markup, text, textWidth } from '../svg/element.ts';
import { type Box, type FigureText, figure, legend, verticalAxis } from '../svg/frame.ts';
import { type Scale, scaleOver } from '../svg/scale.ts';
import { symbol } from '../svg/symbol.ts';
import { lookOf } from '../svg/theme.ts';

export interface RunsFigure {
  readonly result: MetricResult;
  readonly kind: QuantityKind;
  readonly units: DisplayUnits;
  /** Place of each configuration among all, for colour and symbol. */
  readonly seriesOf: (id: string) => number;
  readonly words: FigureText;
  /** "at 790 kg, no wind ...": heading of the right panel. */
  readonly at: string;
}

interface Column {
  readonly configuration: ConfigurationResult;
  readonly day: string;
  /** Left edge and width, pixels. */
  readonly x: number;
  readonly width: number;
}

const width = 760;
const gapBetweenDays = 6;
const gapBetweenConfigurations = 18;

/** Days of each configuration side by side, each as wide as it has runs. */
function columnsOf(configurations: readonly ConfigurationResult[], box: Box): Column[] {
  const days = configurations.flatMap((configuration) => {
    const counts = new Map<string, number>();
    for (const run of configuration.values) counts.set(run.day, (counts.get(run.day) ?? 0) + 1);
    return [...counts].sort(([a], [b]) => (a < b ? -1 : 1)).map(([day, runs]) => ({ configuration, day, runs }));
  });
  const gaps = days.length * gapBetweenDays + configurations.length * gapBetweenConfigurations;
  const share =
    (box.right - box.left - gaps) /
    Math.max(
      1,
      days.reduce((sum, day) => sum + day.runs, 0),
    );
  let x = box.left + gapBetweenConfigurations / 2;
  return days.map((day, index) => {
    if (index > 0)
      x += gapBetweenDays + (days[index - 1].configuration === day.configuration ? 0 : gapBetweenConfigurations);
    const column = { configuration: day.configuration, day: day.day, x, width: share * day.runs };
    x += column.width;
    return column;
  });
}

interface Dot {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly odd: boolean;
}

function panel(
  spec: RunsFigure,
  box: Box,
  scale: Scale,
  heading: string,
  dots: (configuration: ConfigurationResult, day: string) => readonly Dot[],
  mean: (
    configuration: ConfigurationResult,
  ) => { readonly value: number; readonly low?: number; readonly high?: number } | undefined,
): Markup {
  const { configurations } = spec.result;
  const columns = columnsOf(configurations, box);
  const parts: Markup[] = [text(box.left, box.top - 34, heading, { class: 'heading' })];
  for (const tick of scale.ticks) parts.push(line(box.left, scale(tick), box.right, scale(tick), 'grid'));
  for (const configuration of configurations) {
    const own = columns.filter((column) => column.configuration === configuration);
    if (own.length === 0) continue;
    const series = spec.seriesOf(configuration.id);
    const look = lookOf(series);
    const [from, to] = [own[0].x - 4, own[own.length - 1].x + own[own.length - 1].width + 4];
    const marks: Markup[] = [];
    const middle = mean(configuration);
    if (middle?.low !== undefined && middle.high !== undefined) {
      marks.push(
        element('rect', {
          x: from,
          y: scale(middle.high),
          width: to - from,
          height: Math.max(1, scale(middle.low) - scale(middle.high)),
          class: 'band',
        }),
      );
    }
    if (middle !== undefined) marks.push(line(from, scale(middle.value), to, scale(middle.value), 'mean', look.dash));
    for (const column of own) {
      const runs = dots(configuration, column.day);
      runs.forEach((dot, index) => {
        const x = column.x + (column.width * (index + 0.5)) / runs.length;
        marks.push(line(x, scale(dot.low), x, scale(dot.high), 'whisker'));
        marks.push(symbol(look.symbol, x, scale(dot.value), dot.odd ? 'hollow' : 'mark'));
      });
      marks.push(line(column.x, box.bottom + 5, column.x + column.width, box.bottom + 5, 'whisker'));
    }
    const label = `${configuration.id}, ${formatCount(configuration.days, 'day')}`;
    const room = to - from + gapBetweenConfigurations;
    const short = textWidth(label, 12) <= room ? label : configuration.id.slice(0, Math.max(1, Math.floor(room / 7)));
    marks.push(text((from + to) / 2, box.bottom + 24, short, { anchor: 'middle', class: 'small' }));
    parts.push(element('g', { class: `c${series % 6}` }, ...marks));
  }
  parts.push(line(box.left, box.bottom, box.right, box.bottom, 'axis'));
  return element('g', {}, ...parts);
}

/** Every run as a dot, by configuration and day: as flown at the left, at reference conditions with mean and interval at the right. */
export function runsFigure(spec: RunsFigure): string {
  const { result, kind, units } = spec;
  const show = (value: number): number => inShownUnit(value, kind, units);
  // An altitude up to which a rate is held is not measured: there is nothing as flown to show beside it.
  const twoPanels = result.conditions !== 'as-flown' && kind !== 'altitude';
  const values = result.configurations.flatMap((configuration) => [
    ...configuration.values.flatMap((run) => [
      run.low,
      run.high,
      run.value,
      ...(twoPanels ? [run.raw.value, run.raw.low, run.raw.high] : []),
    ]),
    ...(configuration.mean === undefined ? [] : [configuration.mean.low, configuration.mean.high]),
  ]);
  const height = 400;
  const [top, bottom] = [86, height - 82];
  const scale = scaleOver(values.map(show), bottom, top);
  const middle = twoPanels ? 400 : 70;
  const left: Box = { left: 70, top, right: 376, bottom };
  const right: Box = { left: middle, top, right: width - 20, bottom };
  const asFlown = (configuration: ConfigurationResult, day: string): Dot[] =>
    configuration.values
      .filter((run) => run.day === day)
      .map((run) => ({
        value: show(run.raw.value),
        low: show(run.raw.low),
        high: show(run.raw.high),
        odd: run.outlier !== undefined,
      }));
  const corrected = (configuration: ConfigurationResult, day: string): Dot[] =>
    configuration.values
      .filter((run) => run.day === day)
      .map((run) => ({
        value: show(run.value),
        low: show(run.low),
        high: show(run.high),
        odd: run.outlier !== undefined,
      }));
  const meanOf = ({
    mean,
  }: ConfigurationResult): { readonly value: number; readonly low: number; readonly high: number } | undefined =>
    mean && { value: show(mean.value), low: show(mean.low), high: show(mean.high) };
  const naiveOf = ({ naiveMean }: ConfigurationResult): { readonly value: number } | undefined =>
    naiveMean === undefined ? undefined : { value: show(naiveMean) };
  const keys = legend(
    70,
    22,
    width - 20,
    result.configurations.map((configuration) => ({
      series: spec.seriesOf(configuration.id),
      label: configuration.id,
      lineSample: true,
    })),
  );
  const odd = result.configurations.some((configuration) =>
    configuration.values.some((run) => run.outlier !== undefined),
  );
  const dots = `Dots: runs with 95 % interval, grouped by day${odd ? '; hollow: stands out, see the table' : ''}.`;
  const lines = twoPanels ? 'Lines: plain means (left); means with 95 % band (right).' : 'Lines: means with 95 % band.';
  return figure(
    width,
    height,
    spec.words,
    keys.markup,
    twoPanels ? panel(spec, left, scale, 'As flown', asFlown, naiveOf) : '',
    panel(spec, right, scale, result.conditions === 'as-flown' ? 'As flown' : spec.at, corrected, meanOf),
    verticalAxis({ ...left, right: left.left }, scale, shownUnit(kind, units).symbol),
    text(70, height - 32, dots, { class: 'small quiet' }),
    text(70, height - 14, lines, { class: 'small quiet' }),
  );
}
