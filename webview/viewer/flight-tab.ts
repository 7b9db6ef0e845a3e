import type { PhaseRow } from '../../shared/flight-view.ts';
import { formatClock } from '../../shared/format.ts';
import { Plot, type PlotLook } from '../charts/plot.ts';
import { type PlotCard, plotCard } from '../charts/plot-card.ts';
import { linkCursor } from '../charts/linked-cursor.ts';
import { announce } from '../components/announce.ts';
import { button, select } from '../components/toolkit.ts';
import { element } from '../element.ts';
import type { CommonHost } from '../host.ts';
import { phaseList } from '../panels/phase-list.ts';
import { phaseStrip } from '../panels/phase-strip.ts';
import { readOutPanel, readOutSentence } from '../panels/read-out.ts';
import { selectionPanel } from '../panels/selection.ts';
import { type PlanView, planView } from '../plan-view/plan-view.ts';
import { oncePerFrame } from '../store.ts';
import { type Along, along } from './along.ts';
import { type FlightModel, flightPlots } from './flight-model.ts';
import type { TimeView } from './time-view.ts';

export interface FlightTabOptions {
  readonly model: FlightModel;
  readonly view: TimeView;
  readonly host: CommonHost;
  readonly look: () => PlotLook;
  readonly axis: 'time' | 'distance';
  readonly onAxis: (axis: 'time' | 'distance') => void;
}

export interface FlightTab {
  readonly root: HTMLElement;
  readonly plan: PlanView;
  setLook(): void;
}

const keysHelp =
  'Arrow keys move the cursor, Shift with them marks a span, Enter zooms to it, plus and minus zoom, 0 shows all, n and p step through events.';

/** The whole flight: phases, charts over one axis, ground track, read-out, marked span. */
export function flightTab(options: FlightTabOptions, signal: AbortSignal): FlightTab {
  const { model, view, host, look } = options;
  const { columns, flight } = model;
  let map: Along = along(options.axis, columns);
  const specs = flightPlots(model, map);
  const plots = specs.map(
    (spec, index) => new Plot(spec, look(), { heightPx: index === 0 ? 190 : 140, showXTexts: true }, signal),
  );
  const sayCursor = (): void => {
    if (view.cursor.value !== undefined) announce(readOutSentence(model, view.cursor.value));
  };
  const stepEvent = (direction: 1 | -1): void => {
    const now = view.cursor.value ?? view.range.value[0];
    const times = flight.events.map((event) => event.timeS - columns.startS);
    const next = direction > 0 ? times.find((t) => t > now + 0.05) : times.filter((t) => t < now - 0.05).pop();
    if (next === undefined) return;
    view.moveCursor(next);
    const event = flight.events[times.indexOf(next)];
    announce(`${event.label}, ${readOutSentence(model, next)}`);
  };
  const cards: PlotCard[] = plots.map((plot) => {
    linkCursor(plot, view, () => map, { onKeyMove: sayCursor, onStepEvent: stepEvent }, signal);
    plot.frame.setAttribute('role', 'application');
    plot.frame.setAttribute('aria-roledescription', 'chart');
    plot.frame.setAttribute('aria-label', `${plot.spec.title}. ${keysHelp}`);
    plot.frame.id = `chart-${plot.spec.id}`;
    return plotCard({
      plot,
      look,
      host,
      subtitle: () =>
        `${flight.fileName}, ${formatClock(columns.startS + view.range.value[0])} to ${formatClock(columns.startS + view.range.value[1])} UTC`,
      fileStem: () => flight.fileName,
    });
  });
  const pick = (phase: PhaseRow): void => {
    const [from, to] = [phase.startS - columns.startS, phase.endS - columns.startS];
    const margin = Math.max(2, (to - from) * 0.08);
    view.show(from - margin, to + margin);
    view.cursor.set(Math.max(0, from));
  };
  const strip = phaseStrip(model, view, () => map, plots[0], pick);
  const plan = planView(model, view, look().theme, signal);

  const applyRange = (): void => {
    const [from, to] = view.range.value;
    const [a, b] = [map.xOf(from), map.xOf(to)];
    // A span without movement has no width in distance: widen it a little rather than draw nothing.
    const [low, high] = b - a > 1 ? [a, b] : [a - 5, b + 5];
    for (const plot of plots) plot.setRange(low, high);
    describe();
  };
  const describe = (): void => {
    const [from, to] = view.range.value;
    const span = `from ${formatClock(columns.startS + from)} to ${formatClock(columns.startS + to)} UTC`;
    for (const plot of plots) plot.describe(`${plot.spec.title} ${span}. The figures are in the table below it.`);
    zoomOut.toggleAttribute('disabled', !view.isZoomed);
  };
  const zoomOut = button({
    label: 'Whole flight',
    id: 'show-all',
    title: 'Show all (0)',
    onClick: () => view.showAll(),
  });
  const axisChoice = select({
    id: 'axis',
    label: 'Charts against',
    value: map.kind,
    choices: [
      { value: 'time', text: 'time' },
      { value: 'distance', text: 'distance' },
    ],
    onChange: (value) => {
      map = along(value === 'distance' ? 'distance' : 'time', columns);
      options.onAxis(map.kind);
      flightPlots(model, map).forEach((spec, index) => plots[index].setSpec(spec));
      applyRange();
      for (const card of cards) card.refresh();
    },
  });
  view.range.onChange(oncePerFrame(applyRange, signal), signal);
  applyRange();

  const root = element(
    'div',
    { class: 'flight-tab' },
    element(
      'div',
      { class: 'charts-column' },
      element('div', { class: 'toolbar' }, axisChoice, zoomOut),
      strip,
      ...cards.map((card) => card.root),
      element('p', {
        class: 'note keys',
        text: `In a chart: drag marks a span, double click zooms to it, Ctrl and wheel zooms. ${keysHelp}`,
      }),
    ),
    element(
      'div',
      { class: 'side-column' },
      plan.root,
      readOutPanel(model, view, signal),
      selectionPanel(model, view, host, signal),
      phaseList(model, view, pick, signal),
    ),
  );
  return {
    root,
    plan,
    setLook() {
      for (const plot of plots) plot.setLook(look());
      for (const card of cards) card.refresh();
      plan.setTheme(look().theme);
    },
  };
}
