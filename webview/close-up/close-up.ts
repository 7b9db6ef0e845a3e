import { filmMoment } from '../../shared/film-time.ts';
import {
  formatClock,
  formatFilmSpan,
  formatFilmTime,
  formatFixed,
  formatInterval,
  formatValue,
} from '../../shared/format.ts';
import type { EventCorrection } from '../../shared/protocol.ts';
import type { RunPoint } from '../../shared/run-curve.ts';
import { Plot, type PlotLook } from '../charts/plot.ts';
import { type PlotCard, plotCard } from '../charts/plot-card.ts';
import type { TableData } from '../components/table.ts';
import { button, select } from '../components/toolkit.ts';
import { element, fill } from '../element.ts';
import type { CommonHost } from '../host.ts';
import type { FlightModel } from '../viewer/flight-model.ts';
import { closeUpPlots, closeUpRange } from './close-up-plots.ts';
import { correctionEditor } from './correction.ts';
import { type Run, runsOf } from './runs.ts';

export interface CloseUpOptions {
  readonly model: FlightModel;
  readonly host: CommonHost;
  readonly look: () => PlotLook;
  readonly correct: (correction: EventCorrection) => Promise<void>;
  readonly openCorrections: () => void;
  readonly runId: string | undefined;
  readonly onRun: (id: string) => void;
}

export interface CloseUp {
  readonly root: HTMLElement;
  /** The take-off or landing shown, counted over the flight's take-offs. */
  setLook(): void;
}

function distanceText(point: RunPoint, model: FlightModel): string {
  if (point.distance !== undefined) return formatInterval(point.distance, 'length', model.units);
  return point.distanceM === 0 ? '0' : formatValue(point.distanceM, 'length', model.units);
}

/** Where to look in the film, and its file where there are several: two cells; none where the recording is no film. */
function filmCells(point: RunPoint, model: FlightModel): string[] {
  const { films } = model.flight.analysis.recording;
  if (films === undefined) return [];
  const moment = filmMoment(films, point);
  if (moment === undefined) return ['-', '-'];
  const file = moment.name === undefined ? '' : `, ${moment.name}`;
  return [`${formatFilmTime(moment.atS)}${file}`, formatFilmSpan(moment)];
}

function pointsTable(run: Run, model: FlightModel): TableData {
  const film = model.flight.analysis.recording.films === undefined ? [] : ['In the film', 'Look from'];
  return {
    caption: `${run.title}: events`,
    head: ['Event', 'Time, UTC', '\u00b1 95 %, s', ...film, 'Distance (95 %)', 'Height', 'Ground speed', 'From'],
    rows: run.curve.points.map((point) => [
      point.label,
      formatClock(point.timeS, 1),
      formatFixed(1.96 * point.sigmaS, 1),
      ...filmCells(point, model),
      distanceText(point, model),
      formatValue(point.heightM, 'altitude', model.units),
      formatValue(point.groundSpeedMps, 'speed', model.units),
      point.origin === 'pilot' ? 'pilot' : 'recording',
    ]),
    figures: [1, 2, 3, 4, 5, ...film.map((_, index) => 6 + index)],
  };
}

/** A take-off or landing close up, with its events to be corrected. */
export function closeUp(options: CloseUpOptions, signal: AbortSignal): CloseUp {
  const { model, look } = options;
  const runs = runsOf(model);
  if (runs.length === 0) {
    return {
      root: element('p', { class: 'note', text: 'No take-off or landing was found in this recording.' }),
      setLook: () => undefined,
    };
  }
  let run = runs.find(({ id }) => id === options.runId) ?? runs[0];
  let editing: AbortController | undefined;
  const specs = closeUpPlots(run.curve);
  const height = new Plot(specs.height, look(), { heightPx: 260, showXTexts: true }, signal);
  const speed = new Plot(specs.speed, look(), { heightPx: 180, showXTexts: true }, signal);
  const cards: PlotCard[] = [height, speed].map((plot) =>
    plotCard({
      plot,
      look,
      host: options.host,
      subtitle: () => `${model.flight.fileName}, ${run.title}`,
      fileStem: () => `${model.flight.fileName}-${run.id}`,
      tableData: () => pointsTable(run, model),
      showLegend: false,
    }),
  );
  const events = element('div');
  const remarks = element('div');
  const editor = element('div');

  const stopEditing = (): void => {
    editing?.abort();
    editing = undefined;
    fill(editor);
  };
  const edit = (point: RunPoint): void => {
    stopEditing();
    editing = new AbortController();
    signal.addEventListener('abort', () => editing?.abort(), { once: true });
    const form = correctionEditor(
      {
        model,
        run,
        point,
        plots: [height, speed],
        save: options.correct,
        onClose: () => {
          stopEditing();
          events.querySelector<HTMLElement>('vscode-button')?.focus();
        },
      },
      editing.signal,
    );
    fill(editor, form);
    height.frame.querySelector<HTMLElement>('.event-handle')?.focus();
  };
  const draw = (): void => {
    const made = closeUpPlots(run.curve);
    height.setSpec(made.height);
    speed.setSpec(made.speed);
    const [from, to] = closeUpRange(run.curve);
    for (const plot of [height, speed]) plot.setRange(from, to);
    const told = run.curve.points.map((point) => `${point.label} at ${distanceText(point, model)}`).join('; ');
    height.describe(`${run.title}. Height against distance: ${told}`);
    speed.describe(`${run.title}. Ground speed against distance: ${told}`);
    for (const card of cards) card.refresh();
    const data = pointsTable(run, model);
    fill(
      events,
      element(
        'table',
        {},
        element('caption', { class: 'visually-hidden', text: data.caption }),
        element(
          'thead',
          {},
          element(
            'tr',
            {},
            ...data.head.map((text, index) =>
              element('th', {
                text,
                class: data.figures.includes(index) ? 'figure' : undefined,
                attributes: { scope: 'col' },
              }),
            ),
            element('td', { class: 'visually-hidden-cell' }),
          ),
        ),
        element(
          'tbody',
          {},
          ...run.curve.points.map((point, at) =>
            element(
              'tr',
              { class: point.origin === 'pilot' ? 'by-pilot' : undefined },
              ...data.rows[at].map((text, index) =>
                index === 0
                  ? element('th', { text, attributes: { scope: 'row' } })
                  : element('td', { text, class: data.figures.includes(index) ? 'figure' : undefined }),
              ),
              element(
                'td',
                {},
                point.kind !== 'screen' &&
                  button({
                    label: point.origin === 'pilot' ? 'Change...' : 'Correct...',
                    title: `Correct ${point.label.toLowerCase()} by hand`,
                    id: `correct-${point.kind}`,
                    onClick: () => edit(point),
                  }),
              ),
            ),
          ),
        ),
      ),
    );
    fill(
      remarks,
      ...run.remarks.map((text) => element('p', { class: 'caution', text })),
      model.flight.corrections.overrides.length > 0 &&
        element(
          'p',
          { class: 'note' },
          `Corrections by the pilot are kept in ${model.flight.corrections.fileName}. `,
          element('button', {
            class: 'link-button',
            text: 'Open it',
            attributes: { type: 'button' },
            on: { click: options.openCorrections },
          }),
        ),
    );
  };
  draw();
  const chooser = select({
    id: 'run',
    label: 'Shown',
    value: run.id,
    choices: runs.map(({ id, title }) => ({ value: id, text: title })),
    onChange: (id) => {
      stopEditing();
      run = runs.find((one) => one.id === id) ?? run;
      options.onRun(run.id);
      draw();
    },
  });
  const root = element(
    'div',
    { class: 'close-up' },
    element('div', { class: 'toolbar' }, chooser),
    element('div', { class: 'close-up-charts' }, ...cards.map((card) => card.root)),
    editor,
    element(
      'section',
      { attributes: { 'aria-labelledby': 'events-title' } },
      element('header', {}, element('h2', { text: 'Events', attributes: { id: 'events-title' } })),
      element(
        'div',
        { class: 'table-scroll', attributes: { tabindex: '0', role: 'group', 'aria-labelledby': 'events-title' } },
        events,
      ),
    ),
    remarks,
  );
  return {
    root,
    setLook() {
      for (const plot of [height, speed]) plot.setLook(look());
      for (const card of cards) card.refresh();
    },
  };
}
