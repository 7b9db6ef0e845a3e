import type {
  DrawnPage,
  OpenedFlight,
  UnreadableFlight,
  ViewerHostMethods,
  ViewerPageMethods,
} from '../../shared/protocol.ts';
import { Cancelled, type Connection, connect } from '../../shared/rpc.ts';
import { hostPort } from '../bridge.ts';
import { closeUp } from '../close-up/close-up.ts';
import { announce } from '../components/announce.ts';
import { tabs } from '../components/tabs.ts';
import { button } from '../components/toolkit.ts';
import { element, fill } from '../element.ts';
import { attempt } from '../host.ts';
import { conditionsPanel } from '../panels/conditions.ts';
import { metricsPanel } from '../panels/metrics.ts';
import { problemList } from '../panels/problems.ts';
import { changeState, viewState } from '../state.ts';
import { onThemeChange, readTheme } from '../theme.ts';
import { flightModel } from './flight-model.ts';
import { flightTab } from './flight-tab.ts';
import { flightHeader } from './header.ts';
import { keepPlace, restorePlace } from './place.ts';
import { readingPage } from './reading-page.ts';
import { TimeView } from './time-view.ts';

type Host = Connection<ViewerHostMethods>;

/** A track viewer: asks the host for the flight, shows it, and asks again when something changed. */
export function startViewer(root: HTMLElement): void {
  let shown: AbortController | undefined;
  let onFlight: FlightOnPage | undefined;
  const reading = readingPage(root);
  const host: Host = connect<ViewerHostMethods, ViewerPageMethods>(hostPort, {
    progress: ({ fraction }) => reading.progress(fraction),
    changed: () => {
      void open(true);
    },
    show: ({ startS, endS }) => onFlight?.show(startS, endS),
  });
  const tell = (drawn: Omit<DrawnPage, 'afterMs'>): void => {
    // After the frame in which it can be seen.
    requestAnimationFrame(() => host.notify('drawn', { ...drawn, afterMs: performance.now() }));
  };
  const put = (opened: OpenedFlight): void => {
    shown?.abort();
    shown = new AbortController();
    onFlight = showFlight(root, host, opened, shown.signal);
    restorePlace();
    const { phases, events } = opened.flight;
    tell({
      outcome: 'flight',
      pending: opened.pending,
      phases: phases.length,
      events: events.length,
      range: viewState().range,
    });
  };

  let opening = 0;
  const open = async (again: boolean): Promise<void> => {
    const mine = ++opening;
    const controller = new AbortController();
    if (!again) reading.begin(() => controller.abort());
    try {
      const opened = await host.call('open', { again }, controller.signal);
      if (mine !== opening) return;
      keepPlace();
      reading.end();
      if (opened.outcome === 'flight') {
        put(opened);
        if (opened.pending) {
          const flight = await host.call('analysis', {}, shown?.signal);
          if (mine !== opening) return;
          keepPlace();
          put({ ...opened, flight, pending: false });
        }
        announce(again ? 'The flight was read again.' : 'The flight is shown.');
      } else {
        shown?.abort();
        onFlight = undefined;
        showUnreadable(root, host, opened);
        const [problem] = opened.problems;
        tell({ outcome: 'unreadable', pending: false, phases: 0, events: 0, message: problem?.message });
      }
    } catch (error) {
      if (mine !== opening) return;
      reading.end();
      shown?.abort();
      onFlight = undefined;
      const message = error instanceof Cancelled ? 'Reading was cancelled.' : (error as Error).message;
      showTrouble(root, message, host, () => void open(false));
      tell({ outcome: 'trouble', pending: false, phases: 0, events: 0, message });
    }
  };
  void open(false);
}

function showTrouble(root: HTMLElement, message: string, host: Host, again: () => void): void {
  fill(
    root,
    element(
      'div',
      { class: 'message-page' },
      element('h1', { text: 'No flight to show' }),
      element('p', { text: message }),
      element(
        'div',
        { class: 'actions' },
        button({ label: 'Read again', primary: true, onClick: again }),
        button({ label: 'Open as Text', onClick: () => void attempt(host.call('openText', {})) }),
      ),
    ),
  );
}

function showUnreadable(root: HTMLElement, host: Host, opened: UnreadableFlight): void {
  const place = (line: number, column: number): void => void attempt(host.call('showPlace', { line, column }));
  fill(
    root,
    element(
      'div',
      { class: 'message-page' },
      element('h1', { text: `${opened.fileName}: no flight could be read` }),
      problemList(opened.problems, opened.isText ? place : undefined),
      opened.contents.length > 0 &&
        element('ul', { class: 'contents' }, ...opened.contents.map((text) => element('li', { text }))),
      opened.isText &&
        element(
          'div',
          { class: 'actions' },
          button({
            label: 'Open as Text',
            primary: true,
            id: 'open-text',
            onClick: () => void attempt(host.call('openText', {})),
          }),
        ),
    ),
  );
}

interface FlightOnPage {
  /** Unix times. */
  show(startS: number, endS: number): void;
}

function showFlight(root: HTMLElement, host: Host, opened: OpenedFlight, signal: AbortSignal): FlightOnPage {
  const model = flightModel(opened.flight, opened.columns, opened.settings.units, opened.pending);
  const { flight } = model;
  const view = new TimeView(model.durationS);
  const state = viewState();
  if (state.range !== undefined && state.range[0] < model.durationS) view.show(...state.range);
  if (state.cursor !== undefined && state.cursor <= model.durationS) view.cursor.set(state.cursor);
  if (state.selection !== undefined && state.selection[1] <= model.durationS) view.selection.set(state.selection);
  view.range.onChange((range) => changeState({ range: view.isZoomed ? range : undefined }), signal);
  view.cursor.onChange((cursor) => changeState({ cursor }), signal);
  view.selection.onChange((selection) => changeState({ selection }), signal);

  let theme = readTheme();
  const look = () => ({ theme, units: model.units });
  const flightPart = flightTab(
    { model, view, host, look, axis: state.axis ?? 'time', onAxis: (axis) => changeState({ axis }) },
    signal,
  );
  const runPart = closeUp(
    {
      model,
      host,
      look,
      correct: (correction) => host.call('correctEvent', correction),
      openCorrections: () => void attempt(host.call('openCorrections', {})),
      runId: state.run,
      onRun: (run) => changeState({ run }),
    },
    signal,
  );
  const metrics = metricsPanel(model, host, (row) => {
    const from = row.startS - model.columns.startS;
    const to = row.endS - model.columns.startS;
    view.show(from - 5, to + 5);
    view.select(from, to);
    pages.show('flight');
  });
  const pendingNote = (): HTMLElement | undefined =>
    opened.pending
      ? element('p', {
          class: 'note',
          text: 'Finding phases, take-offs, climbs and landings ...',
          attributes: { role: 'status' },
        })
      : undefined;
  const conditions = conditionsPanel(
    model,
    opened.conditions,
    (typed) => host.call('atConditions', { conditions: typed, takeoff: 1 }, signal),
    {
      addToComparison: () => void attempt(host.call('addToComparison', { conditions: conditions.typed() })),
      onView: (found) => {
        metrics.setConditions(found);
        flightPart.plan.setConditions(found);
      },
    },
    signal,
  );
  const place = (line: number, column: number): void => void attempt(host.call('showPlace', { line, column }));
  const serious = flight.problems.filter((problem) => problem.severity !== 'info').length;
  const notes = [...flight.assumptions, ...flight.contents];
  const pages = tabs(
    'Views of the flight',
    [
      { id: 'flight', title: 'Flight', body: flightPart.root },
      { id: 'runs', title: 'Take-off and landing', body: pendingNote() ?? runPart.root },
      {
        id: 'metrics',
        title: 'Metrics',
        body: pendingNote() ?? element('div', { class: 'metrics-tab' }, metrics.root, conditions.root),
      },
      {
        id: 'problems',
        title: serious > 0 ? `Problems (${serious})` : 'About the recording',
        body: element(
          'div',
          { class: 'problems-tab' },
          flight.problems.length === 0
            ? element('p', { class: 'note', text: 'Nothing was found wrong with this recording.' })
            : problemList(flight.problems, place),
          notes.length > 0 && element('ul', { class: 'contents' }, ...notes.map((text) => element('li', { text }))),
        ),
      },
    ],
    state.tab ?? 'flight',
    (tab) => changeState({ tab }),
  );
  fill(
    root,
    flightHeader(model, {
      overlay: () => void attempt(host.call('overlay', {})),
      openText: () => void attempt(host.call('openText', {})),
    }),
    serious > 0 &&
      element(
        'p',
        { class: 'caution' },
        `${serious === 1 ? 'One problem' : `${serious} problems`} with this recording; what could be read is shown. `,
        element('button', {
          class: 'link-button',
          text: 'Show',
          attributes: { type: 'button' },
          on: { click: () => pages.show('problems') },
        }),
      ),
    pages.root,
  );
  onThemeChange(() => {
    theme = readTheme();
    flightPart.setLook();
    runPart.setLook();
  }, signal);
  return {
    show(startS, endS) {
      const [from, to] = [startS - model.columns.startS, endS - model.columns.startS];
      pages.show('flight');
      view.show(from, to);
      view.cursor.set(Math.max(0, from));
    },
  };
}
