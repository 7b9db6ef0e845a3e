import type { Chart, Plugin } from 'chart.js';
import type { PlotPoint } from '../../shared/downsample.ts';
import type { Theme } from '../theme.ts';
import type { PlotLine, PlotMark } from './plot-spec.ts';

/** What the layers around the lines draw; the plot keeps it up to date. */
export interface Layers {
  readonly theme: Theme;
  readonly bands: readonly {
    readonly line: PlotLine;
    readonly low: readonly PlotPoint[];
    readonly high: readonly PlotPoint[];
  }[];
  readonly marks: readonly PlotMark[];
}

interface Pixel {
  readonly x: number;
  readonly y: number;
}

/** Runs of a thinned line without a break. */
export function unbroken(points: readonly PlotPoint[]): { readonly x: number; readonly y: number }[][] {
  const runs: { x: number; y: number }[][] = [];
  let run: { x: number; y: number }[] = [];
  for (const { x, y } of points) {
    if (y !== null) run.push({ x, y });
    else if (run.length > 0) {
      runs.push(run);
      run = [];
    }
  }
  if (run.length > 0) runs.push(run);
  return runs;
}

function bandShapes(layers: Layers, toPixel: (x: number, y: number) => Pixel): { colour: string; outline: Pixel[] }[] {
  return layers.bands.flatMap(({ line, low, high }) => {
    const lows = unbroken(low);
    return unbroken(high).flatMap((run, index) => {
      const under = lows[index];
      if (under === undefined) return [];
      const outline = [...run, ...[...under].reverse()].map(({ x, y }) => toPixel(x, y));
      return [{ colour: layers.theme.series[line.colour], outline }];
    });
  });
}

function clip(context: CanvasRenderingContext2D, chart: Chart, draw: () => void): void {
  const { left, top, width, height } = chart.chartArea;
  context.save();
  context.beginPath();
  context.rect(left, top, width, height);
  context.clip();
  draw();
  context.restore();
}

function tracePoint(context: CanvasRenderingContext2D, shape: PlotMark['shape'], { x, y }: Pixel, size: number): void {
  context.beginPath();
  if (shape === 'square') context.rect(x - size, y - size, 2 * size, 2 * size);
  else if (shape === 'triangle' || shape === 'diamond') {
    context.moveTo(x, y - size * 1.3);
    context.lineTo(x + size * 1.2, shape === 'diamond' ? y : y + size);
    if (shape === 'diamond') context.lineTo(x, y + size * 1.3);
    context.lineTo(x - size * 1.2, shape === 'diamond' ? y : y + size);
    context.closePath();
  } else context.arc(x, y, size, 0, 2 * Math.PI);
}

/** Draws a mark. `nextX` is where the next one stands: a name that would run into it is left out. */
function drawMark(context: CanvasRenderingContext2D, chart: Chart, mark: PlotMark, theme: Theme, nextX: number): void {
  const { top, bottom, left, right } = chart.chartArea;
  const x = chart.scales.x.getPixelForValue(mark.x);
  if (x < left - 1 || x > right + 1) return;
  const colour = mark.colour ? theme.series[mark.colour] : theme.foreground;
  context.strokeStyle = colour;
  context.fillStyle = colour;
  if (mark.y === undefined) {
    context.lineWidth = 1;
    context.setLineDash(mark.byPilot === true ? [] : [3, 3]);
    context.beginPath();
    context.moveTo(Math.round(x) + 0.5, top);
    context.lineTo(Math.round(x) + 0.5, bottom);
    context.stroke();
    context.setLineDash([]);
    const name = mark.tag ?? '';
    context.font = `${theme.fontSizePx}px ${theme.fontFamily}`;
    const end = x + 3 + context.measureText(name).width;
    if (name === '' || end > Math.min(right, nextX)) return;
    context.textAlign = 'left';
    context.textBaseline = 'top';
    context.fillText(name, x + 3, top + 1);
    return;
  }
  const y = chart.scales.y.getPixelForValue(mark.y);
  if (mark.xLow !== undefined && mark.xHigh !== undefined) {
    const from = chart.scales.x.getPixelForValue(mark.xLow);
    const to = chart.scales.x.getPixelForValue(mark.xHigh);
    context.lineWidth = 1.5;
    context.beginPath();
    context.moveTo(from, y);
    context.lineTo(to, y);
    for (const end of [from, to]) {
      context.moveTo(end, y - 4);
      context.lineTo(end, y + 4);
    }
    context.stroke();
  }
  tracePoint(context, mark.shape, { x, y }, 4.5);
  context.lineWidth = 2;
  if (mark.byPilot === true) {
    context.fillStyle = theme.background;
    context.fill();
    context.stroke();
  } else context.fill();
  const text = mark.tag ?? mark.label;
  if (text === '') return;
  context.fillStyle = theme.foreground;
  context.font = `${theme.fontSizePx}px ${theme.fontFamily}`;
  context.textBaseline = 'middle';
  const width = context.measureText(text).width;
  const fitsRight = x + 10 + width < right;
  context.textAlign = fitsRight ? 'left' : 'right';
  context.fillText(text, fitsRight ? x + 9 : x - 9, Math.max(top + 8, Math.min(bottom - 8, y - 10)));
}

/** Bands under the lines, marks over them. */
export function layersPlugin(layers: () => Layers): Plugin<'line'> {
  return {
    id: 'layers',
    beforeDatasetsDraw(chart) {
      const { ctx } = chart;
      clip(ctx, chart, () => {
        const shapes = bandShapes(layers(), (x, y) => ({
          x: chart.scales.x.getPixelForValue(x),
          y: chart.scales.y.getPixelForValue(y),
        }));
        for (const { colour, outline } of shapes) {
          ctx.beginPath();
          outline.forEach(({ x, y }, index) => (index === 0 ? ctx.moveTo(x, y) : ctx.lineTo(x, y)));
          ctx.closePath();
          ctx.globalAlpha = 0.22;
          ctx.fillStyle = colour;
          ctx.fill();
        }
      });
    },
    afterDatasetsDraw(chart) {
      const { marks, theme } = layers();
      marks.forEach((mark, index) => {
        const next = marks[index + 1];
        const nextX = next === undefined ? Number.POSITIVE_INFINITY : chart.scales.x.getPixelForValue(next.x);
        drawMark(chart.ctx, chart, mark, theme, nextX);
      });
    },
  };
}
