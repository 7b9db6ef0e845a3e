import { Chart, LinearScale, LineController, LineElement, PointElement } from 'chart.js';
import type { DisplayUnits } from '../../shared/display-units.ts';
import { downsample, type PlotPoint } from '../../shared/downsample.ts';
import { element } from '../element.ts';
import type { Theme } from '../theme.ts';
import { type Layers, layersPlugin } from './plot-layers.ts';
import type { PlotAxis, PlotSpec } from './plot-spec.ts';
import { axisUnit, ticksFor } from './ticks.ts';

Chart.register(LineController, LineElement, PointElement, LinearScale);

export interface PlotLook {
  readonly theme: Theme;
  readonly units: DisplayUnits;
}

export interface PlotOptions {
  readonly heightPx: number;
  /** Several plots over one axis: only the last carries its texts. */
  readonly showXTexts: boolean;
}

/** Room left of the plot area, the same for all, so that stacked axes line up. */
export const axisWidthPx = 58;

/** Half of a band thinner than this in all is not drawn: it would only thicken the line. */
const thinnestBandPx = 3;

/** The text that came with the tick: chart.js would write its own over it. */
function ownLabel(
  _value: string | number,
  index: number,
  ticks: readonly { label?: string | string[] }[],
): string | string[] {
  return ticks[index].label ?? '';
}

/** One chart on the page: lines thinned to the pixels there are, bands, marks. Cursor and selection lie above it. */
export class Plot {
  readonly canvas = element('canvas', { attributes: { role: 'img' } });
  /** Holds the canvas and whatever lies over it. */
  readonly frame: HTMLDivElement;
  readonly #chart: Chart<'line', PlotPoint[]>;
  readonly #areaListeners = new Set<() => void>();
  #spec: PlotSpec;
  #look: PlotLook;
  #layers: Layers;
  #from = 0;
  #to = 1;
  #yFrom = 0;
  #yTo = 1;

  constructor(spec: PlotSpec, look: PlotLook, options: PlotOptions, signal: AbortSignal) {
    this.#spec = spec;
    this.#look = look;
    this.#layers = { theme: look.theme, bands: [], marks: [] };
    this.frame = element('div', { class: 'plot-frame' }, this.canvas);
    this.frame.style.height = `${options.heightPx}px`;
    this.#chart = new Chart<'line', PlotPoint[]>(this.canvas, {
      type: 'line',
      data: { datasets: [] },
      plugins: [layersPlugin(() => this.#layers)],
      options: {
        animation: false,
        parsing: false,
        normalized: true,
        responsive: true,
        maintainAspectRatio: false,
        events: [],
        layout: { padding: { right: 12, top: 6 } },
        elements: { point: { radius: 0 }, line: { borderJoinStyle: 'round' } },
        plugins: {},
        onResize: () => queueMicrotask(() => this.#redraw()),
        scales: {
          x: {
            type: 'linear',
            afterFit: (scale) => {
              if (!options.showXTexts) scale.height = 4;
            },
            afterBuildTicks: (scale) => {
              scale.ticks = ticksFor(this.#spec.x.kind, this.#look.units, scale.min, scale.max, scale.width / 90);
            },
            ticks: { display: options.showXTexts, maxRotation: 0, autoSkip: false, callback: ownLabel },
          },
          y: {
            type: 'linear',
            afterFit: (scale) => {
              scale.width = axisWidthPx;
            },
            afterBuildTicks: (scale) => {
              scale.ticks = ticksFor(this.#spec.y.kind, this.#look.units, scale.min, scale.max, scale.height / 34);
            },
            ticks: { autoSkip: false, callback: ownLabel },
          },
        },
      },
    });
    this.setLook(look);
    signal.addEventListener('abort', () => this.#chart.destroy(), { once: true });
  }

  get spec(): PlotSpec {
    return this.#spec;
  }

  /** Span in view: x in SI, y as fitted to what is in view. */
  get view(): { readonly from: number; readonly to: number; readonly yFrom: number; readonly yTo: number } {
    return { from: this.#from, to: this.#to, yFrom: this.#yFrom, yTo: this.#yTo };
  }

  setSpec(spec: PlotSpec): void {
    this.#spec = spec;
    this.#redraw();
  }

  setLook(look: PlotLook): void {
    this.#look = look;
    const { theme, units } = look;
    this.#layers = { ...this.#layers, theme };
    const font = { family: theme.fontFamily, size: theme.fontSizePx };
    for (const [name, axis] of [
      ['x', this.#spec.x],
      ['y', this.#spec.y],
    ] as const) {
      const scale = this.#chart.options.scales?.[name];
      if (scale === undefined) continue;
      Object.assign(scale, {
        border: { color: theme.grid, display: name === 'x' },
        grid: { color: theme.grid, drawTicks: false, lineWidth: theme.highContrast ? 0.5 : 1 },
        title: {
          display: name === 'x' && 'quantity' in axis.kind,
          text: `${axis.title}, ${axisUnit(axis.kind, units)}`,
          color: theme.faint,
          font,
        },
      });
      Object.assign(scale.ticks ?? {}, { color: theme.faint, font, padding: 6 });
    }
    this.#redraw();
  }

  setRange(from: number, to: number): void {
    if (!(to > from)) return;
    this.#from = from;
    this.#to = to;
    this.#redraw();
  }

  /** Calls whenever the place of values on the page may have changed. */
  onArea(listener: () => void): void {
    this.#areaListeners.add(listener);
  }

  get area(): { readonly left: number; readonly right: number; readonly top: number; readonly bottom: number } {
    const { left, right, top, bottom } = this.#chart.chartArea;
    return { left, right, top, bottom };
  }

  pixelOfX(x: number): number {
    return this.#chart.scales.x.getPixelForValue(x);
  }

  pixelOfY(y: number): number {
    return this.#chart.scales.y.getPixelForValue(y);
  }

  xAtPixel(pixel: number): number {
    return this.#chart.scales.x.getValueForPixel(pixel) ?? this.#from;
  }

  /** What a reader who cannot see it is told. */
  describe(text: string): void {
    this.canvas.setAttribute('aria-label', text);
  }

  #redraw(): void {
    const chart = this.#chart;
    const { lines, marks } = this.#spec;
    const { theme } = this.#look;
    const buckets = Math.max(50, Math.round(this.frame.clientWidth - axisWidthPx));
    const thin = (xs: ArrayLike<number>, ys: ArrayLike<number>, gapsBefore: readonly number[]): PlotPoint[] =>
      downsample(xs, ys, this.#from, this.#to, buckets, gapsBefore);
    const thinned = lines.map((line) => thin(line.xs, line.ys, line.gapsBefore));
    this.#fitY(thinned);
    const perPixel = (this.#yTo - this.#yFrom) / Math.max(1, this.frame.clientHeight);
    const bands = lines.flatMap((line) => {
      if (line.low === undefined || line.high === undefined) return [];
      const low = thin(line.xs, line.low, line.gapsBefore);
      const high = thin(line.xs, line.high, line.gapsBefore);
      const wide = high.some(({ y }, index) => y !== null && y - (low[index]?.y ?? y) > thinnestBandPx * perPixel);
      return wide ? [{ line, low, high }] : [];
    });
    this.#layers = { theme, bands, marks };
    chart.data.datasets = lines.map((line, index) => ({
      label: line.label,
      data: thinned[index],
      borderColor: theme.series[line.colour],
      borderWidth: line.width,
      borderDash: [...line.dash],
      spanGaps: false,
    }));
    const { x, y } = chart.options.scales ?? {};
    Object.assign(x ?? {}, { min: this.#from, max: this.#to });
    Object.assign(y ?? {}, { min: this.#yFrom, max: this.#yTo });
    chart.update('none');
    for (const listener of this.#areaListeners) listener();
  }

  #fitY(thinned: readonly (readonly PlotPoint[])[]): void {
    const axis: PlotAxis = this.#spec.y;
    let low = axis.include ?? Number.POSITIVE_INFINITY;
    let high = axis.include ?? Number.NEGATIVE_INFINITY;
    for (const points of thinned) {
      for (const { x, y } of points) {
        if (y === null || x < this.#from || x > this.#to) continue;
        if (y < low) low = y;
        if (y > high) high = y;
      }
    }
    for (const mark of this.#spec.marks) {
      if (mark.y === undefined || mark.x < this.#from || mark.x > this.#to) continue;
      low = Math.min(low, mark.y);
      high = Math.max(high, mark.y);
    }
    if (!(high >= low)) [low, high] = [0, 1];
    const least = axis.leastSpan ?? 1;
    if (high - low < least) {
      const middle = (high + low) / 2;
      [low, high] = axis.include === low ? [low, low + least] : [middle - least / 2, middle + least / 2];
    }
    const margin = (high - low) * 0.06;
    this.#yFrom = axis.include !== undefined && low === axis.include ? low : low - margin;
    this.#yTo = high + margin;
  }
}
