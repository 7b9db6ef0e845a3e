import { formatPercentInterval } from '../../../../shared/format.ts';
import type { Interval } from '../../../../shared/measured.ts';
import { element, line, type Markup, text, textWidth } from '../svg/element.ts';
import { type FigureText, figure, horizontalAxis } from '../svg/frame.ts';
import { scaleOver } from '../svg/scale.ts';
import { symbol } from '../svg/symbol.ts';
import { lookOf } from '../svg/theme.ts';

export interface ChangeRow {
  readonly label: string;
  /** Per cent, 95 %. */
  readonly percent: Interval;
  readonly naivePercent?: number;
  /** Equivalence margin, per cent. */
  readonly marginPercent?: number;
  readonly primary: boolean;
  /** Series of the configuration that is compared with the baseline. */
  readonly series: number;
  readonly verdict: string;
}

const width = 760;
const rowHeight = 40;
const shortestLabels = 150;
const longestLabels = 260;

function row(
  entry: ChangeRow,
  y: number,
  left: number,
  x: (percent: number) => number,
  clip: readonly [number, number],
): Markup {
  const look = lookOf(entry.series);
  const inside = (value: number): number => Math.min(clip[1], Math.max(clip[0], x(value)));
  const parts: Markup[] = [];
  if (entry.marginPercent !== undefined) {
    const [from, to] = [inside(-entry.marginPercent), inside(entry.marginPercent)];
    parts.push(element('rect', { x: from, y: y - 13, width: to - from, height: 26, class: 'margin' }));
  }
  parts.push(line(inside(entry.percent.low), y, inside(entry.percent.high), y, 'mean'));
  for (const end of [entry.percent.low, entry.percent.high]) {
    const at = inside(end);
    if (Math.abs(at - x(end)) < 0.01) parts.push(line(at, y - 5, at, y + 5, 'mean'));
  }
  parts.push(symbol(look.symbol, inside(entry.percent.value), y, 'mark', 6));
  if (entry.naivePercent !== undefined && Number.isFinite(entry.naivePercent)) {
    parts.push(symbol('diamond', inside(entry.naivePercent), y, 'hollow', 4));
  }
  return element(
    'g',
    { class: `c${entry.series % 6}` },
    text(left, y - 1, entry.label, { class: entry.primary ? 'heading' : undefined }),
    text(left, y + 14, `${formatPercentInterval(entry.percent)}: ${entry.verdict}`, { class: 'small quiet' }),
    ...parts,
  );
}

/** The change of each metric in per cent with its interval, zero and margins marked. */
export function changesFigure(rows: readonly ChangeRow[], words: FigureText): string {
  const longest = Math.max(
    ...rows.map((entry) =>
      Math.max(textWidth(entry.label), textWidth(`${formatPercentInterval(entry.percent)}: ${entry.verdict}`, 12)),
    ),
    shortestLabels,
  );
  const left = 20;
  const plot = {
    left: left + Math.min(longestLabels + 60, longest) + 24,
    top: 40,
    right: width - 24,
    bottom: 40 + rows.length * rowHeight,
  };
  // A metric that is hardly known must not squeeze the others: the axis ends at three times the median half-width.
  const halves = rows
    .map((entry) => Math.max(Math.abs(entry.percent.low), Math.abs(entry.percent.high)))
    .sort((a, b) => a - b);
  const widest = Math.max(5, 3 * halves[Math.floor((halves.length - 1) / 2)]);
  const values = rows.flatMap((entry) => [
    entry.percent.low,
    entry.percent.high,
    entry.naivePercent ?? 0,
    entry.marginPercent ?? 0,
    -(entry.marginPercent ?? 0),
  ]);
  const x = scaleOver(
    values.filter((value) => Math.abs(value) <= widest),
    plot.left,
    plot.right,
    { fromZero: true, count: 7 },
  );
  const height = plot.bottom + 84;
  return figure(
    width,
    height,
    words,
    ...x.ticks.map((tick) => line(x(tick), plot.top - 8, x(tick), plot.bottom, 'grid')),
    line(x(0), plot.top - 12, x(0), plot.bottom, 'zero'),
    ...rows.map((entry, index) => row(entry, plot.top + (index + 0.5) * rowHeight, left, x, [plot.left, plot.right])),
    horizontalAxis(plot, x, 'change, %'),
    text(left, height - 34, 'Filled: change at the same conditions, with 95 % interval.', { class: 'small quiet' }),
    text(
      left,
      height - 16,
      `Hollow diamond: plain difference of the averages${rows.some((entry) => entry.marginPercent !== undefined) ? '; shaded: difference that would not matter' : ''}.`,
      { class: 'small quiet' },
    ),
  );
}
