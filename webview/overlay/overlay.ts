import { formatInterval } from '../../shared/format.ts';
import type { OverlayHostMethods, OverlayPageMethods, OverlayRun, OverlayView } from '../../shared/protocol.ts';
import { Cancelled, type Connection, connect } from '../../shared/rpc.ts';
import { hostPort } from '../bridge.ts';
import { Plot } from '../charts/plot.ts';
import { plotCard } from '../charts/plot-card.ts';
import type { TableData } from '../components/table.ts';
import { table } from '../components/table.ts';
import { button, checkbox, select } from '../components/toolkit.ts';
import { element, fill, svgElement } from '../element.ts';
import { attempt } from '../host.ts';
import { problemList } from '../panels/problems.ts';
import { changeState, viewState } from '../state.ts';
import { onThemeChange, readTheme, type Theme } from '../theme.ts';
import { keepPlace, restorePlace } from '../viewer/place.ts';
import { readingPage } from '../viewer/reading-page.ts';
import { type Align, overlayPlots, overlayRange, runStyle } from './overlay-plots.ts';

type Host = Connection<OverlayHostMethods>;

/** The page that lays take-offs of several flights over each other. */
export function startOverlay(root: HTMLElement): void {
  let shown: AbortController | undefined;
  const reading = readingPage(root);
  const host: Host = connect<OverlayHostMethods, OverlayPageMethods>(hostPort, {
    progress: ({ fraction }) => reading.progress(fraction),
    changed: () => {
      void open(true);
    },
  });
  const open = async (again: boolean): Promise<void> => {
    const controller = new AbortController();
    if (!again) reading.begin(() => controller.abort());
    try {
      const opened = await host.call('openOverlay', {}, controller.signal);
      keepPlace();
      shown?.abort();
      shown = new AbortController();
      reading.end();
      changeState({ tracks: opened.tracks });
      showOverlay(root, host, opened, shown.signal);
      restorePlace();
      host.notify('drawn', { runs: opened.runs.length, problems: opened.problems.length });
    } catch (error) {
      reading.end();
      fill(
        root,
        element(
          'div',
          { class: 'message-page' },
          element('h1', { text: 'No flights to show' }),
          element('p', { text: error instanceof Cancelled ? 'Reading was cancelled.' : (error as Error).message }),
          button({ label: 'Read again', primary: true, onClick: () => void open(false) }),
        ),
      );
    }
  };
  void open(false);
}

function keyOf(run: OverlayRun): string {
  return `${run.file}#${run.number}`;
}

function resultsTable(runs: readonly OverlayRun[], { settings }: OverlayView): TableData {
  const labels = [
    ...new Set(
      runs.flatMap(({ curve }) => curve.points.filter(({ kind }) => kind === 'screen').map(({ label }) => label)),
    ),
  ];
  const text = (run: OverlayRun, label: string): string => {
    const found = run.curve.points.find((point) => point.label === label)?.distance;
    return found === undefined ? '-' : formatInterval(found, 'length', settings.units);
  };
  return {
    caption: 'Distances from the start of the roll, 95 % intervals, as flown',
    head: ['Take-off', 'Ground roll', ...labels.map((label) => `Over ${label}`)],
    rows: runs.map((run) => [
      run.configuration === undefined ? run.label : `${run.configuration}: ${run.label}`,
      text(run, 'Lift-off'),
      ...labels.map((label) => text(run, label)),
    ]),
    figures: [1, ...labels.map((_, index) => index + 2)],
  };
}

function sample(run: OverlayRun, index: number, configurations: readonly string[], theme: Theme): SVGSVGElement {
  const style = runStyle(run, index, configurations);
  return svgElement(
    'svg',
    { class: 'swatch', attributes: { viewBox: '0 0 26 8', 'aria-hidden': 'true' } },
    svgElement('path', {
      attributes: {
        d: 'M0 4H26',
        stroke: theme.series[style.colour],
        'stroke-width': '2',
        'stroke-dasharray': style.dash.length > 0 ? style.dash.join(' ') : undefined,
      },
    }),
  );
}

function showOverlay(root: HTMLElement, host: Host, opened: OverlayView, signal: AbortSignal): void {
  const { runs, settings } = opened;
  const state = viewState();
  let theme = readTheme();
  let align: Align = state.align ?? 'roll-start';
  const hidden = new Set(state.hidden);
  const look = () => ({ theme, units: settings.units });
  const isShown = (run: OverlayRun): boolean => !hidden.has(keyOf(run));
  const plots = overlayPlots(runs, isShown, align).map(
    (spec, index) => new Plot(spec, look(), { heightPx: index === 0 ? 320 : 220, showXTexts: true }, signal),
  );
  const visible = (): OverlayRun[] => runs.filter(isShown);
  const cards = plots.map((plot) =>
    plotCard({
      plot,
      look,
      host,
      subtitle: () => 'As flown: wind, weight and air differ from flight to flight',
      fileStem: () => 'take-offs',
      tableData: () => resultsTable(visible(), opened),
      showLegend: false,
    }),
  );
  const results = element('div', {
    class: 'table-scroll',
    attributes: { tabindex: '0', role: 'group', 'aria-label': 'Distances' },
  });
  const configurations = [...new Set(runs.flatMap((run) => run.configuration ?? []))];
  const list = element('ul', { class: 'overlay-list', attributes: { 'aria-label': 'Take-offs' } });
  const drawList = (): void => {
    fill(
      list,
      ...runs.map((run, index) => {
        const box = checkbox(run.label, isShown(run), (checked) => {
          if (checked === !hidden.has(keyOf(run))) return;
          if (checked) hidden.delete(keyOf(run));
          else hidden.add(keyOf(run));
          changeState({ hidden: [...hidden] });
          draw();
        });
        return element(
          'li',
          {},
          sample(run, index, configurations, theme),
          box,
          element('button', {
            class: 'link-button',
            text: 'Open',
            attributes: { type: 'button', 'aria-label': `Open ${run.label}` },
            on: { click: () => void attempt(host.call('openFlight', { file: run.file })) },
          }),
        );
      }),
    );
  };
  const draw = (): void => {
    const range = overlayRange(visible(), align);
    overlayPlots(runs, isShown, align).forEach((spec, index) => {
      plots[index].setSpec(spec);
      plots[index].setRange(...range);
      plots[index].describe(
        `${spec.title} of ${visible().length} take-offs against ${spec.x.title.toLowerCase()}. The figures are in the table.`,
      );
    });
    fill(results, table(resultsTable(visible(), opened)));
    for (const card of cards) card.refresh();
  };
  drawList();
  draw();
  const alignChoice = select({
    id: 'align',
    label: 'Aligned at',
    value: align,
    choices: [
      { value: 'roll-start', text: 'the start of the roll' },
      { value: 'liftoff', text: 'lift-off' },
    ],
    onChange: (value) => {
      align = value === 'liftoff' ? 'liftoff' : 'roll-start';
      changeState({ align });
      draw();
    },
  });
  fill(
    root,
    element('header', { class: 'page-header' }, element('h1', { text: 'Take-offs laid over each other' })),
    opened.problems.length > 0 && problemList(opened.problems, undefined),
    runs.length === 0
      ? element('p', {
          class: 'note',
          text: 'None of the chosen recordings holds a take-off from start of roll to lift-off.',
        })
      : element(
          'div',
          { class: 'overlay-page' },
          element('div', { class: 'toolbar' }, alignChoice),
          list,
          ...cards.map((card) => card.root),
          element(
            'section',
            { attributes: { 'aria-labelledby': 'results-title' } },
            element('header', {}, element('h2', { text: 'Distances as flown', attributes: { id: 'results-title' } })),
            results,
          ),
          element('p', {
            class: 'note',
            text: 'A picture, not a verdict: nothing here is corrected for wind, weight, density or slope. A comparison does that.',
          }),
        ),
  );
  onThemeChange(() => {
    theme = readTheme();
    for (const plot of plots) plot.setLook(look());
    for (const card of cards) card.refresh();
    drawList();
  }, signal);
}
