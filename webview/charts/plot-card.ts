import type { DisplayUnits } from '../../shared/display-units.ts';
import { formatClock, formatValue } from '../../shared/format.ts';
import { valueAt } from '../../shared/track-columns.ts';
import { menu } from '../components/menu.ts';
import { type TableData, table, tableMarkdown } from '../components/table.ts';
import { element, fill, svgElement } from '../element.ts';
import { attempt, type CommonHost } from '../host.ts';
import type { Theme } from '../theme.ts';
import { type Plot, type PlotLook } from './plot.ts';
import type { PlotLine, PlotSpec } from './plot-spec.ts';
import { plotSvg, svgText, svgToPng } from './plot-svg.ts';
import { type AxisKind, axisUnit } from './ticks.ts';

/** Rows of the table that stands for a chart: enough to read a climb from, few enough to listen to. */
const tableRows = 24;

function axisText(kind: AxisKind, units: DisplayUnits, value: number): string {
  return 'clockFromS' in kind ? formatClock(kind.clockFromS + value) : formatValue(value, kind.quantity, units);
}

/** The lines of a plot as numbers at even steps through what is in view. */
export function plotTable(spec: PlotSpec, from: number, to: number, units: DisplayUnits): TableData {
  const banded = (line: PlotLine): boolean => line.low !== undefined;
  const { y } = spec;
  const text = (value: number): string => axisText(y.kind, units, value);
  const rows = Array.from({ length: tableRows + 1 }, (_, index) => from + ((to - from) * index) / tableRows).map(
    (x) => [
      axisText(spec.x.kind, units, x),
      ...spec.lines.flatMap((line) => {
        const at = (values: ArrayLike<number>): number => valueAt(line.xs, values, x, line.gapsBefore);
        return [
          text(at(line.ys)),
          ...(line.low !== undefined && line.high !== undefined
            ? [`${text(at(line.low))} to ${text(at(line.high))}`]
            : []),
        ];
      }),
    ],
  );
  const head = [
    spec.x.title,
    ...spec.lines.flatMap((line) => [line.label, ...(banded(line) ? ['95 % of a single sample'] : [])]),
  ];
  return { caption: spec.title, head, rows, figures: head.map((_, index) => index) };
}

function swatch(line: PlotLine, theme: Theme): SVGSVGElement {
  return svgElement(
    'svg',
    { class: 'swatch', attributes: { viewBox: '0 0 26 8', 'aria-hidden': 'true' } },
    svgElement('path', {
      attributes: {
        d: 'M0 4H26',
        stroke: theme.series[line.colour],
        'stroke-width': String(Math.max(2, line.width)),
        'stroke-dasharray': line.dash.length > 0 ? line.dash.join(' ') : undefined,
      },
    }),
  );
}

export interface CardOptions {
  readonly plot: Plot;
  readonly look: () => PlotLook;
  readonly host: CommonHost;
  /** Stands under the title on paper and in the name of a saved file. */
  readonly subtitle: () => string;
  readonly fileStem: () => string;
  /** Given where a better table than that of {@link plotTable} exists. */
  readonly tableData?: () => TableData;
  readonly showLegend?: boolean;
}

/** A plot with its title, its menu (copy, save) and its table. */
export interface PlotCard {
  readonly root: HTMLElement;
  /** After a change of what is shown. */
  refresh(): void;
}

export function plotCard(options: CardOptions): PlotCard {
  const { plot, host } = options;
  const title = element('h2', { attributes: { id: `title-${plot.spec.id}` } });
  const legend = element('div', { class: 'legend' });
  const body = element('div', { class: 'table-scroll', attributes: { tabindex: '0', role: 'group' } });
  const details = element('details', { class: 'chart-table' }, element('summary', { text: 'Table' }), body);
  const data = (): TableData =>
    options.tableData?.() ?? plotTable(plot.spec, plot.view.from, plot.view.to, options.look().units);
  const svg = (): SVGSVGElement =>
    plotSvg(plot.spec, plot.view, {
      width: 960,
      height: 480,
      units: options.look().units,
      subtitle: options.subtitle(),
    });
  const name = (ending: string): string => `${options.fileStem()}-${plot.spec.id}.${ending}`;

  const copyPng = async (): Promise<void> => {
    const blob = await svgToPng(svg());
    try {
      await navigator.clipboard.write([new ClipboardItem({ 'image/png': blob })]);
    } catch (error) {
      throw new Error('The clipboard takes no pictures here: use "Save as PNG".', { cause: error });
    }
  };
  const savePng = async (): Promise<void> => {
    const blob = await svgToPng(svg());
    const content = new Uint8Array(await blob.arrayBuffer());
    await host.call('save', { suggestedName: name('png'), content, kind: 'PNG picture' });
  };
  const chartMenu = menu(`Save or copy: ${plot.spec.title}`, [
    { label: 'Copy as PNG', act: () => attempt(copyPng()) },
    { label: 'Save as PNG...', act: () => attempt(savePng()) },
    {
      label: 'Save as SVG...',
      act: () =>
        attempt(host.call('save', { suggestedName: name('svg'), content: svgText(svg()), kind: 'SVG picture' })),
    },
    {
      label: 'Copy table as Markdown',
      act: () => attempt(host.call('copyText', { text: tableMarkdown(data()), what: 'Table' })),
    },
  ]);
  const refresh = (): void => {
    const unit = axisUnit(plot.spec.y.kind, options.look().units);
    fill(title, plot.spec.title, element('span', { class: 'unit', text: `, ${unit}` }));
    body.setAttribute('aria-label', `Table: ${plot.spec.title}`);
    if (options.showLegend !== false && plot.spec.lines.length > 1) {
      const { theme } = options.look();
      fill(legend, ...plot.spec.lines.map((line) => element('span', {}, swatch(line, theme), line.label)));
    } else fill(legend);
    if (details.open) fill(body, table(data()));
  };
  details.addEventListener('toggle', refresh);
  refresh();
  const root = element(
    'section',
    { class: 'plot-card', attributes: { 'aria-labelledby': title.id } },
    element('header', {}, title, legend, chartMenu),
    plot.frame,
    details,
  );
  return { root, refresh };
}
