import { formatFixed } from '../../../../shared/format.ts';
import { element, escapeXml, line, type Markup, text, textWidth } from './element.ts';
import type { Scale } from './scale.ts';
import { symbol } from './symbol.ts';
import { lookOf, styleSheet } from './theme.ts';

/** Stands in every figure; the command replaces only files that have it. */
export const figureMark = 'drawn by Modproof; drawn again with the report';

export interface FigureText {
  /** One line, what is shown: also the alternative text. */
  readonly title: string;
  /** The finding in words, with its numbers. */
  readonly description: string;
}

/** A whole SVG document. */
export function figure(width: number, height: number, words: FigureText, ...body: readonly Markup[]): string {
  const head = `<!-- ${figureMark} -->`;
  const attributes = {
    xmlns: 'http://www.w3.org/2000/svg',
    width,
    height,
    viewBox: `0 0 ${width} ${height}`,
    role: 'img',
    'aria-labelledby': 'title desc',
  };
  const children = [
    element('title', { id: 'title' }, escapeXml(words.title)),
    element('desc', { id: 'desc' }, escapeXml(words.description)),
    element('style', {}, styleSheet),
    element('rect', { class: 'paper', width, height, rx: 6 }),
    ...body,
  ];
  return `${element('svg', attributes, `\n${head}\n`, children.filter((child) => child !== '').join('\n'), '\n')}\n`;
}

export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Horizontal lines and numbers at the left. `name` stands above them, not turned: easier to read. */
export function verticalAxis(box: Box, scale: Scale, name: string): Markup {
  return element(
    'g',
    {},
    ...scale.ticks.flatMap((tick) => [
      line(box.left, scale(tick), box.right, scale(tick), 'grid'),
      text(box.left - 8, scale(tick) + 4, formatFixed(tick, scale.decimals), { anchor: 'end', class: 'small quiet' }),
    ]),
    text(box.left - 8, box.top - 14, name, { class: 'small', anchor: 'start' }),
  );
}

/** Ticks and numbers below, the name under them at the right end. */
export function horizontalAxis(box: Box, scale: Scale, name: string): Markup {
  return element(
    'g',
    {},
    line(box.left, box.bottom, box.right, box.bottom, 'axis'),
    ...scale.ticks.flatMap((tick) => [
      line(scale(tick), box.bottom, scale(tick), box.bottom + 5, 'axis'),
      text(scale(tick), box.bottom + 20, formatFixed(tick, scale.decimals), { anchor: 'middle', class: 'small quiet' }),
    ]),
    text(box.right, box.bottom + 38, name, { anchor: 'end', class: 'small' }),
  );
}

export interface LegendEntry {
  readonly series: number;
  readonly label: string;
  readonly lineSample?: boolean;
}

/** Symbol, line sample and name of each configuration, in one row that wraps. Returns its height with it. */
export function legend(
  left: number,
  top: number,
  right: number,
  entries: readonly LegendEntry[],
): { readonly markup: Markup; readonly height: number } {
  let x = left;
  let y = top;
  const parts = entries.map((entry) => {
    const sample = entry.lineSample === true ? 34 : 14;
    const width = sample + 8 + textWidth(entry.label) + 22;
    if (x + width > right && x > left) [x, y] = [left, y + 22];
    const look = lookOf(entry.series);
    const markup = element(
      'g',
      { class: `c${entry.series % 6}` },
      entry.lineSample === true ? line(x, y, x + sample, y, 'curve', look.dash) : '',
      symbol(look.symbol, x + sample / 2, y, 'mark'),
      text(x + sample + 8, y + 4, entry.label),
    );
    x += width;
    return markup;
  });
  return { markup: element('g', {}, ...parts), height: entries.length === 0 ? 0 : y - top + 22 };
}
