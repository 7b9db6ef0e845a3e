import type { DisplayUnits } from '../../shared/display-units.ts';
import { downsample } from '../../shared/downsample.ts';
import { svgElement } from '../element.ts';
import { paperTheme } from '../theme.ts';
import { unbroken } from './plot-layers.ts';
import type { PlotLine, PlotMark, PlotSpec } from './plot-spec.ts';
import { axisUnit, ticksFor } from './ticks.ts';

export interface PaperView {
  readonly from: number;
  readonly to: number;
  readonly yFrom: number;
  readonly yTo: number;
}

export interface PaperOptions {
  readonly width: number;
  readonly height: number;
  readonly units: DisplayUnits;
  /** Under the title: file and date. */
  readonly subtitle: string;
}

const margin = { left: 70, right: 24, top: 58, bottom: 48 };
const paper = paperTheme;

function text(x: number, y: number, content: string, attributes: Record<string, string> = {}): SVGTextElement {
  return svgElement('text', { text: content, attributes: { x: x.toFixed(1), y: y.toFixed(1), ...attributes } });
}

function path(points: readonly { readonly x: number; readonly y: number }[]): string {
  return points.map(({ x, y }, index) => `${index === 0 ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`).join('');
}

/** A chart as a picture for people outside the editor: dark on white, text as text, no script, nothing from outside. */
export function plotSvg(spec: PlotSpec, view: PaperView, options: PaperOptions): SVGSVGElement {
  const { width, height, units } = options;
  const left = margin.left;
  const right = width - margin.right;
  const top = margin.top + (spec.lines.length > 1 ? 18 : 0);
  const bottom = height - margin.bottom;
  const toX = (x: number): number => left + ((x - view.from) / (view.to - view.from)) * (right - left);
  const toY = (y: number): number => bottom - ((y - view.yFrom) / (view.yTo - view.yFrom)) * (bottom - top);
  const grid = svgElement('g', { attributes: { stroke: paper.grid, 'stroke-width': '1' } });
  const labels = svgElement('g', { attributes: { fill: paper.faint, 'font-size': '12' } });
  for (const { value, label } of ticksFor(spec.x.kind, units, view.from, view.to, (right - left) / 90)) {
    const x = toX(value);
    grid.append(svgElement('path', { attributes: { d: `M${x.toFixed(1)} ${top}V${bottom}` } }));
    labels.append(text(x, bottom + 18, label, { 'text-anchor': 'middle' }));
  }
  for (const { value, label } of ticksFor(spec.y.kind, units, view.yFrom, view.yTo, (bottom - top) / 40)) {
    const y = toY(value);
    grid.append(svgElement('path', { attributes: { d: `M${left} ${y.toFixed(1)}H${right}` } }));
    labels.append(text(left - 8, y + 4, label, { 'text-anchor': 'end' }));
  }
  labels.append(
    text((left + right) / 2, height - 10, `${spec.x.title}, ${axisUnit(spec.x.kind, units)}`, {
      'text-anchor': 'middle',
    }),
    text(0, 0, `${spec.y.title}, ${axisUnit(spec.y.kind, units)}`, {
      'text-anchor': 'middle',
      transform: `translate(16 ${(top + bottom) / 2}) rotate(-90)`,
      x: '0',
      y: '0',
    }),
  );
  const clipId = `area-${spec.id}`;
  const drawn = svgElement('g', { attributes: { 'clip-path': `url(#${clipId})`, fill: 'none' } });
  const thin = (line: PlotLine, ys: ArrayLike<number>) =>
    unbroken(downsample(line.xs, ys, view.from, view.to, Math.round(right - left), line.gapsBefore)).map((run) =>
      run.map(({ x, y }) => ({ x: toX(x), y: toY(y) })),
    );
  for (const line of spec.lines) {
    if (line.low === undefined || line.high === undefined) continue;
    const lows = thin(line, line.low);
    thin(line, line.high).forEach((run, index) => {
      const under = lows[index];
      if (under === undefined) return;
      const outline = `${path([...run, ...[...under].reverse()])}Z`;
      drawn.append(
        svgElement('path', { attributes: { d: outline, fill: paper.series[line.colour], 'fill-opacity': '0.18' } }),
      );
    });
  }
  for (const line of spec.lines) {
    for (const run of thin(line, line.ys)) {
      drawn.append(
        svgElement('path', {
          attributes: {
            d: path(run),
            stroke: paper.series[line.colour],
            'stroke-width': String(line.width + 0.3),
            'stroke-linejoin': 'round',
            'stroke-dasharray': line.dash.length > 0 ? line.dash.join(' ') : undefined,
          },
        }),
      );
    }
  }
  const marks = svgElement('g', { attributes: { fill: paper.foreground, 'font-size': '12' } });
  for (const mark of spec.marks) {
    if (mark.x >= view.from && mark.x <= view.to) marks.append(...markShapes(mark, toX, toY, top, bottom, right));
  }
  return svgElement(
    'svg',
    {
      attributes: {
        xmlns: 'http://www.w3.org/2000/svg',
        viewBox: `0 0 ${width} ${height}`,
        width: String(width),
        height: String(height),
        role: 'img',
        'font-family': paper.fontFamily,
      },
    },
    svgElement('title', { text: `${spec.title}: ${options.subtitle}` }),
    svgElement(
      'defs',
      {},
      svgElement(
        'clipPath',
        { attributes: { id: clipId } },
        svgElement('rect', {
          attributes: { x: String(left), y: String(top), width: String(right - left), height: String(bottom - top) },
        }),
      ),
    ),
    svgElement('rect', { attributes: { width: String(width), height: String(height), fill: paper.background } }),
    text(left, 24, spec.title, { fill: paper.foreground, 'font-size': '16', 'font-weight': '600' }),
    text(left, 43, options.subtitle, { fill: paper.faint, 'font-size': '12' }),
    ...(spec.lines.length > 1 ? [legend(spec.lines, left, margin.top, right)] : []),
    grid,
    labels,
    drawn,
    marks,
  );
}

function legend(lines: readonly PlotLine[], left: number, y: number, right: number): SVGGElement {
  const group = svgElement('g', { attributes: { 'font-size': '12', fill: paper.foreground } });
  let x = left;
  for (const line of lines) {
    // About 6.5 units a letter at this size: no text is measured, so that it is the same everywhere.
    const width = 34 + line.label.length * 6.5 + 16;
    if (x + width > right + 16) break;
    group.append(
      svgElement('path', {
        attributes: {
          d: `M${x} ${y}h26`,
          stroke: paper.series[line.colour],
          'stroke-width': String(line.width + 0.8),
          'stroke-dasharray': line.dash.length > 0 ? line.dash.join(' ') : undefined,
        },
      }),
      text(x + 32, y + 4, line.label),
    );
    x += width;
  }
  return group;
}

function markShapes(
  mark: PlotMark,
  toX: (x: number) => number,
  toY: (y: number) => number,
  top: number,
  bottom: number,
  right: number,
): SVGElement[] {
  const x = toX(mark.x);
  const colour = mark.colour ? paper.series[mark.colour] : paper.foreground;
  const name = `${mark.tag ?? mark.label}${mark.byPilot === true ? ' (pilot)' : ''}`;
  if (mark.y === undefined) {
    const d = `M${x.toFixed(1)} ${top}V${bottom}`;
    return [
      svgElement('path', {
        attributes: { d, stroke: colour, 'stroke-dasharray': mark.byPilot === true ? undefined : '3 3' },
      }),
      text(x + 3, top + 11, name, { 'font-size': '10', fill: paper.faint }),
    ];
  }
  const y = toY(mark.y);
  const shapes: SVGElement[] = [];
  if (mark.xLow !== undefined && mark.xHigh !== undefined) {
    const [a, b] = [toX(mark.xLow).toFixed(1), toX(mark.xHigh).toFixed(1)];
    const d = `M${a} ${y}H${b}M${a} ${y - 4}v8M${b} ${y - 4}v8`;
    shapes.push(svgElement('path', { attributes: { d, stroke: colour, 'stroke-width': '1.5', fill: 'none' } }));
  }
  shapes.push(
    svgElement('circle', {
      attributes: {
        cx: x.toFixed(1),
        cy: y.toFixed(1),
        r: '4.5',
        fill: mark.byPilot === true ? paper.background : colour,
        stroke: colour,
        'stroke-width': '2',
      },
    }),
  );
  if (name !== '') {
    const fits = x + 12 + name.length * 6.5 < right;
    shapes.push(text(fits ? x + 9 : x - 9, y - 7, name, { 'text-anchor': fits ? 'start' : 'end' }));
  }
  return shapes;
}

export function svgText(svg: SVGSVGElement): string {
  return `${new XMLSerializer().serializeToString(svg)}\n`;
}

/** Draws an SVG into a PNG, `scale` pixels a unit. */
export async function svgToPng(svg: SVGSVGElement, scale = 2): Promise<Blob> {
  const image = new Image();
  const { width, height } = svg.viewBox.baseVal;
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svgText(svg))}`;
  await image.decode();
  const canvas = document.createElement('canvas');
  canvas.width = width * scale;
  canvas.height = height * scale;
  const context = canvas.getContext('2d');
  if (context === null) throw new Error('no canvas to draw on');
  context.scale(scale, scale);
  context.drawImage(image, 0, 0, width, height);
  return new Promise((resolve, reject) => {
    canvas.toBlob(
      (blob) => (blob === null ? reject(new Error('the picture could not be made')) : resolve(blob)),
      'image/png',
    );
  });
}
