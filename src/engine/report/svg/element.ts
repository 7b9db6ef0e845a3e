import { formatShort } from '../../../../shared/format.ts';

/** Text of one element or several, ready to be put inside another. */
export type Markup = string;

type AttributeValue = string | number | undefined;

/** XML-escapes text and drops what XML cannot hold. */
export function escapeXml(text: string): string {
  return text
    .replace(/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu, '')
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;');
}

/** A coordinate: two decimals at most, so that every machine writes the same. */
export function coordinate(value: number): string {
  return formatShort(value, 2);
}

/** One element. Attributes come out in the order given; undefined ones are left out; children are markup. */
export function element(
  name: string,
  attributes: Readonly<Record<string, AttributeValue>>,
  ...children: readonly Markup[]
): Markup {
  const written = Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(([key, value]) => ` ${key}="${typeof value === 'number' ? coordinate(value) : escapeXml(String(value))}"`)
    .join('');
  const inside = children.join('');
  return inside === '' ? `<${name}${written}/>` : `<${name}${written}>${inside}</${name}>`;
}

export interface TextOptions {
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly class?: string;
  readonly rotate?: number;
}

/** A line of text at a point; text stays text. */
export function text(x: number, y: number, content: string, options: TextOptions = {}): Markup {
  return element(
    'text',
    {
      x,
      y,
      'text-anchor': options.anchor === 'start' ? undefined : options.anchor,
      class: options.class,
      transform:
        options.rotate === undefined ? undefined : `rotate(${options.rotate} ${coordinate(x)} ${coordinate(y)})`,
    },
    escapeXml(content),
  );
}

export function line(x1: number, y1: number, x2: number, y2: number, className: string, dash?: string): Markup {
  return element('line', { x1, y1, x2, y2, class: className, 'stroke-dasharray': dash });
}

/** Points joined by straight lines; a point that is not finite, or is in `breaks`, starts a new stroke. */
export function polyline(
  points: readonly (readonly [number, number])[],
  className: string,
  dash?: string,
  breaks: readonly number[] = [],
): Markup {
  let d = '';
  let pen = false;
  points.forEach(([x, y], index) => {
    if (!Number.isFinite(x) || !Number.isFinite(y)) {
      pen = false;
      return;
    }
    if (breaks.includes(index)) pen = false;
    d += `${pen ? 'L' : 'M'}${coordinate(x)} ${coordinate(y)}`;
    pen = true;
  });
  return d === '' ? '' : element('path', { d, class: className, fill: 'none', 'stroke-dasharray': dash });
}

/** A filled area between two curves over the same x. */
export function area(points: readonly (readonly [number, number, number])[], className: string): Markup {
  const upper = points.map(([x, , high]) => `${coordinate(x)} ${coordinate(high)}`);
  const lower = [...points].reverse().map(([x, low]) => `${coordinate(x)} ${coordinate(low)}`);
  return points.length < 2 ? '' : element('path', { d: `M${[...upper, ...lower].join('L')}Z`, class: className });
}

/** Width of text in pixels, roughly: no text can be measured without a screen. A sans serif's mean advance is 0.55 em. */
export function textWidth(content: string, fontSize = 13): number {
  return content.length * fontSize * 0.56;
}
