import type { DisplayUnits } from '../../../../shared/display-units.ts';
import { inShownUnit, type QuantityKind, shownUnit } from '../../../../shared/format.ts';
import type { Interval } from '../../../../shared/measured.ts';
import { element, line, type Markup, text, textWidth } from '../svg/element.ts';
import { type Box, type FigureText, figure, horizontalAxis, legend, verticalAxis } from '../svg/frame.ts';
import { scaleOver } from '../svg/scale.ts';
import { symbol } from '../svg/symbol.ts';
import { lookOf } from '../svg/theme.ts';
import { panelGrid } from './panel-grid.ts';

/** A metric of which one direction is the good one. */
export interface TradeMetric {
  readonly title: string;
  readonly kind: QuantityKind;
  readonly smallerIsBetter: boolean;
  readonly means: ReadonlyMap<string, Interval>;
}

export interface TradeFigure {
  /** The metric along the bottom of every panel. */
  readonly across: TradeMetric;
  /** One panel each. */
  readonly up: readonly TradeMetric[];
  readonly configurations: readonly { readonly id: string; readonly series: number }[];
  readonly units: DisplayUnits;
  readonly words: FigureText;
}

const width = 760;
const panelHeight = 210;
const tick = 4;
/** A long name stands in full in the legend. */
const longestLabel = 18;

function short(id: string): string {
  return id.length > longestLabel ? `${id.slice(0, longestLabel - 1)}\u2026` : id;
}

function panel(spec: TradeFigure, up: TradeMetric, box: Box): Markup {
  const { across, units } = spec;
  const shown = ({ kind }: TradeMetric, { value, low, high }: Interval): Interval => ({
    value: inShownUnit(value, kind, units),
    low: inShownUnit(low, kind, units),
    high: inShownUnit(high, kind, units),
  });
  const points = spec.configurations.flatMap(({ id, series }) => {
    const [a, b] = [across.means.get(id), up.means.get(id)];
    return a === undefined || b === undefined ? [] : [{ id, series, a: shown(across, a), b: shown(up, b) }];
  });
  const x = scaleOver(
    points.flatMap(({ a }) => [a.low, a.high]),
    box.left,
    box.right,
    { count: 4 },
  );
  const y = scaleOver(
    points.flatMap(({ b }) => [b.low, b.high]),
    box.bottom,
    box.top,
    { count: 5 },
  );
  const marks = points.map(({ id, series, a, b }) => {
    const look = lookOf(series);
    const [cx, cy] = [x(a.value), y(b.value)];
    const room = box.right - cx > textWidth(short(id), 12) + 12;
    return element(
      'g',
      { class: `c${series % 6}` },
      line(x(a.low), cy, x(a.high), cy, 'whisker'),
      line(x(a.low), cy - tick, x(a.low), cy + tick, 'whisker'),
      line(x(a.high), cy - tick, x(a.high), cy + tick, 'whisker'),
      line(cx, y(b.low), cx, y(b.high), 'whisker'),
      line(cx - tick, y(b.low), cx + tick, y(b.low), 'whisker'),
      line(cx - tick, y(b.high), cx + tick, y(b.high), 'whisker'),
      symbol(look.symbol, cx, cy, 'mark', 6),
      text(room ? cx + 9 : cx - 9, cy - 8, short(id), { class: 'small', anchor: room ? 'start' : 'end' }),
    );
  });
  const name = ({ title, kind }: TradeMetric): string => `${title.toLowerCase()}, ${shownUnit(kind, units).symbol}`;
  const arrow = (metric: TradeMetric, [less, more]: readonly [string, string]): string =>
    metric.smallerIsBetter ? `${less} better` : `${more} better`;
  return element(
    'g',
    {},
    text(box.left - 8, box.top - 30, up.title, { class: 'heading' }),
    verticalAxis(box, y, `${shownUnit(up.kind, units).symbol}   ${arrow(up, ['\u2193', '\u2191'])}`),
    horizontalAxis(box, x, ''),
    text(box.right, box.bottom + 38, `${name(across)}   ${arrow(across, ['\u2190', '\u2192'])}`, {
      anchor: 'end',
      class: 'small',
    }),
    ...marks,
  );
}

/** One metric against each other one: a point a configuration, with the 95 % interval of each of its two means. */
export function tradeFigure(spec: TradeFigure): string {
  const keys = legend(
    20,
    24,
    width - 20,
    spec.configurations.map(({ id, series }) => ({ series, label: id })),
  );
  const grid = panelGrid(spec.up.length, width, 24 + keys.height, panelHeight);
  const height = grid.bottom + 48;
  return figure(
    width,
    height,
    spec.words,
    keys.markup,
    ...spec.up.map((up, index) => panel(spec, up, grid.boxes[index])),
    text(20, height - 32, 'Symbols: means at the same conditions; bars: 95 % interval of each mean by itself.', {
      class: 'small quiet',
    }),
    text(
      20,
      height - 14,
      'Bars that overlap do not mean that two are alike: whether they differ stands in the table.',
      {
        class: 'small quiet',
      },
    ),
  );
}
